"""A figure as the page says it: in the site's first unit and, beside it, in the other one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from trainer.core.units import SI, US, Kind, from_si, number, to_si

__all__ = ["PAIRS", "Both", "Pair", "Scale"]


@dataclass(frozen=True, slots=True)
class Scale:
    """A unit and how many decimals a figure in it has on screen."""

    unit: str
    decimals: int


@dataclass(frozen=True, slots=True)
class Pair:
    """How one kind of figure is told in SI and in US oilfield units."""

    kind: Kind
    si: Scale
    us: Scale


def _pair(kind: Kind, si: str, si_decimals: int, us: str, us_decimals: int) -> Pair:
    return Pair(kind, Scale(si, si_decimals), Scale(us, us_decimals))


PAIRS: Mapping[str, Pair] = MappingProxyType(
    {
        "load": _pair(Kind.FORCE, "kN", 0, "klbf", 1),
        "stress": _pair(Kind.STRESS, "MPa", 0, "ksi", 0),
        "mass": _pair(Kind.MASS, "kg", 0, "lb", 0),
        "lift": _pair(Kind.MASS, "kg", 1, "lb", 1),
        "heavy": _pair(Kind.MASS, "t", 1, "klb", 1),
        "long": _pair(Kind.LENGTH, "m", 0, "ft", 0),
        "height": _pair(Kind.LENGTH, "m", 2, "in", 0),
        "arm": _pair(Kind.LENGTH, "m", 2, "ft", 2),
        "reach": _pair(Kind.LENGTH, "cm", 0, "in", 0),
        "small": _pair(Kind.LENGTH, "mm", 0, "in", 2),
        "thin": _pair(Kind.LENGTH, "mm", 2, "in", 3),
        "speed": _pair(Kind.SPEED, "m/s", 2, "ft/s", 2),
        "torque": _pair(Kind.TORQUE, "kN·m", 1, "ft·lbf", 0),
        "density": _pair(Kind.DENSITY, "kg/m³", 0, "lb/gal", 1),
        "linear": _pair(Kind.LINEAR_MASS, "kg/m", 1, "lb/ft", 1),
        "area": _pair(Kind.AREA, "mm²", 0, "in²", 3),
    }
)
"""How each figure on the page is told, by a short name."""


@dataclass(frozen=True, slots=True)
class Both:
    """Tells figures in both systems, ``first`` (``SI`` or ``US``) before the other."""

    first: str

    @property
    def other(self) -> str:
        """The system that stands second."""
        return US if self.first == SI else SI

    def scales(self, name: str) -> tuple[Scale, Scale]:
        """The first and the other scale of the pair ``name``."""
        pair = PAIRS[name]
        return (pair.si, pair.us) if self.first == SI else (pair.us, pair.si)

    def split(self, value: float, name: str) -> tuple[str, str]:
        """``value`` [SI] in the first unit and in the other one."""
        first, other = self.scales(name)
        return _told(value, PAIRS[name].kind, first), _told(value, PAIRS[name].kind, other)

    def line(self, value: float, name: str) -> str:
        """``value`` [SI] in one line: ``775 kN (174.2 klbf)``."""
        first, other = self.split(value, name)
        return f"{first} ({other})"

    def shown(self, value: float, name: str) -> float:
        """``value`` [SI] in the first unit."""
        return from_si(value, self.scales(name)[0].unit, PAIRS[name].kind)

    def taken(self, value: float, name: str) -> float:
        """A figure in the first unit as SI."""
        return to_si(value, self.scales(name)[0].unit, PAIRS[name].kind)


def _told(value: float, kind: Kind, scale: Scale) -> str:
    return f"{number(from_si(value, scale.unit, kind), scale.decimals)} {scale.unit}"
