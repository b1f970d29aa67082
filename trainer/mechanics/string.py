"""The string hanging in the hole: its sections, buoyed weight and stretch."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from trainer.errors import MechanicsRangeError
from trainer.mechanics.constants import GRAVITY, POISSON, STEEL_DENSITY, YOUNG
from trainer.mechanics.ranges import AREA, FORCE, LENGTH, MASS_PER_LENGTH, MUD_DENSITY, Real


@dataclass(frozen=True, slots=True)
class Section:
    """A run of like pipe: `length` [m], metal `area` of the tube [m²], `mass_per_length` with tool joints [kg/m].

    Sections are listed from the slips down. An argument out of range raises `MechanicsRangeError`.
    """

    length: float
    area: float
    mass_per_length: float

    def __post_init__(self) -> None:
        """Refuse a run that is no run: a length, area or mass that is zero, negative, not a number or beyond belief."""
        LENGTH.check("length", self.length)
        AREA.check("area", self.area)
        MASS_PER_LENGTH.check("mass_per_length", self.mass_per_length)


def buoyancy_factor(mud_density: Real) -> Real:
    """Share BF of the weight in air that the mud leaves [-].

    BF = 1 − ρm/ρs; ρm `mud_density` [kg/m³], ρs 7850 kg/m³. Assumes the same mud inside and outside.
    Valid for ρm 0 to 3000 kg/m³. Source: API RP 7G.

    >>> round(buoyancy_factor(1200.0), 4)
    0.8471
    """
    MUD_DENSITY.check("mud_density", mud_density)
    return 1 - mud_density / STEEL_DENSITY


def hanging_load(sections: Sequence[Section], mud_density: float) -> float:
    """Load W that the slips carry once everything is still [N].

    W = g·BF·Σ mᵢLᵢ; mᵢ `mass_per_length` [kg/m], Lᵢ `length` [m], `mud_density` [kg/m³]. Assumes a vertical hole, no
    drag, off bottom; block and top drive are not in it. Valid for at least one section. Source: API RP 7G.

    >>> round(hanging_load([Section(3000.0, 3.403e-3, 31.088)], 1200.0) / 1000, 1)
    774.8
    """
    if not sections:
        raise MechanicsRangeError("sections", sections, "one section or more")
    mass = sum(section.mass_per_length * section.length for section in sections)
    return GRAVITY * buoyancy_factor(mud_density) * mass


def stretch_own_weight(length: Real, mud_density: Real) -> Real:
    """Stretch of a free-hanging uniform pipe under its own weight in mud [m].

    δ = gL²/(2E)·[ρs − 2(1 − ν)ρm]; L `length` [m], ρm `mud_density` [kg/m³], E 206.843 GPa, ν 0.28. Assumes elastic
    steel of tube section only, vertical, same mud inside and outside. Valid for L to 20 km, ρm 0 to 3000 kg/m³.
    Source: API RP 7G.

    >>> round(stretch_own_weight(3000.0, 1200.0), 3)
    1.306
    """
    LENGTH.check("length", length)
    MUD_DENSITY.check("mud_density", mud_density)
    return GRAVITY * length * length / (2 * YOUNG) * (STEEL_DENSITY - 2 * (1 - POISSON) * mud_density)


def stretch_end_load(force: Real, length: Real, area: Real) -> Real:
    """Further stretch of a uniform pipe when the pull on its end changes [m].

    δ = FL/(EA); F `force` [N], negative for slacking off, L `length` [m], A `area` [m²]. Assumes Hooke's law and a
    pipe that stays in tension. Valid for F within ±1e9 N, L to 20 km. Source: API RP 7G.

    >>> round(stretch_end_load(200e3, 3000.0, 3.403e-3), 3)
    0.852
    """
    FORCE.check("force", force)
    LENGTH.check("length", length)
    AREA.check("area", area)
    return force * length / (YOUNG * area)
