"""How high the box may stand above the slips while the tongs pull on it."""

from __future__ import annotations

import math

from trainer.errors import MechanicsRangeError
from trainer.mechanics.pipe import area, tensile_capacity
from trainer.mechanics.ranges import ARM, TORQUE

PULL_FACTORS = {90: 0.7071, 180: 0.500}
"""k [-] by the angle between the tong pulls [degrees]; API RP 7G."""


def stick_up_limit(
    od: float, id: float, yield_strength: float, hanging_load: float, torque: float, arm: float, layout: int
) -> float:
    """Height H max of the tool joint above the slips at which tonging starts to bend the tube [m].

    H max = k(Y − W/A)(I/C)·Lt/T; Y `yield_strength` [Pa], W `hanging_load` [N], A and I/C of `od` and `id` [m], Lt tong
    `arm` [m], T `torque` [N·m], k 0.7071 for a `layout` of 90 degrees between the pulls and 0.500 for 180. Assumes new
    pipe held rigidly in the slips; no safety factor, and some printings multiply by 0.9. Valid for W from 0 to less
    than Y·A. Source: API RP 7G; the axial term is derived.

    >>> round(stick_up_limit(0.1270, 0.1086104, 517.107e6, 0.0, 30961.5, 1.3716, 90), 3)
    1.515
    """
    if layout not in PULL_FACTORS:
        raise MechanicsRangeError("layout", layout, "90 or 180 degrees")
    TORQUE.check("torque", torque)
    ARM.check("arm", arm)
    capacity = tensile_capacity(od, id, yield_strength)
    if not 0 <= hanging_load < capacity:
        raise MechanicsRangeError("hanging_load", hanging_load, f"0 to less than Y·A, {capacity:.0f} N")
    modulus = math.pi / 32 * (od**4 - id**4) / od
    spare = yield_strength - hanging_load / area(od, id)
    return PULL_FACTORS[layout] * spare * modulus * arm / torque
