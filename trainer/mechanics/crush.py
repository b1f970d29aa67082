"""Crushing of the tube in the slips, and the wedge that does it."""

from __future__ import annotations

import math
from typing import overload

from trainer.mechanics.pipe import tensile_capacity
from trainer.mechanics.ranges import (
    CONTACT_LENGTH,
    DIAMETER,
    FRICTION,
    TAPER_ANGLE,
    BoolArray,
    FloatArray,
    Number,
    Real,
)

SLOPE = 1 / 6
"""Slope of a slip's back against the pipe's axis, tan α [-]: 4 in/ft on diameter; API Spec 7K."""

TAPER = math.atan(SLOPE)
"""Angle α of a slip's back against the pipe's axis [rad]."""

TEST_MARGIN = 1.25
"""Divide `crush_limit` by this and show both [-]: tests of 2002 found it about 20 % unconservative; IADC/SPE 74488."""


def transverse_factor(friction: Real, taper: float = TAPER) -> Real:
    """Total radial squeeze K of the pipe for each unit of axial load [-].

    K = 1/tan(α + arctan μ); μ `friction` on the slips' backs [-], α `taper` [rad], the angle of the backs. Assumes
    rigid slips, sliding home, load evenly round the pipe. Valid for μ 0 to 1, α 0.01 to π/4.
    Source: Reinhold & Spiri 1959; Vreeland 1961.

    >>> round(transverse_factor(0.08), 3)
    4.0
    """
    FRICTION.check("friction", friction)
    TAPER_ANGLE.check("taper", taper)
    slope = math.tan(taper)
    return (1 - slope * friction) / (slope + friction)


def stress_ratio(od: Real, contact_length: Real, friction: Real) -> Real:
    """Times by which the slips raise the equivalent stress in the tube over plain tension [-].

    √(1 + x + x²), x = D·K/(2·Ls); D `od` [m], Ls `contact_length` [m] of slip on pipe, K of `friction` [-]. Assumes
    full contact all round, thin tube, von Mises yield. Valid for Ls 0.001 to 10 m.
    Source: Reinhold & Spiri 1959; Vreeland 1961.

    >>> round(stress_ratio(0.127, 0.3048, 0.08), 3), round(stress_ratio(0.127, 0.4064, 0.08), 3)
    (1.59, 1.42)
    """
    DIAMETER.check("od", od)
    CONTACT_LENGTH.check("contact_length", contact_length)
    x = od * transverse_factor(friction) / (2 * contact_length)
    ratio: Real = (1 + x + x * x) ** 0.5
    return ratio


def crush_limit(od: Real, id: Real, yield_strength: Real, contact_length: Real, friction: Real) -> Real:
    """Hanging load W max at which the tube starts to crush in the slips [N].

    W max = Y·A/ratio; Y `yield_strength` [Pa], A of `od` and `id` [m], ratio of `contact_length` [m] and `friction`.
    Assumes new pipe, static load, slips in full contact. Tests found it about 20 % unconservative, so it is always
    shown with W max / `TEST_MARGIN`. Valid as `stress_ratio`. Source: Reinhold & Spiri 1959; IADC/SPE 74488.

    >>> round(crush_limit(0.1270, 0.1086104, 517.107e6, 0.4064, 0.08) / 1000, 1)
    1239.5
    """
    return tensile_capacity(od, id, yield_strength) / stress_ratio(od, contact_length, friction)


def grip_needed(friction: Real) -> Real:
    """Least grip, teeth on pipe, at which the teeth bite and the slips go home instead of sliding on the pipe [-].

    tan(α + φ) = 1/K; φ = arctan μ, μ `friction` on the backs [-]. Assumes a rigid Coulomb wedge, α = arctan(1/6).
    Valid for μ 0 to 1. Source: derived from first principles.

    >>> round(grip_needed(0.08), 3)
    0.25
    """
    return 1 / transverse_factor(friction)


@overload
def sticks(friction: float) -> bool: ...
@overload
def sticks(friction: FloatArray) -> BoolArray: ...
def sticks(friction: Number) -> bool | BoolArray:
    """Whether the backs stick in the bowl when the load comes off, so that the squeeze stays on.

    μ > tan α = 1/6; μ `friction` on the backs [-]. Assumes a rigid Coulomb wedge. Valid for μ 0 to 1.
    Source: derived from first principles.

    >>> sticks(0.08), sticks(0.2)
    (False, True)
    """
    FRICTION.check("friction", friction)
    return friction > SLOPE


def squeeze_kept(friction: Real) -> Real:
    """Share of the peak load to which the load must fall before the squeeze gives at all [-]; 0 where the backs stick.

    tan(α − φ)/tan(α + φ); φ = arctan μ, μ `friction` on the backs [-]. Assumes a rigid Coulomb wedge. Where the backs
    stick even no load frees the pipe. Valid for μ 0 to 1. Source: derived from first principles.

    >>> round(squeeze_kept(0.08), 2), squeeze_kept(0.2)
    (0.34, 0.0)
    """
    falling = (SLOPE - friction) / (1 + SLOPE * friction)
    # Half of x + |x| is x, or 0 below it, for floats and arrays alike.
    return (falling + abs(falling)) / 2 * transverse_factor(friction)
