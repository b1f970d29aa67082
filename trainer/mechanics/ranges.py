"""What each kind of argument may be. A closed range that NaN and infinity cannot pass is the package's only guard.

The outer limits lie well outside anything met on a rig: they are there to catch a figure typed in inches, psi or
tonnes, and to keep every result finite. Where a formula itself stops being valid, that limit is used instead.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeAlias, TypeVar

import numpy as np
from numpy.typing import NDArray

from trainer.errors import MechanicsRangeError

FloatArray: TypeAlias = NDArray[np.float64]
BoolArray: TypeAlias = NDArray[np.bool_]
Number: TypeAlias = float | FloatArray
Real = TypeVar("Real", float, FloatArray)
"""All floats, or all arrays that numpy can broadcast to one shape; the answer is of the same kind."""


@dataclass(frozen=True, slots=True)
class Range:
    """The values from `low` to `high`, in `unit`; `low` itself is refused where `above` is set."""

    low: float
    high: float
    unit: str
    above: bool = False

    def check(self, argument: str, value: object) -> None:
        """Nothing, or `MechanicsRangeError` naming `argument` if `value`, or any element of it, is outside the range.

        >>> Range(0.0, 1.0, "m").check("depth", 0.5)
        """
        given = numbers(argument, value, str(self))
        inside = (given > self.low if self.above else given >= self.low) & (given <= self.high)
        if not np.all(inside):
            raise MechanicsRangeError(argument, value, str(self))

    def __str__(self) -> str:
        """The range in words, as an error shows it.

        >>> str(Range(0.0, 8.0, "h", above=True))
        'above 0 to 8 h'
        """
        return f"{'above ' if self.above else ''}{self.low:g} to {self.high:g} {self.unit}".rstrip()


def numbers(argument: str, value: object, allowed: str) -> FloatArray:
    """`value` as an array; what has no shape or is no number at all raises `MechanicsRangeError` like one out of range.

    >>> numbers("depth", [1, 2], "0 to 3 m").tolist()
    [1.0, 2.0]
    """
    try:
        return np.asarray(value, dtype=np.float64)
    except (TypeError, ValueError, OverflowError) as error:
        raise MechanicsRangeError(argument, value, allowed) from error


DIAMETER = Range(0.001, 2.0, "m")
YIELD_STRENGTH = Range(1e6, 1e10, "Pa")
AREA = Range(1e-6, 1.0, "m²")
LENGTH = Range(0.001, 20_000.0, "m")
MASS_PER_LENGTH = Range(0.01, 10_000.0, "kg/m")
MUD_DENSITY = Range(0.0, 3000.0, "kg/m³")
FORCE = Range(-1e9, 1e9, "N")
CONTACT_LENGTH = Range(0.001, 10.0, "m")
FRICTION = Range(0.0, 1.0, "")
TAPER_ANGLE = Range(0.01, math.pi / 4, "rad")
# 25 m/s is 1.0 GPa of wave stress: above it no drill-pipe grade stays elastic.
SPEED = Range(0.0, 25.0, "m/s")
STOP_TIME = Range(0.0, 3600.0, "s")
REACH = Range(0.0, 10.0, "m")
ASYMMETRY = Range(0.0, 180.0, "degrees")
LIFTS_PER_MINUTE = Range(0.0, 1000.0, "lifts/min")
HOURS = Range(0.0, 8.0, "h", above=True)
MASS = Range(0.001, 1e5, "kg")
ANGLE = Range(-3600.0, 3600.0, "degrees")
RADIUS = Range(0.001, 10.0, "m")
OFFSET = Range(-10.0, 10.0, "m")
CAPACITY = Range(0.0, 1e4, "kg")
SHARE = Range(0.0, 1.0, "")
TORQUE = Range(1.0, 1e7, "N·m")
ARM = Range(0.01, 10.0, "m")


def check_tube(od: Number, id: Number) -> None:
    """Nothing, or `MechanicsRangeError` unless 0 ≤ `id` < `od` [m], `od` being in its own range. A solid bar is a tube.

    >>> check_tube(0.127, 0.1086)
    """
    DIAMETER.check("od", od)
    allowed = f"0 to less than od, {od} m"
    bore = numbers("id", id, allowed)
    if not np.all((bore >= 0) & (bore < od)):
        raise MechanicsRangeError("id", id, allowed)
