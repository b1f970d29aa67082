"""In which order a crew is listed: who works the slips first, whoever leads after, the office last."""

from __future__ import annotations

from trainer.core.catalogue import Position, Site


def test_positions_go_from_the_floor_up_whatever_order_the_figures_have() -> None:
    positions = {
        "assistant-driller": Position("driller", observes=True),
        "coordinator": Position("coordinator"),
        "derrickhand": Position("hand", observes=True),
        "floorhand": Position("hand"),
        "toolpusher": Position("driller", observes=True, dispenses=True),
    }
    site = Site(positions=positions, crews={})
    assert site.ladder() == ("floorhand", "derrickhand", "assistant-driller", "toolpusher", "coordinator")
    turned = Site(positions=dict(reversed(positions.items())), crews={})
    assert turned.ladder() == site.ladder()
