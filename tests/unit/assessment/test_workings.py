"""The named sums give what the floor works out, and what its mistakes amount to."""

from __future__ import annotations

import pytest

from trainer.core.workings import FUNCTIONS

STRING = {"length": 3000.0, "per_metre": 31.088, "mud": 1200.0}
SET = {"mass": 90.0}
OFF_CENTRE = {"mass": 90.0, "offset": 60.0, "radius": 300.0}
ROOM = {"indicator": 110.0, "block": 18.0, "limit": 120.0}
HELD = {"indicator": 110.0, "block": 18.0, "pull": 20.0}
LIFT = {"mass": 90.0, "people": 3.0, "guideline": 7.67}
IMPRINT = {"top": 90.0, "middle": 36.0, "bottom": 0.0, "length": 419.1}

WORKED: dict[str, tuple[dict[str, float], float]] = {
    "load-on-slips": ({"indicator": 110.0, "block": 18.0}, 92.0),
    "indicator-alone": ({"indicator": 110.0, "block": 18.0}, 110.0),
    "indicator-and-block": ({"indicator": 110.0, "block": 18.0}, 128.0),
    "indicator-for": ({"load": 50.0, "block": 18.0}, 68.0),
    "load-as-reading": ({"load": 50.0, "block": 18.0}, 50.0),
    "load-less-block": ({"load": 50.0, "block": 18.0}, 32.0),
    "room-to-limit": (ROOM, 28.0),
    "room-with-block-on": (ROOM, 10.0),
    "load-for-room": (ROOM, 92.0),
    "load-with-pull": (HELD, 112.0),
    "load-without-pull": (HELD, 92.0),
    "pull-alone": (HELD, 20.0),
    "pull-on-reading": (HELD, 130.0),
    # 3000 m of 31.088 kg/m in 1200 kg/m3 mud weighs 774.8 kN, which is 79.0 t.
    "weight-in-mud": (STRING, 79.0),
    "weight-in-air": (STRING, 93.3),
    "weight-taken-off": (STRING, 14.3),
    "limit-with-margin": ({"limit": 100.0}, 80.0),
    "limit-without-margin": ({"limit": 100.0}, 100.0),
    "limit-times-margin": ({"limit": 100.0}, 125.0),
    "load-over-limit": ({"load": 60.0, "limit": 100.0}, 75.0),
    "load-over-whole-limit": ({"load": 60.0, "limit": 100.0}, 60.0),
    "limit-over-load": ({"load": 60.0, "limit": 100.0}, 133.3),
    "share-of-three": (SET, 30.0),
    "share-with-two-handles": (SET, 60.0),
    "share-of-two": (SET, 45.0),
    "whole-set": (SET, 90.0),
    # A set of 90 kg with its mass centre 60 mm toward handle 1, handles at 300 mm: 42, 24 and 24.
    "share-near-centre": (OFF_CENTRE, 42.0),
    "share-far-from-centre": (OFF_CENTRE, 24.0),
    "even-share": (OFF_CENTRE, 30.0),
    # 90 kg shared by three against 7.67 kg: index 3.9.
    "times-guideline": (LIFT, 3.91),
    "whole-over-guideline": (LIFT, 11.73),
    "guideline-over-share": (LIFT, 0.26),
    # The published multiplier for the distance of the hands is 25 over that distance in cm.
    "guideline-at-reach": ({"reach": 500.0}, 11.5),
    "guideline-at-best": ({"reach": 500.0}, 23.0),
    "guideline-times-reach": ({"reach": 500.0}, 46.0),
    "working-height": ({"limit": 1.515, "site": 0.9}, 0.9),
    "larger-height": ({"limit": 1.515, "site": 0.9}, 1.515),
    "height-between": ({"limit": 1.5, "site": 0.9}, 1.2),
    # Coverage .42 of 16.5 in.
    "contact-left": (IMPRINT, 176.0),
    "whole-contact": (IMPRINT, 419.1),
    "best-third": (IMPRINT, 377.2),
}


@pytest.mark.parametrize("name", WORKED)
def test_each_sum_gives_its_worked_figure(name: str) -> None:
    figures, value = WORKED[name]
    assert FUNCTIONS[name](**figures) == pytest.approx(value, abs=0.05)


def test_no_sum_goes_without_a_worked_figure() -> None:
    assert set(FUNCTIONS) == set(WORKED)
