"""Stick-up while tonging against worked figures."""

from __future__ import annotations

import math

import pytest

from trainer.errors import MechanicsRangeError
from trainer.mechanics import GRADES, PIPES, area, stick_up_limit, tensile_capacity

SIZE = PIPES["5 in 19.50"]
YIELD = GRADES["E-75"]
TORQUE = 22_836 * 4.4482216152605 * 0.3048
ARM = 4.5 * 0.3048


@pytest.mark.parametrize(("layout", "height"), [(90, 1.515), (180, 1.07)])
def test_the_worked_heights_come_out(layout: int, height: float) -> None:
    limit = stick_up_limit(SIZE.od, SIZE.id, YIELD, 0.0, TORQUE, ARM, layout)
    assert limit == pytest.approx(height, abs=0.005 if layout == 180 else 0.0005)


def test_the_section_modulus_is_the_printed_one() -> None:
    limit = stick_up_limit(SIZE.od, SIZE.id, YIELD, 0.0, TORQUE, ARM, 180)
    modulus = limit * TORQUE / (0.5 * YIELD * ARM)
    assert modulus / 0.0254**3 == pytest.approx(5.708, abs=0.0005)


def test_half_the_pipes_strength_hanging_halves_the_height() -> None:
    load = YIELD / 2 * area(SIZE.od, SIZE.id)
    free = stick_up_limit(SIZE.od, SIZE.id, YIELD, 0.0, TORQUE, ARM, 90)
    assert stick_up_limit(SIZE.od, SIZE.id, YIELD, load, TORQUE, ARM, 90) == pytest.approx(free / 2)


@pytest.mark.parametrize("load", [-1.0, tensile_capacity(SIZE.od, SIZE.id, YIELD), 1e8, math.nan])
def test_a_load_that_leaves_nothing_to_bend_with_is_refused(load: float) -> None:
    with pytest.raises(MechanicsRangeError) as refused:
        stick_up_limit(SIZE.od, SIZE.id, YIELD, load, TORQUE, ARM, 90)
    assert refused.value.argument == "hanging_load"
    assert refused.value.allowed == "0 to less than Y·A, 1759693 N"


def test_other_layouts_of_the_tongs_are_refused() -> None:
    with pytest.raises(MechanicsRangeError) as refused:
        stick_up_limit(SIZE.od, SIZE.id, YIELD, 0.0, TORQUE, ARM, 120)
    assert (refused.value.argument, refused.value.value) == ("layout", 120)
