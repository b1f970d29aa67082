"""The rig's own figures for pipe, slips and mud, as the site gives them, and the tubes and sections they amount to.

All in SI. New pipe is never assumed: how much wall is left comes from the site's own inspection, and without it no
strength is worked out (``inspected_body`` is ``None``). Weight and waves use new pipe, which is the heavier; strength
uses the wall that is left, worn from outside, which leaves the least metal.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from trainer.core.text import Text
from trainer.core.units import Density, Length, LinearMass, Mass, Share, Torque
from trainer.mechanics import GRADES, PIPES, Pipe, Section, area, stress_ratio, tensile_capacity

__all__ = [
    "CLASSES",
    "LEAST_WALL",
    "PARTS",
    "Rig",
    "RigPipe",
    "RigSection",
    "SlipSet",
    "Tongs",
    "Tube",
    "drill_pipe_length",
    "inspected_body",
    "known_size",
    "new_body",
    "pipe_mass",
    "sections",
    "with_wall",
    "worn_crush_limit",
    "yield_strength",
]

CLASSES = ("new", "premium", "class-2", "class-3")
"""Inspected classes of used drill pipe, API RP 7G-2 (ISO 10407-2), the best first."""

LEAST_WALL: Mapping[str, float] = {"new": 0.875, "premium": 0.8, "class-2": 0.7, "class-3": 0.0}
"""The least share of the wall that pipe of each class has left [-]; API Spec 5DP for new pipe, API RP 7G-2."""

PARTS = ("drill-pipe", "heavy-weight", "collars")
"""What a section of the string can be."""

_DRILL_PIPE = PARTS[0]
_SAME = 1e-3


@dataclass(frozen=True, slots=True)
class RigPipe:
    """The drill pipe in use.

    ``od`` and ``nominal`` (a name for the wall, not a weight) find its new wall and its mass with tool joints in the
    table of sizes; ``wall`` and ``mass`` stand for them where the table has no such size, or the maker says otherwise.
    ``inspected_class`` and ``wall_left`` (share of the new wall, at its thinnest) are from the site's own inspection.
    """

    od: Length
    nominal: LinearMass
    grade: str
    inspected_class: str | None = None
    wall_left: Share | None = None
    inspected_on: date | None = None
    wall: Length | None = None
    mass: LinearMass | None = None


@dataclass(frozen=True, slots=True)
class RigSection:
    """A run of the string: ``part`` is drill-pipe (the pipe in use), heavy-weight or collars.

    The last two need their ``od``, ``bore`` and ``mass`` per length with tool joints.
    """

    part: str
    length: Length
    od: Length | None = None
    bore: Length | None = None
    mass: LinearMass | None = None


@dataclass(frozen=True, slots=True)
class SlipSet:
    """A set of hand slips.

    ``contact_length`` is that of the dies on pipe. ``handles`` are angles seen from above [degrees], the first at 0,
    ``handle_radius`` their distance from the middle of the pipe. ``off_centre`` is how far the set's mass centre lies
    from there toward the first handle.
    """

    pipe_od: Length
    mass: Mass
    contact_length: Length
    handle_radius: Length
    handles: tuple[int, ...] = (0, 120, 240)
    segments: int = 3
    off_centre: Length = 0.0
    title: Text | None = None


@dataclass(frozen=True, slots=True)
class Tongs:
    """The manual tongs: ``arm``, make-up ``torque`` and ``layout``, the angle between the two pulls [degrees]."""

    arm: Length
    torque: Torque
    layout: str = "90"


@dataclass(frozen=True, slots=True)
class Rig:
    """What the site says of itself; ``string`` from the slips down, ``slips`` by the name stamped on the set.

    ``block`` is what the indicator carries besides the string. ``stick_up`` is the site's own height of the box face
    above the slips, ``lifting`` what this site does because the set is heavier than the guideline.
    """

    pipe: RigPipe
    string: tuple[RigSection, ...]
    slips: Mapping[str, SlipSet]
    mud: Density
    block: Mass
    stick_up: Length
    tongs: Tongs
    units: str = "SI"
    friction: Share = 0.08
    lifting: Text | None = None


@dataclass(frozen=True, slots=True)
class Tube:
    """A round tube: outside and inside diameter [m]."""

    od: float
    id: float

    @property
    def area(self) -> float:
        """Its metal cross-section [m²]."""
        return area(self.od, self.id)


def known_size(pipe: RigPipe) -> Pipe | None:
    """The size of the table with this outside diameter and nominal weight, if there is one."""
    fits = (
        each
        for each in PIPES.values()
        if abs(each.od - pipe.od) < _SAME * each.od and abs(each.nominal - pipe.nominal) < _SAME * each.nominal
    )
    return next(fits, None)


def new_body(pipe: RigPipe) -> Tube:
    """The tube when it was new. Raises ``ValueError`` where neither the site nor the table gives its wall."""
    if pipe.wall is not None:
        return Tube(pipe.od, pipe.od - 2 * pipe.wall)
    size = known_size(pipe)
    if size is None:
        raise ValueError("wall")
    return Tube(size.od, size.id)


def pipe_mass(pipe: RigPipe) -> float:
    """Mass per length with tool joints [kg/m]. Raises ``ValueError`` where neither the site nor the table gives it."""
    if pipe.mass is not None:
        return pipe.mass
    size = known_size(pipe)
    if size is None or size.adjusted is None:
        raise ValueError("mass")
    return size.adjusted


def inspected_body(pipe: RigPipe) -> Tube | None:
    """The tube with the wall that the inspection left, all of the wear outside; ``None`` before it is entered."""
    if pipe.inspected_class is None or pipe.wall_left is None:
        return None
    body = new_body(pipe)
    return Tube(body.id + (body.od - body.id) * pipe.wall_left, body.id)


def yield_strength(pipe: RigPipe) -> float:
    """The least yield strength of its grade [Pa]."""
    return GRADES[pipe.grade]


def with_wall(rig: Rig, inspected_class: str, wall_left: float) -> Rig:
    """The rig with pipe of that inspected class and share of wall."""
    pipe = replace(rig.pipe, inspected_class=inspected_class, wall_left=wall_left, inspected_on=None)
    return replace(rig, pipe=pipe)


def drill_pipe_length(rig: Rig) -> float:
    """Length of the drill pipe on top of the string [m]."""
    return next((each.length for each in rig.string if each.part == _DRILL_PIPE), 0.0)


def sections(rig: Rig, drill_pipe: float, *, with_heavy: bool = True) -> tuple[Section, ...]:
    """The string from the slips down with so much drill pipe on top [m]; without the heavy part, that alone."""
    mine = Section(drill_pipe, new_body(rig.pipe).area, pipe_mass(rig.pipe))
    if not with_heavy:
        return (mine,)
    rest = list(rig.string)
    top = next((each for each in rest if each.part == _DRILL_PIPE), None)
    if top is not None:
        rest.remove(top)
    return (mine, *(_section(rig, each) for each in rest))


def _section(rig: Rig, given: RigSection) -> Section:
    own = new_body(rig.pipe)
    od, bore = given.od or own.od, own.id if given.bore is None else given.bore
    return Section(given.length, area(od, bore), given.mass or pipe_mass(rig.pipe))


def worn_crush_limit(pipe: RigPipe, contact_length: float, friction: float) -> float | None:
    """Hanging load at which the inspected tube starts to crush in the slips [N]; ``None`` before it is entered.

    The metal is what the inspection left, the ratio that of the new diameter: the lower of what either would give.
    """
    body = inspected_body(pipe)
    if body is None:
        return None
    capacity = tensile_capacity(body.od, body.id, yield_strength(pipe))
    return capacity / stress_ratio(pipe.od, contact_length, friction)
