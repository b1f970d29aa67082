"""Units: one table of exact factors, reading a figure with its unit, and turning SI into what a screen shows.

SI stands inside, another unit only at the border. Factors are fractions built from the defined ones (inch, pound,
standard gravity, US gallon), so none is rounded. A site's own files write each figure with its unit: ``16.5 in``,
``1200 kg/m³``.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from types import MappingProxyType
from typing import Annotated, TypeAlias

__all__ = [
    "EXAMPLES",
    "SI",
    "SYSTEMS",
    "UNITS",
    "US",
    "Density",
    "Kind",
    "Length",
    "LinearMass",
    "Mass",
    "Share",
    "Torque",
    "Unit",
    "from_si",
    "number",
    "read",
    "to_si",
    "unit",
    "units_of",
]

SI, US = "SI", "US"
SYSTEMS = (SI, US)
"""The two systems that every figure is shown in; a site says which stands first."""


class Kind(StrEnum):
    """What a figure measures."""

    LENGTH = "length"
    MASS = "mass"
    LINEAR_MASS = "mass per length"
    DENSITY = "density"
    FORCE = "force"
    TORQUE = "torque"
    STRESS = "stress"
    SPEED = "speed"
    TIME = "time"
    AREA = "area"
    SHARE = "share"


Length: TypeAlias = Annotated[float, Kind.LENGTH]
Mass: TypeAlias = Annotated[float, Kind.MASS]
LinearMass: TypeAlias = Annotated[float, Kind.LINEAR_MASS]
Density: TypeAlias = Annotated[float, Kind.DENSITY]
Torque: TypeAlias = Annotated[float, Kind.TORQUE]
Share: TypeAlias = Annotated[float, Kind.SHARE]


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: one of it is ``si`` of the SI unit of its kind, exactly. ``also`` are other ways to write it."""

    name: str
    kind: Kind
    si: Fraction
    also: tuple[str, ...] = ()


_INCH = Fraction("0.0254")
_FOOT = 12 * _INCH
_POUND = Fraction("0.45359237")
_POUND_FORCE = _POUND * Fraction("9.80665")
_GALLON = 231 * _INCH**3
_KILO = Fraction(1000)
_ONE = Fraction(1)

UNITS: tuple[Unit, ...] = (
    Unit("m", Kind.LENGTH, _ONE),
    Unit("cm", Kind.LENGTH, Fraction(1, 100)),
    Unit("mm", Kind.LENGTH, Fraction(1, 1000)),
    Unit("in", Kind.LENGTH, _INCH),
    Unit("ft", Kind.LENGTH, _FOOT),
    Unit("kg", Kind.MASS, _ONE),
    Unit("t", Kind.MASS, _KILO),
    Unit("lb", Kind.MASS, _POUND),
    Unit("klb", Kind.MASS, _KILO * _POUND),
    Unit("kg/m", Kind.LINEAR_MASS, _ONE),
    Unit("lb/ft", Kind.LINEAR_MASS, _POUND / _FOOT),
    Unit("kg/m³", Kind.DENSITY, _ONE, ("kg/m3",)),
    Unit("g/cm³", Kind.DENSITY, _KILO, ("g/cm3",)),
    Unit("lb/gal", Kind.DENSITY, _POUND / _GALLON),
    Unit("lb/ft³", Kind.DENSITY, _POUND / _FOOT**3, ("lb/ft3",)),
    Unit("N", Kind.FORCE, _ONE),
    Unit("kN", Kind.FORCE, _KILO),
    Unit("lbf", Kind.FORCE, _POUND_FORCE),
    Unit("klbf", Kind.FORCE, _KILO * _POUND_FORCE),
    Unit("N·m", Kind.TORQUE, _ONE, ("N.m", "Nm")),
    Unit("kN·m", Kind.TORQUE, _KILO, ("kN.m", "kNm")),
    Unit("ft·lbf", Kind.TORQUE, _POUND_FORCE * _FOOT, ("ft-lbf", "ft.lbf", "lbf·ft", "lbf-ft", "lbf.ft")),
    Unit("Pa", Kind.STRESS, _ONE),
    Unit("MPa", Kind.STRESS, _KILO**2),
    Unit("psi", Kind.STRESS, _POUND_FORCE / _INCH**2),
    Unit("ksi", Kind.STRESS, _KILO * _POUND_FORCE / _INCH**2),
    Unit("m/s", Kind.SPEED, _ONE),
    Unit("ft/s", Kind.SPEED, _FOOT),
    Unit("ft/min", Kind.SPEED, _FOOT / 60),
    Unit("s", Kind.TIME, _ONE),
    Unit("m²", Kind.AREA, _ONE, ("m2",)),
    Unit("mm²", Kind.AREA, Fraction(1, 10**6), ("mm2",)),
    Unit("in²", Kind.AREA, _INCH**2, ("in2",)),
    Unit("", Kind.SHARE, _ONE),
    Unit("%", Kind.SHARE, Fraction(1, 100)),
)
"""Every unit that may be written or shown."""

