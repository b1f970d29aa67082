"""Crushing in the slips against worked figures."""

from __future__ import annotations

import math

import numpy as np
import pytest

from trainer.errors import MechanicsRangeError
from trainer.mechanics import (
    GRADES,
    PIPES,
    TAPER,
    TEST_MARGIN,
    crush_limit,
    grip_needed,
    squeeze_kept,
    sticks,
    stress_ratio,
    transverse_factor,
)

INCH = 0.0254
SIZE = PIPES["5 in 19.50"]


def test_the_squeeze_is_four_times_the_load_on_greased_backs() -> None:
    assert transverse_factor(0.08) == pytest.approx(4.000, abs=0.0005)


def test_the_factor_is_the_printed_formula() -> None:
    assert transverse_factor(0.13) == pytest.approx(1 / math.tan(math.atan(1 / 6) + math.atan(0.13)))
    assert transverse_factor(0.0, taper=0.2) == pytest.approx(1 / math.tan(0.2))


@pytest.mark.parametrize(("inches", "ratio"), [(12, 1.590), (16, 1.420)])
def test_the_stress_ratio_is_as_worked(inches: float, ratio: float) -> None:
    assert stress_ratio(5 * INCH, inches * INCH, 0.08) == pytest.approx(ratio, abs=0.0005)


def test_five_inch_e75_crushes_as_worked() -> None:
    limit = crush_limit(SIZE.od, SIZE.id, GRADES["E-75"], 16 * INCH, 0.08)
    assert limit == pytest.approx(1239.5e3, abs=0.05e3)
    assert limit / TEST_MARGIN == pytest.approx(991.6e3, abs=0.05e3)


def test_limits_for_several_lengths_come_as_an_array() -> None:
    lengths = np.array([0.3, 0.4])
    od, bore, strength, friction = (np.full(2, x) for x in (SIZE.od, SIZE.id, GRADES["E-75"], 0.08))
    limits = crush_limit(od, bore, strength, lengths, friction)
    assert limits.tolist() == [crush_limit(SIZE.od, SIZE.id, GRADES["E-75"], x, 0.08) for x in (0.3, 0.4)]


def test_the_grip_needed_is_one_over_the_factor() -> None:
    assert grip_needed(0.08) == pytest.approx(0.25, abs=5e-4)
    assert grip_needed(0.08) == pytest.approx(math.tan(TAPER + math.atan(0.08)))


def test_backs_stick_above_a_sixth_only() -> None:
    assert not sticks(1 / 6)
    assert sticks(math.nextafter(1 / 6, 1))
    assert sticks(np.array([0.1, 0.2])).tolist() == [False, True]


def test_the_squeeze_stays_until_the_load_is_a_third_of_its_peak() -> None:
    assert squeeze_kept(0.08) == pytest.approx(0.34, abs=0.005)


def test_no_load_is_low_enough_where_backs_stick() -> None:
    assert squeeze_kept(0.2) == 0.0
    assert squeeze_kept(np.array([0.0, 0.3])).tolist() == [1.0, 0.0]


@pytest.mark.parametrize("friction", [-0.01, 1.01])
def test_friction_that_no_steel_has_is_refused(friction: float) -> None:
    with pytest.raises(MechanicsRangeError) as refused:
        transverse_factor(friction)
    assert (refused.value.argument, refused.value.value, refused.value.allowed) == ("friction", friction, "0 to 1")


@pytest.mark.parametrize("length", [0.0, -0.4])
def test_no_contact_is_refused(length: float) -> None:
    with pytest.raises(MechanicsRangeError) as refused:
        stress_ratio(5 * INCH, length, 0.08)
    assert refused.value.argument == "contact_length"
