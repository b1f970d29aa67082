"""The named sums give what the floor works out, and what its mistakes amount to."""

from __future__ import annotations

import pytest

from trainer.core.workings import FUNCTIONS


@pytest.mark.parametrize(
    ("name", "figures", "value"),
    [
        ("load-on-slips", {"indicator": 110.0, "block": 18.0}, 92.0),
        ("indicator-alone", {"indicator": 110.0, "block": 18.0}, 110.0),
        ("indicator-and-block", {"indicator": 110.0, "block": 18.0}, 128.0),
        # 3000 m of 31.088 kg/m in 1200 kg/m3 mud weighs 774.8 kN, which is 79.0 t.
        ("weight-in-mud", {"length": 3000.0, "per_metre": 31.088, "mud": 1200.0}, 79.0),
        ("weight-in-air", {"length": 3000.0, "per_metre": 31.088, "mud": 1200.0}, 93.3),
        ("limit-with-margin", {"limit": 100.0}, 80.0),
        ("limit-without-margin", {"limit": 100.0}, 100.0),
        ("limit-times-margin", {"limit": 100.0}, 125.0),
    ],
)
def test_each_sum_gives_its_worked_figure(name: str, figures: dict[str, float], value: float) -> None:
    assert FUNCTIONS[name](**figures) == pytest.approx(value, abs=0.05)


def test_no_sum_goes_without_a_worked_figure() -> None:
    assert len(FUNCTIONS) == 8
