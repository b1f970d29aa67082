"""What the rig's own figures come to: one question, one frozen answer. The physics stands in ``trainer.mechanics``.

All in SI. Each raises ``MechanicsRangeError`` for what its formula does not cover; ``None`` stands where the answer
needs the inspected class of the pipe and the site has not entered it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from trainer.core.rig import Rig, SlipSet, inspected_body, worn_crush_limit, yield_strength
from trainer.mechanics import (
    TEST_MARGIN,
    Reading,
    Section,
    buoyancy_factor,
    grip_needed,
    handle_shares,
    hanging_load,
    read_imprint,
    recommended_weight,
    squeeze_kept,
    stick_up_limit,
    sticks,
    stress_ratio,
    team_capacity,
    transverse_factor,
)
from trainer.mechanics.constants import GRAVITY

__all__ = [
    "WAYS",
    "Contact",
    "Grease",
    "Hanging",
    "Ladder",
    "Rung",
    "Shares",
    "StickUp",
    "contact",
    "grease",
    "hanging",
    "ladder",
    "less_margin",
    "shares",
    "stick_up",
]

WAYS = ("three", "two-in-turn", "two-share-middle")
"""Who takes which handle: one each; one takes two; each an end handle and both the middle one."""


@dataclass(frozen=True, slots=True)
class Hanging:
    """What hangs: each section's load from the slips down, what the slips carry, what the indicator shows [N]."""

    parts: tuple[float, ...]
    on_slips: float
    block: float
    indicator: float
    buoyancy: float


@dataclass(frozen=True, slots=True)
class Shares:
    """Who lifts what [kg]: by handle, and by person as (handle, mass) pairs.

    ``each_alone`` is what each would have to be able to lift alone for the team to have the set.
    """

    handles: tuple[float, ...]
    people: tuple[tuple[tuple[int, float], ...], ...]
    each_alone: float

    @property
    def by_person(self) -> tuple[float, ...]:
        """What each person carries in all [kg]."""
        return tuple(sum(mass for _, mass in held) for held in self.people)


@dataclass(frozen=True, slots=True)
class Rung:
    """One step from the best lift down: what it is about, its factor [-] and the mass left after it [kg]."""

    about: str
    factor: float
    left: float


@dataclass(frozen=True, slots=True)
class Ladder:
    """From the best lift down to the guideline for this one [kg]; ``index`` is ``None`` where no weight is."""

    best: float
    rungs: tuple[Rung, ...]
    limit: float
    index: float | None


@dataclass(frozen=True, slots=True)
class Contact:
    """What an imprint leaves: the reading, stress ratio and limit [N] in full contact and as it is now.

    ``ratio`` and the limits are ``None`` where nothing printed; the limits also before the class is entered.
    """

    reading: Reading
    full_ratio: float
    ratio: float | None
    full_limit: float | None
    limit: float | None
    load: float

    @property
    def kept(self) -> float:
        """Share of the safe load that is left [-]."""
        return 0.0 if self.ratio is None else self.full_ratio / self.ratio


@dataclass(frozen=True, slots=True)
class StickUp:
    """How high the joint may stand [m]: the pipe's ``limit``, the site's own height, the smaller of the two."""

    limit: float
    site: float

    @property
    def height(self) -> float:
        """The height to keep to [m]."""
        return min(self.limit, self.site)

    @property
    def used(self) -> float:
        """Share of the pipe's bending limit that this height uses [-]."""
        return self.height / self.limit


@dataclass(frozen=True, slots=True)
class Grease:
    """What the friction of the backs does: squeeze K, stress ratio, limit [N], grip that the teeth need, what keeps."""

    squeeze: float
    ratio: float
    limit: float | None
    grip: float
    keeps: float
    sticks: bool


def hanging(string: Sequence[Section], mud: float, block: float) -> Hanging:
    """What hangs in the slips and on the hook; ``block`` [kg] is what the hook carries besides the string."""
    parts = tuple(hanging_load([each], mud) for each in string)
    on_slips = hanging_load(string, mud)
    above = block * GRAVITY
    return Hanging(parts, on_slips, above, on_slips + above, float(buoyancy_factor(mud)))


