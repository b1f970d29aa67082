"""Pipe against the printed tables."""

from __future__ import annotations

import numpy as np
import pytest

from trainer.errors import MechanicsRangeError
from trainer.mechanics import GRADES, PIPES, area, tensile_capacity

INCH = 0.0254
POUND_FORCE = 4.4482216152605


def test_five_inch_e75_yields_at_the_printed_pull() -> None:
    size = PIPES["5 in 19.50"]
    capacity = tensile_capacity(size.od, size.id, GRADES["E-75"])
    assert capacity / POUND_FORCE == pytest.approx(395_595, abs=1)
    assert capacity == pytest.approx(1759.7e3, abs=0.05e3)


@pytest.mark.parametrize(
    ("name", "printed"),
    [
        ("3.5 in 13.30", 271_569),
        ("3.5 in 15.50", 322_775),
        ("4 in 14.00", 285_359),
        ("4.5 in 16.60", 330_558),
        ("4.5 in 20.00", 412_358),
        ("5 in 25.60", 530_144),
        ("5.5 in 21.90", 437_116),
        ("5.5 in 24.70", 497_222),
        ("6.625 in 25.20", 489_464),
    ],
)
def test_other_sizes_of_e75_yield_at_the_printed_pull(name: str, printed: float) -> None:
    size = PIPES[name]
    assert tensile_capacity(size.od, size.id, GRADES["E-75"]) / POUND_FORCE == pytest.approx(printed, abs=2)


def test_the_table_holds_twelve_sizes_in_metres_and_kilograms() -> None:
    assert len(PIPES) == 12
    for name, size in PIPES.items():
        diameter, weight = name.split(" in ")
        assert size.od == pytest.approx(float(diameter) * INCH)
        assert size.nominal == pytest.approx(float(weight) * 1.48816, rel=1e-5)
        assert 0 < size.id < size.od


def test_tool_joints_add_to_the_nominal_weight_where_a_figure_is_given() -> None:
    assert [name for name, size in PIPES.items() if size.adjusted is None] == ["3.5 in 9.50"]
    assert PIPES["5 in 19.50"].adjusted == pytest.approx(31.10, abs=0.01)
    assert all(size.adjusted > size.nominal for size in PIPES.values() if size.adjusted is not None)


def test_grades_are_named_for_their_yield_in_ksi() -> None:
    for name, strength in GRADES.items():
        assert strength == pytest.approx(float(name.split("-")[1]) * 6.894757e6, rel=1e-6)


def test_areas_come_as_an_array_from_arrays() -> None:
    inside = np.array([0.0, 0.05])
    assert area(np.full(2, 0.1), inside).tolist() == [area(0.1, 0.0), area(0.1, 0.05)]


@pytest.mark.parametrize("bore", [0.127, 0.2, -0.001])
def test_a_bore_that_is_no_bore_is_refused(bore: float) -> None:
    with pytest.raises(MechanicsRangeError) as refused:
        area(0.127, bore)
    assert (refused.value.argument, refused.value.value) == ("id", bore)
    assert refused.value.allowed == "0 to less than od, 0.127 m"


def test_a_diameter_typed_in_inches_is_refused() -> None:
    with pytest.raises(MechanicsRangeError) as refused:
        area(5.0, 4.276)
    assert (refused.value.argument, refused.value.allowed) == ("od", "0.001 to 2 m")
