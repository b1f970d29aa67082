"""Drill pipe: the table of sizes, the yield strengths of its grades, cross-section and tensile capacity."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from trainer.mechanics.constants import INCH, KSI, POUND_PER_FOOT
from trainer.mechanics.ranges import YIELD_STRENGTH, Real, check_tube


@dataclass(frozen=True, slots=True)
class Pipe:
    """One size of drill pipe: `od` and `id` of the new tube body [m], nominal and adjusted mass per length [kg/m].

    The adjusted figure includes tool joints, within 3 % and heavier for high-strength grades; None where no figure is
    given. The nominal figure is only a name for the wall and weighs nothing.
    """

    od: float
    id: float
    nominal: float
    adjusted: float | None


# OD [in], nominal [lb/ft], ID [in], adjusted [lb/ft]: API Spec 5DP / ISO 11961, API RP 7G.
_SIZES: tuple[tuple[str, float, float, float, float | None], ...] = (
    ("3.5 in 9.50", 3.500, 9.50, 2.992, None),
    ("3.5 in 13.30", 3.500, 13.30, 2.764, 13.8),
    ("3.5 in 15.50", 3.500, 15.50, 2.602, 16.4),
    ("4 in 14.00", 4.000, 14.00, 3.340, 15.1),
    ("4.5 in 16.60", 4.500, 16.60, 3.826, 18.4),
    ("4.5 in 20.00", 4.500, 20.00, 3.640, 22.1),
    ("5 in 19.50", 5.000, 19.50, 4.276, 20.9),
    ("5 in 25.60", 5.000, 25.60, 4.000, 26.9),
    ("5.5 in 21.90", 5.500, 21.90, 4.778, 23.8),
    ("5.5 in 24.70", 5.500, 24.70, 4.670, 26.3),
    ("5.875 in 23.40", 5.875, 23.40, 5.153, 25.3),
    ("6.625 in 25.20", 6.625, 25.20, 5.965, 27.2),
)


def _pipe(od: float, nominal: float, bore: float, adjusted: float | None) -> Pipe:
    mass = None if adjusted is None else adjusted * POUND_PER_FOOT
    return Pipe(od * INCH, bore * INCH, nominal * POUND_PER_FOOT, mass)


PIPES: Mapping[str, Pipe] = MappingProxyType(
    {name: _pipe(od, nominal, bore, adjusted) for name, od, nominal, bore, adjusted in _SIZES}
)
"""Common sizes by the name a crew uses, "5 in 19.50": outside diameter in inches, nominal lb/ft."""

GRADES: Mapping[str, float] = MappingProxyType(
    {"E-75": 75 * KSI, "X-95": 95 * KSI, "G-105": 105 * KSI, "S-135": 135 * KSI}
)
"""Minimum yield strength Y [Pa] by grade; API Spec 5DP."""


def area(od: Real, id: Real) -> Real:
    """Metal cross-section A of the tube body [m²].

    A = π/4 (D² − d²); D `od` [m], d `id` [m]. Assumes a round tube of nominal wall; worn pipe has less.
    Valid for 0 ≤ d < D, D 0.001 to 2 m. Source: API RP 7G.

    >>> round(area(0.1270, 0.1086104) * 1e6)
    3403
    """
    check_tube(od, id)
    return math.pi / 4 * (od * od - id * id)


def tensile_capacity(od: Real, id: Real, yield_strength: Real) -> Real:
    """Pull T at which the new tube body yields [N].

    T = Y·A; Y `yield_strength` [Pa], A from `od` and `id` [m]. Assumes new pipe, plain tension, no slips and no safety
    factor. Valid for Y 1e6 to 1e10 Pa. Source: API RP 7G; 5 in 19.50 E-75 is printed as 395 595 lbf.

    >>> size = PIPES["5 in 19.50"]
    >>> round(tensile_capacity(size.od, size.id, GRADES["E-75"]) / 1000, 1)
    1759.7
    """
    YIELD_STRENGTH.check("yield_strength", yield_strength)
    return yield_strength * area(od, id)