def shares(slips: SlipSet, mass: float, way: str, off_centre: float) -> Shares:
    """Who lifts what of a set of ``mass`` [kg] whose centre lies ``off_centre`` [m] toward the first handle."""
    handles = tuple(float(each) for each in handle_shares(mass, slips.handles, slips.handle_radius, (off_centre, 0.0)))
    people = _people(handles, way)
    alone = mass / team_capacity([1.0] * len(people))
    return Shares(handles, people, alone)


def _people(handles: tuple[float, ...], way: str) -> tuple[tuple[tuple[int, float], ...], ...]:
    if way == "three":
        return tuple(((handle, mass),) for handle, mass in enumerate(handles))
    # Two people: the last handle is the second person's end; the first and the middle ones are shared out.
    first, last, middle = handles[0], len(handles) - 1, handles[1:-1]
    if way == "two-in-turn":
        taken = tuple((number, mass) for number, mass in enumerate(middle, 1))
        return ((0, first), *taken), ((last, handles[last]),)
    half = tuple((number, mass / 2) for number, mass in enumerate(middle, 1))
    return ((0, first), *half), (*half, (last, handles[last]))


_BEST = (0.25, 0.75, 0.25, 0.0, 0.2, 1.0, "good")
_ABOUT = ("reach", "height", "travel", "twist", "pace", "hours", "grip")


def ladder(
    mass: float,
    reach: float,
    height: float,
    travel: float,
    twist: float,
    pace: float,
    hours: float,
    grip: str,
) -> Ladder:
    """The guideline for one lift, a step at a time, and how often it goes into one person's ``mass`` [kg].

    Distances [m], ``twist`` [degrees], ``pace`` [lifts a minute]. Pace and hours are one step: they share a factor.
    """
    wanted = (reach, height, travel, twist, pace, hours, grip)
    best = recommended_weight(*_BEST)
    rungs: list[Rung] = []
    left = best
    for count in range(1, len(wanted) + 1):
        if _ABOUT[count - 1] == "pace":
            continue
        now = recommended_weight(*(*wanted[:count], *_BEST[count:]))  # type: ignore[arg-type]
        about = "pace" if _ABOUT[count - 1] == "hours" else _ABOUT[count - 1]
        rungs.append(Rung(about, now / left if left else 0.0, now))
        left = now
    return Ladder(best, tuple(rungs), left, mass / left if left else None)


def contact(rig: Rig, slips: SlipSet, thirds: tuple[float, float, float], load: float) -> Contact:
    """What an even imprint of these ``thirds``, top to bottom, leaves of the safe load; ``load`` hangs now [N]."""
    reading = read_imprint([thirds] * slips.segments, slips.contact_length)
    full = float(stress_ratio(rig.pipe.od, slips.contact_length, rig.friction))
    is_blank = reading.verdict == "no record"
    return Contact(
        reading=reading,
        full_ratio=full,
        ratio=None if is_blank else float(stress_ratio(rig.pipe.od, reading.effective_length, rig.friction)),
        full_limit=worn_crush_limit(rig.pipe, slips.contact_length, rig.friction),
        limit=None if is_blank else worn_crush_limit(rig.pipe, reading.effective_length, rig.friction),
        load=load,
    )


def stick_up(rig: Rig, torque: float, load: float) -> StickUp | None:
    """How high the box may stand above the slips while the tongs pull with ``torque`` [N·m] and ``load`` [N] hangs."""
    body = inspected_body(rig.pipe)
    if body is None:
        return None
    strength = yield_strength(rig.pipe)
    tongs = rig.tongs
    limit = stick_up_limit(body.od, body.id, strength, load, torque, tongs.arm, int(tongs.layout))
    return StickUp(limit, rig.stick_up)


def grease(rig: Rig, slips: SlipSet, friction: float) -> Grease:
    """What backs of this ``friction`` do to squeeze, limit and grip."""
    return Grease(
        squeeze=float(transverse_factor(friction)),
        ratio=float(stress_ratio(rig.pipe.od, slips.contact_length, friction)),
        limit=worn_crush_limit(rig.pipe, slips.contact_length, friction),
        grip=float(grip_needed(friction)),
        keeps=float(squeeze_kept(friction)),
        sticks=bool(sticks(friction)),
    )


def less_margin(limit: float) -> float:
    """The crush limit less the 20 % by which tests found it too high [N]."""
    return limit / TEST_MARGIN
