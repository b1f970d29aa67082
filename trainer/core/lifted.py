"""Who lifts how much of the set when a crew is placed on its handles: the site's own set, by hand and by person."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from trainer.core.catalogue import Site
from trainer.core.tasks import PlaceCrew
from trainer.core.text import Text
from trainer.mechanics import handle_shares

__all__ = [
    "HANDLES", "MASS_FIGURE", "TWO_FIGURE", "WAYS_OF_TWO", "Crew", "LiftedSet", "Person", "crew_of", "lifted_set",
    "mass_written", "of_two", "way_of_two",
]  # fmt: skip

HANDLES = ("handle-1", "handle-2", "handle-3")
"""The handles of the set as the drawings name them, going round; the rig's first handle is the first of these."""

MASS_FIGURE, TWO_FIGURE = "slip_mass_kg", "two_on_set"
"""The site figures that say what the set weighs [kg] and how two people take three handles here."""

WAYS_OF_TWO = ("two-share-middle", "two-in-turn")
"""Each an end handle and both the middle one; or two handles for one and one for the other. Both are used."""

_MASS = 90.0
_EVEN = (0.0, 120.0, 240.0)
# Where no figure says otherwise the set hangs even, and then any radius shares it alike.
_RADIUS = 0.30


@dataclass(frozen=True, slots=True)
class LiftedSet:
    """A set with three handles: its ``mass`` [kg], ``angles`` [degrees] and ``radius`` [m] of the handles.

    ``off_centre`` is how far its mass centre lies toward the first handle [m].
    """

    mass: float
    angles: tuple[float, ...] = _EVEN
    radius: float = _RADIUS
    off_centre: float = 0.0

    def by_handle(self) -> Mapping[str, float]:
        """What each handle carries [kg] while all three are held."""
        shares = handle_shares(self.mass, self.angles, self.radius, (self.off_centre, 0.0))
        return {name: float(share) for name, share in zip(HANDLES, shares, strict=True)}


@dataclass(frozen=True, slots=True)
class Person:
    """One of the crew: what he is called on his tokens, and what he lifts in all [kg]."""

    text: Text
    mass: float


@dataclass(frozen=True, slots=True)
class Crew:
    """A placed crew: ``by_token`` is what each token lifts [kg], ``people`` what each person does, in their order.

    ``empty`` are the handles that nobody holds: as long as there is one, nobody lifts anything and both are empty.
    """

    by_token: Mapping[str, float]
    people: tuple[Person, ...]
    empty: tuple[str, ...] = ()


def mass_written(figure: str) -> float | None:
    """The mass [kg] that a site figure holds, ``None`` where it is no mass that people lift."""
    try:
        mass = float(figure)
    except ValueError:
        return None
    return mass if 10.0 <= mass <= 400.0 else None


def lifted_set(site: Site) -> LiftedSet:
    """The set that the site's crews lift: its own figure, else the heaviest of its rig, else an example of 90 kg."""
    written = mass_written(site.figures.get(MASS_FIGURE, ""))
    slips = max(site.rig.slips.values(), key=lambda each: each.mass, default=None) if site.rig else None
    if slips is None or len(slips.handles) != len(HANDLES):
        return LiftedSet(written or (slips.mass if slips else _MASS))
    angles = tuple(float(each) for each in slips.handles)
    return LiftedSet(written or slips.mass, angles, slips.handle_radius, slips.off_centre)


def way_of_two(site: Site) -> str:
    """How two people take three handles at this site, empty where it has not picked one of ``WAYS_OF_TWO``."""
    picked = site.figures.get(TWO_FIGURE, "")
    return picked if picked in WAYS_OF_TWO else ""


def of_two(lifted: LiftedSet, way: str) -> tuple[float, float]:
    """What each of two people lifts [kg] in that way of taking the handles, the one with more handles first."""
    first, middle, last = lifted.by_handle().values()
    return (first + middle / 2, last + middle / 2) if way == WAYS_OF_TWO[0] else (first + middle, last)


def crew_of(task: PlaceCrew, placed: Mapping[str, tuple[str, ...]], lifted: LiftedSet) -> Crew | None:
    """Who lifts what once every token is on a handle; ``None`` for another drawing, or a token that is elsewhere."""
    on_handles = {token for handle in HANDLES for token in placed.get(handle, ())}
    if not set(HANDLES) <= set(task.spots) or on_handles != {token.id for token in task.tokens}:
        return None
    empty = tuple(handle for handle in HANDLES if not placed.get(handle))
    if empty:
        return Crew({}, (), empty)
    shares = lifted.by_handle()
    by_token = {token: shares[handle] / len(placed[handle]) for handle in HANDLES for token in placed[handle]}
    return Crew(by_token, tuple(_people(task, by_token)))


def _people(task: PlaceCrew, by_token: Mapping[str, float]) -> list[Person]:
    """Each person with the words of his first token, which begin with his name."""
    firsts = {token.person: token.text for token in reversed(task.tokens)}
    return [
        Person(text, sum(by_token[token.id] for token in task.tokens if token.person == person))
        for person, text in sorted(firsts.items())
    ]
