"""Lifting and sharing the set: the recommended weight of one lift, what each handle carries, what a team may carry.

The lifting equation covers neither one-handed nor team lifts nor poor footing, and a slip lift breaks several of its
terms: it is a teaching comparison.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from trainer.errors import MechanicsRangeError
from trainer.mechanics.ranges import (
    ANGLE,
    ASYMMETRY,
    CAPACITY,
    HOURS,
    LIFTS_PER_MINUTE,
    MASS,
    OFFSET,
    RADIUS,
    REACH,
    FloatArray,
)

LOAD_CONSTANT = 23.0
"""Weight LC of the best lift [kg]; DHHS (NIOSH) 94-110."""

KNUCKLE_HEIGHT = 0.75
"""Height of the hands V at which a lift is easiest, and at which the tables change over [m]."""

COUPLINGS = {"good": (1.00, 1.00), "fair": (0.95, 1.00), "poor": (0.90, 0.90)}
"""Multiplier CM [-] by grip, for V below 0.75 m and from there up."""

TEAM_SHARES = {1: 1.0, 2: 2 / 3, 3: 1 / 2}
"""Share of the sum of their capacities that a team of so many has [-]; HSE L23."""

_RATES = (0.2, 0.5, *range(1, 16))
# By hours at most: multiplier at each of _RATES, below 0.75 m and from there up; past a row's end it is 0.
_ONE_HOUR = (1.00, 0.97, 0.94, 0.91, 0.88, 0.84, 0.80, 0.75, 0.70, 0.60, 0.52, 0.45, 0.41, 0.37)
_TWO_HOURS = (0.95, 0.92, 0.88, 0.84, 0.79, 0.72, 0.60, 0.50, 0.42, 0.35, 0.30, 0.26)
_EIGHT_HOURS = (0.85, 0.81, 0.75, 0.65, 0.55, 0.45, 0.35, 0.27, 0.22, 0.18)
_FREQUENCIES = (
    (1.0, _ONE_HOUR, (*_ONE_HOUR, 0.34, 0.31, 0.28)),
    (2.0, _TWO_HOURS, (*_TWO_HOURS, 0.23, 0.21)),
    (8.0, _EIGHT_HOURS, (*_EIGHT_HOURS, 0.15, 0.13)),
)


def recommended_weight(
    horizontal: float,
    vertical: float,
    travel: float,
    asymmetry_deg: float,
    per_minute: float,
    hours: float,
    coupling: str,
) -> float:
    """Recommended weight limit RWL of a two-handed lift by one person [kg]; 0 where no weight is.

    RWL = LC·HM·VM·DM·AM·FM·CM; H `horizontal` and V `vertical` distance of the hands from ankles and floor [m], D
    `travel` [m], A `asymmetry_deg` [degrees], `per_minute` lifts, `hours` of it, `coupling` good, fair or poor. Assumes
    good footing, both hands, no carrying. Valid for distances 0 to 10 m, A 0 to 180, hours above 0 to 8.
    Source: DHHS (NIOSH) 94-110.

    >>> round(recommended_weight(0.40, 0.45, 0.50, 30.0, 1.0, 8.0, "fair"), 2)
    7.67
    """
    return (
        LOAD_CONSTANT
        * _horizontal_multiplier(horizontal)
        * _vertical_multiplier(vertical)
        * _distance_multiplier(travel)
        * _asymmetry_multiplier(asymmetry_deg)
        * _frequency_multiplier(per_minute, hours, vertical)
        * _coupling_multiplier(coupling, vertical)
    )


def _horizontal_multiplier(horizontal: float) -> float:
    REACH.check("horizontal", horizontal)
    return 0.0 if horizontal > 0.63 else 0.25 / max(horizontal, 0.25)


def _vertical_multiplier(vertical: float) -> float:
    REACH.check("vertical", vertical)
    return 0.0 if vertical > 1.75 else 1 - 0.3 * abs(vertical - KNUCKLE_HEIGHT)


def _distance_multiplier(travel: float) -> float:
    REACH.check("travel", travel)
    return 0.0 if travel > 1.75 else 0.82 + 0.045 / max(travel, 0.25)


def _asymmetry_multiplier(asymmetry_deg: float) -> float:
    ASYMMETRY.check("asymmetry_deg", asymmetry_deg)
    return 0.0 if asymmetry_deg > 135 else 1 - 0.0032 * asymmetry_deg


def _frequency_multiplier(per_minute: float, hours: float, vertical: float) -> float:
    LIFTS_PER_MINUTE.check("per_minute", per_minute)
    HOURS.check("hours", hours)
    low, high = next((low, high) for limit, low, high in _FREQUENCIES if hours <= limit)
    row = low if vertical < KNUCKLE_HEIGHT else high
    return float(np.interp(per_minute, _RATES[: len(row)], row, right=0.0))


def _coupling_multiplier(coupling: str, vertical: float) -> float:
    if coupling not in COUPLINGS:
        raise MechanicsRangeError("coupling", coupling, "good, fair or poor")
    low, high = COUPLINGS[coupling]
    return low if vertical < KNUCKLE_HEIGHT else high


def lifting_index(
    mass: float,
    horizontal: float,
    vertical: float,
    travel: float,
    asymmetry_deg: float,
    per_minute: float,
    hours: float,
    coupling: str,
) -> float:
    """Lifting index: the share `mass` [kg] of one person against the recommended weight of that lift [-].

    LI = mass/RWL; the other arguments as for `recommended_weight`. Valid where RWL is above 0: a lift for which no
    weight is recommended has no index and is refused. Source: DHHS (NIOSH) 94-110.

    >>> round(lifting_index(90.0 / 3, 0.40, 0.45, 0.50, 30.0, 1.0, 8.0, "fair"), 1)
    3.9
    """
    MASS.check("mass", mass)
    limit = recommended_weight(horizontal, vertical, travel, asymmetry_deg, per_minute, hours, coupling)
    if limit == 0:
        raise MechanicsRangeError("recommended_weight", limit, "above 0 kg: no weight is recommended for this lift")
    return mass / limit


def handle_shares(
    mass: float, angles_deg: Sequence[float], radius: float, offset: Sequence[float] = (0.0, 0.0)
) -> FloatArray:
    """What each handle of the set carries, in the order of `angles_deg` [kg]; negative: that hand must hold down.

    ΣF = W, ΣF·R cos θ = W·x, ΣF·R sin θ = W·y; W `mass` [kg], θ `angles_deg` [degrees], R `radius` [m] of the handles,
    (x, y) `offset` of the mass centre [m]. Assumes a rigid, level set and vertical pulls. Three handles apart have one
    answer; handles at one place, or more than three, share as equally stiff hands would. Handles that cannot balance
    the set are refused. Valid for R 0.001 to 10 m. Source: statics.

    >>> handle_shares(90.0, (0.0, 120.0, 240.0), 0.30, (0.06, 0.0)).round(6).tolist()
    [42.0, 24.0, 24.0]
    """
    MASS.check("mass", mass)
    ANGLE.check("angles_deg", angles_deg)
    RADIUS.check("radius", radius)
    OFFSET.check("offset", offset)
    if len(offset) != 2:
        raise MechanicsRangeError("offset", offset, "two distances, x and y [m]")
    angles = np.radians(np.asarray(angles_deg, dtype=float))
    balance = np.vstack([np.ones_like(angles), np.cos(angles), np.sin(angles)])
    needed = np.array([1.0, offset[0] / radius, offset[1] / radius])
    shares = np.linalg.lstsq(balance, needed, rcond=1e-9)[0]
    if not np.allclose(balance @ shares, needed, rtol=0, atol=1e-9):
        raise MechanicsRangeError("angles_deg", angles_deg, "handles that can balance the set round its mass centre")
    return np.asarray(mass * shares, dtype=np.float64)


def team_capacity(capacities: Sequence[float]) -> float:
    """What a team can lift together [kg].

    Two people 2/3 of the sum of `capacities` [kg], three 1/2, one alone all. Assumes all can get a proper hold and move
    freely. Valid for one to three people. Source: HSE L23.

    >>> round(team_capacity([30.0, 30.0, 30.0]), 6)
    45.0
    """
    if len(capacities) not in TEAM_SHARES:
        raise MechanicsRangeError("capacities", capacities, "one to three people")
    CAPACITY.check("capacities", capacities)
    return TEAM_SHARES[len(capacities)] * sum(capacities)
