"""Units against published exact factors (NIST SP 811, appendix B.8), and figures written with their unit."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.core.units import EXAMPLES, UNITS, Kind, from_si, number, read, to_si, unit, units_of

PUBLISHED = (
    ("in", Kind.LENGTH, 2.54e-2),
    ("ft", Kind.LENGTH, 3.048e-1),
    ("lb", Kind.MASS, 4.5359237e-1),
    ("lb/ft", Kind.LINEAR_MASS, 1.488164),
    ("lb/gal", Kind.DENSITY, 1.198264e2),
    ("lb/ft³", Kind.DENSITY, 1.601846e1),
    ("lbf", Kind.FORCE, 4.4482216152605),
    ("klbf", Kind.FORCE, 4.4482216152605e3),
    ("ft·lbf", Kind.TORQUE, 1.3558179483314004),
    ("psi", Kind.STRESS, 6.894757e3),
    ("ksi", Kind.STRESS, 6.894757e6),
    ("ft/s", Kind.SPEED, 3.048e-1),
    ("ft/min", Kind.SPEED, 5.08e-3),
    ("in²", Kind.AREA, 6.4516e-4),
)


@pytest.mark.parametrize(("name", "kind", "factor"), PUBLISHED)
def test_a_factor_is_the_published_one(name: str, kind: Kind, factor: float) -> None:
    assert to_si(1.0, name, kind) == pytest.approx(factor, rel=5e-7)


def test_the_defined_factors_are_exact() -> None:
    gallon = unit("lb/gal", Kind.DENSITY).si
    assert unit("ft·lbf", Kind.TORQUE).si * 10**16 == 13558179483314004
    assert gallon * 3785411784 == 45359237 * 10**4


@given(value=st.floats(1e-6, 1e9), at=st.integers(0, len(UNITS) - 1))
def test_there_and_back_is_the_same_figure(value: float, at: int) -> None:
    there = UNITS[at]
    assert to_si(from_si(value, there.name, there.kind), there.name, there.kind) == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(
    ("written", "kind", "value"),
    [
        ("16.5 in", Kind.LENGTH, 0.4191),
        ("5in", Kind.LENGTH, 0.127),
        ("1200 kg/m3", Kind.DENSITY, 1200.0),
        ("1200 kg/m³", Kind.DENSITY, 1200.0),
        ("22800 ft-lbf", Kind.TORQUE, 30912.65),
        ("84 %", Kind.SHARE, 0.84),
        ("0.08", Kind.SHARE, 0.08),
    ],
)
def test_a_figure_is_read_with_its_unit(written: str, kind: Kind, value: float) -> None:
    assert read(written, kind) == pytest.approx(value, rel=1e-6)


@pytest.mark.parametrize(
    ("written", "kind", "why"),
    [
        ("5", Kind.LENGTH, "without its unit"),
        ("five in", Kind.LENGTH, "no number"),
        ("16,5 in", Kind.LENGTH, "no unit of length"),
        ("10 ppg", Kind.DENSITY, "there are kg/m³, g/cm³, lb/gal, lb/ft³"),
        ("5 lb", Kind.LENGTH, "no unit of length"),
        ("1e3 m", Kind.LENGTH, "no unit of length"),
        ("", Kind.SHARE, "no number"),
    ],
)
def test_what_is_no_figure_is_refused_with_the_reason(written: str, kind: Kind, why: str) -> None:
    with pytest.raises(ValueError, match=why.replace("³", ".")):
        read(written, kind)


@pytest.mark.parametrize("kind", EXAMPLES)
def test_the_examples_can_be_read(kind: Kind) -> None:
    values = [read(each, kind) for each in EXAMPLES[kind].split(" or ")]
    assert max(values) == pytest.approx(min(values), rel=0.02)
    assert units_of(kind) != ()


@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [(12345.678, 1, "12\u202f345.7"), (4321.0, 0, "4321"), (-0.04, 1, "0.0"), (-12.5, 1, "−12.5"), (0.0, 0, "0")],
)
def test_a_number_is_told_without_commas(value: float, decimals: int, text: str) -> None:
    assert number(value, decimals) == text
