"""Weight and stretch of the string against worked figures."""

from __future__ import annotations

import numpy as np
import pytest

from trainer.errors import MechanicsRangeError
from trainer.mechanics import (
    PIPES,
    Section,
    area,
    buoyancy_factor,
    hanging_load,
    stretch_end_load,
    stretch_own_weight,
)

TUBE = area(PIPES["5 in 19.50"].od, PIPES["5 in 19.50"].id)


def test_three_thousand_metres_hang_as_worked() -> None:
    assert hanging_load([Section(3000.0, TUBE, 31.088)], 1200.0) == pytest.approx(774.8e3, abs=0.05e3)


def test_three_thousand_metres_stretch_as_worked() -> None:
    assert stretch_own_weight(3000.0, 1200.0) == pytest.approx(1.306, abs=0.0005)
    assert stretch_end_load(200e3, 3000.0, TUBE) == pytest.approx(0.852, abs=0.0005)


def test_sections_add_up() -> None:
    pipe, collars = Section(2800.0, TUBE, 31.088), Section(200.0, 0.0282, 219.0)
    together = hanging_load([pipe, collars], 1200.0)
    assert together == pytest.approx(hanging_load([pipe], 1200.0) + hanging_load([collars], 1200.0))


def test_air_takes_no_weight_and_mud_of_steel_would_take_all() -> None:
    assert buoyancy_factor(0.0) == 1.0
    assert buoyancy_factor(3000.0) == pytest.approx(1 - 3000 / 7850)


def test_the_factor_for_several_muds_is_an_array() -> None:
    assert buoyancy_factor(np.array([0.0, 785.0])).tolist() == pytest.approx([1.0, 0.9])


def test_slacking_off_shortens() -> None:
    assert stretch_end_load(-200e3, 3000.0, TUBE) == -stretch_end_load(200e3, 3000.0, TUBE)


@pytest.mark.parametrize("density", [-1.0, 3001.0])
def test_mud_heavier_or_lighter_than_any_is_refused(density: float) -> None:
    with pytest.raises(MechanicsRangeError) as refused:
        hanging_load([Section(3000.0, TUBE, 31.088)], density)
    assert (refused.value.argument, refused.value.value) == ("mud_density", density)
    assert refused.value.allowed == "0 to 3000 kg/m³"


@pytest.mark.parametrize("length", [0.0, -10.0, 20_001.0])
def test_a_section_without_a_length_is_refused(length: float) -> None:
    with pytest.raises(MechanicsRangeError) as refused:
        Section(length, TUBE, 31.088)
    assert refused.value.argument == "length"


def test_a_string_of_no_sections_is_refused() -> None:
    with pytest.raises(MechanicsRangeError) as refused:
        hanging_load([], 1200.0)
    assert refused.value.argument == "sections"
