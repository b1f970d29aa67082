"""Laws of crushing, stretch and stick-up."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from trainer.mechanics import (
    crush_limit,
    grip_needed,
    squeeze_kept,
    stick_up_limit,
    sticks,
    stress_ratio,
    tensile_capacity,
    transverse_factor,
)

OD = st.floats(0.06, 0.2)
SHARE = st.floats(0.3, 0.95)
YIELD = st.floats(3e8, 1e9)
CONTACT = st.floats(0.02, 1.0)
FRICTION = st.floats(0.0, 1.0)


@given(od=OD, share=SHARE, strength=YIELD, one=CONTACT, other=CONTACT, friction=FRICTION)
def test_the_crush_limit_falls_as_contact_shortens(
    od: float, share: float, strength: float, one: float, other: float, friction: float
) -> None:
    assume(abs(one - other) > 1e-6)
    short, long = sorted((one, other))
    assume(transverse_factor(friction) > 0)
    lower = crush_limit(od, share * od, strength, short, friction)
    assert lower < crush_limit(od, share * od, strength, long, friction)
    assert lower < tensile_capacity(od, share * od, strength)


@given(od=OD, contact=CONTACT, one=FRICTION, other=FRICTION)
def test_slippery_backs_squeeze_harder(od: float, contact: float, one: float, other: float) -> None:
    assume(abs(one - other) > 1e-6)
    slick, rough = sorted((one, other))
    assert transverse_factor(slick) > transverse_factor(rough)
    assert stress_ratio(od, contact, slick) > stress_ratio(od, contact, rough) > 1


@given(friction=FRICTION)
def test_the_wedge_agrees_with_itself(friction: float) -> None:
    assert grip_needed(friction) * transverse_factor(friction) == pytest.approx(1)
    assert 0 <= squeeze_kept(friction) <= 1
    if sticks(friction):
        assert squeeze_kept(friction) == 0


@given(od=OD, share=SHARE, strength=YIELD, one=st.floats(0, 0.99), other=st.floats(0, 0.99))
def test_hanging_weight_lowers_the_stick_up(od: float, share: float, strength: float, one: float, other: float) -> None:
    assume(abs(one - other) > 1e-6)
    light, heavy = (part * tensile_capacity(od, share * od, strength) for part in sorted((one, other)))
    low, high = (stick_up_limit(od, share * od, strength, load, 3e4, 1.4, 90) for load in (heavy, light))
    assert 0 < low < high
