"""What is not a number, or has no end, is refused by the name of its argument, wherever it stands."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer import mechanics
from trainer.errors import MechanicsRangeError

TUBE = {"od": 0.127, "id": 0.1086}
STRING = {"sections": [mechanics.Section(1000.0, 3.4e-3, 31.0), mechanics.Section(200.0, 2.8e-2, 219.0)]}
LIFT = {
    "horizontal": 0.4,
    "vertical": 0.45,
    "travel": 0.5,
    "asymmetry_deg": 30.0,
    "per_minute": 1.0,
    "hours": 8.0,
    "coupling": "fair",
}
FUNCTIONS: tuple[tuple[Callable[..., object], dict[str, Any]], ...] = (
    (mechanics.area, TUBE),
    (mechanics.tensile_capacity, {**TUBE, "yield_strength": 517e6}),
    (mechanics.Section, {"length": 100.0, "area": 3.4e-3, "mass_per_length": 31.0}),
    (mechanics.buoyancy_factor, {"mud_density": 1200.0}),
    (mechanics.hanging_load, {**STRING, "mud_density": 1200.0}),
    (mechanics.stretch_own_weight, {"length": 3000.0, "mud_density": 1200.0}),
    (mechanics.stretch_end_load, {"force": 200e3, "length": 3000.0, "area": 3.4e-3}),
    (mechanics.transverse_factor, {"friction": 0.08, "taper": 0.165}),
    (mechanics.stress_ratio, {"od": 0.127, "contact_length": 0.4, "friction": 0.08}),
    (mechanics.crush_limit, {**TUBE, "yield_strength": 517e6, "contact_length": 0.4, "friction": 0.08}),
    (mechanics.grip_needed, {"friction": 0.08}),
    (mechanics.sticks, {"friction": 0.08}),
    (mechanics.squeeze_kept, {"friction": 0.08}),
    (mechanics.impedance, {"area": 3.4e-3}),
    (
        mechanics.slip_load_history,
        {**STRING, "mud_density": 1200.0, "speed": 1.5, "stop_time": 0.1, "duration": 1.0},
    ),
    (mechanics.unseating_speed, {**STRING, "mud_density": 1200.0}),
    (mechanics.lift_height, {**STRING, "mud_density": 1200.0, "speed": 0.1}),
    (mechanics.recommended_weight, LIFT),
    (mechanics.lifting_index, {"mass": 30.0, **LIFT}),
    (
        mechanics.handle_shares,
        {"mass": 90.0, "angles_deg": [0.0, 120.0, 240.0], "radius": 0.3, "offset": [0.01, 0.0]},
    ),
    (mechanics.team_capacity, {"capacities": [30.0, 24.0]}),
    (mechanics.read_imprint, {"contact": [[0.9, 0.9, 0.8], [0.8, 0.9, 0.9]], "contact_length": 0.4}),
    (
        mechanics.stick_up_limit,
        {**TUBE, "yield_strength": 517e6, "hanging_load": 0.0, "torque": 3e4, "arm": 1.4, "layout": 90},
    ),
)
NO_NUMBERS = (math.nan, math.inf, -math.inf)
PLACES = [
    pytest.param(function, valid, argument, id=f"{function.__name__}-{argument}")
    for function, valid in FUNCTIONS
    for argument, value in valid.items()
    if argument not in ("sections", "coupling")
]


def spoilt(value: Any, bad: float) -> Any:  # noqa: ANN401 - numbers and nested lists alike
    return [spoilt(value[0], bad), *value[1:]] if isinstance(value, list) else bad


def outcome(function: Callable[..., object], given: dict[str, Any]) -> tuple[object, str | None]:
    """The answer, or the argument that was refused."""
    try:
        return function(**given), None
    except MechanicsRangeError as refused:
        return None, refused.argument


@pytest.mark.parametrize(("function", "valid", "argument"), PLACES)
@pytest.mark.parametrize("bad", NO_NUMBERS)
def test_what_is_no_number_is_refused_by_name(
    function: Callable[..., object], valid: dict[str, Any], argument: str, bad: float
) -> None:
    function(**valid)
    with pytest.raises(MechanicsRangeError) as refused:
        function(**{**valid, argument: spoilt(valid[argument], bad)})
    assert refused.value.argument == argument
    assert refused.value.allowed


@given(place=st.sampled_from([param.values for param in PLACES]), value=st.floats())
def test_any_float_gives_a_finite_answer_or_a_refusal_by_name(
    place: tuple[Callable[..., object], dict[str, Any], str], value: float
) -> None:
    function, valid, argument = place
    answer, blamed = outcome(function, {**valid, argument: spoilt(valid[argument], value)})
    # Two limits depend on another argument, and two on the answer: they are blamed when that one is moved.
    assert blamed in (None, argument, "id", "hanging_load", "angles_deg", "recommended_weight")
    if isinstance(answer, float | np.ndarray):
        assert np.isfinite(answer).all()


@given(bad=st.sampled_from(NO_NUMBERS), at=st.integers(0, 2))
def test_one_bad_value_spoils_an_array(bad: float, at: int) -> None:
    friction = np.array([0.08, 0.1, 0.12])
    friction[at] = bad
    with pytest.raises(MechanicsRangeError) as refused:
        mechanics.transverse_factor(friction)
    assert refused.value.argument == "friction"


@pytest.mark.parametrize("nothing", [None, "wide", [[1.0], [1.0, 2.0]]])
def test_what_is_no_number_at_all_is_refused_too(nothing: object) -> None:
    with pytest.raises(MechanicsRangeError) as refused:
        mechanics.area(0.127, nothing)  # type: ignore[type-var]
    assert refused.value.argument == "id"