EXAMPLES: Mapping[Kind, str] = MappingProxyType(
    {
        Kind.LENGTH: "127 mm or 5 in",
        Kind.MASS: "82 kg or 180 lb",
        Kind.LINEAR_MASS: "31.1 kg/m or 20.9 lb/ft",
        Kind.DENSITY: "1200 kg/m³ or 10 lb/gal",
        Kind.FORCE: "450 kN or 100 klbf",
        Kind.TORQUE: "30.9 kN·m or 22800 ft·lbf",
        Kind.STRESS: "724 MPa or 105 ksi",
        Kind.SPEED: "0.5 m/s or 100 ft/min",
        Kind.TIME: "0.5 s",
        Kind.AREA: "3400 mm² or 5.27 in²",
        Kind.SHARE: "84 % or 0.84",
    }
)
"""How a figure of each kind may be written."""

_WRITTEN = re.compile(r"\s*(-?(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+))\s*(.*?)\s*")
_BY_NAME = {(each.kind, name): each for each in UNITS for name in (each.name, *each.also)}
_GROUP = "\u202f"


def units_of(kind: Kind) -> tuple[str, ...]:
    """The names of the units of ``kind``, in the order of the table."""
    return tuple(each.name for each in UNITS if each.kind is kind)


def unit(name: str, kind: Kind) -> Unit:
    """The unit of ``kind`` written ``name``. Raises ``ValueError`` with those that there are."""
    found = _BY_NAME.get((kind, name))
    if found is None:
        raise ValueError(f'"{name}" is no unit of {kind}: there are {", ".join(filter(None, units_of(kind)))}')
    return found


def to_si(value: float, name: str, kind: Kind) -> float:
    """``value`` in the unit ``name`` as SI.

    >>> to_si(10, "lb/gal", Kind.DENSITY)
    1198.26427317...
    """
    return float(Fraction(value) * unit(name, kind).si)


def from_si(value: float, name: str, kind: Kind) -> float:
    """``value`` [SI] in the unit ``name``.

    >>> round(from_si(0.127, "in", Kind.LENGTH), 9)
    5.0
    """
    return value / float(unit(name, kind).si)


def read(written: str, kind: Kind) -> float:
    """The figure written, as SI: a number with a decimal point, a blank, its unit. Raises ``ValueError`` saying why.

    >>> round(read("16.5 in", Kind.LENGTH), 4), read("84 %", Kind.SHARE)
    (0.4191, 0.84)
    """
    found = _WRITTEN.fullmatch(written)
    if found is None:
        raise ValueError("no number with a decimal point")
    if not found[2] and kind is not Kind.SHARE:
        raise ValueError("a number without its unit")
    return float(Fraction(found[1]) * unit(found[2], kind).si)


def number(value: float, decimals: int) -> str:
    """``value`` with so many decimals: a decimal point, a true minus, thin blanks between thousands from 10 000 on.

    >>> number(12345.678, 1), number(-0.04, 1), number(4321.0, 0)
    ('12\\u202f345.7', '0.0', '4321')
    """
    text = f"{abs(value):.{decimals}f}"
    sign = "−" if value < 0 and any(digit not in "0." for digit in text) else ""
    whole, point, rest = text.partition(".")
    grouped = f"{int(whole):,}".replace(",", _GROUP) if len(whole) > 4 else whole
    return f"{sign}{grouped}{point}{rest}"
