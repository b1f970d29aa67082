"""Consequences bound to the site's own rig: a scene says what a mistake comes to here, not on some rig.

A scene names figures; each is a function of this table, worked out on what the site says of its string, slips and mud
when the scene is shown. What cannot be worked out there is not said: its sentence is left out. Add a consequence by
adding a function and its line in ``CONSEQUENCES``.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType

from trainer.core.beside import rounded
from trainer.core.reckoned import shares
from trainer.core.rig import Rig, SlipSet, drill_pipe_length, sections
from trainer.core.units import US, Kind, from_si, read
from trainer.errors import MechanicsRangeError
from trainer.mechanics import Section, hanging_load, slip_load_history, unseating_speed

__all__ = ["CONSEQUENCES", "BoundFigure", "Consequence", "figure_names", "figures_of", "sentences", "told", "value_of"]


@dataclass(frozen=True, slots=True)
class BoundFigure:
    """A figure of a scene: the consequence's name and its arguments.

    An argument is a number with its unit, as ``1.5 m/s``, or the name of one of the site's figures that holds one.
    """

    function: str
    arguments: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Consequence:
    """What a consequence measures, what its arguments measure, and how it is worked out [SI]."""

    kind: Kind
    work: Callable[..., float]
    arguments: Mapping[str, Kind] = field(default_factory=dict)


def _string(rig: Rig) -> tuple[Section, ...]:
    return sections(rig, drill_pipe_length(rig))


def _heaviest(rig: Rig) -> SlipSet:
    return max(rig.slips.values(), key=lambda each: each.mass)


def load_at_rest(rig: Rig) -> float:
    """What the whole string lays on the slips once everything is still [N]."""
    return hanging_load(_string(rig), rig.mud)


def peak_of_stop(rig: Rig, speed: float) -> float:
    """The highest load on the slips when they stop the whole string at once from ``speed`` [N]."""
    return slip_load_history(_string(rig), rig.mud, speed).peak


def peak_over_rest(rig: Rig, speed: float) -> float:
    """How many times the load at rest that peak is [-]."""
    return peak_of_stop(rig, speed) / load_at_rest(rig)


def throwing_speed(rig: Rig, length: float) -> float:
    """The running-in speed above which a stop at once unloads the slips while ``length`` of drill pipe hangs [m/s]."""
    return unseating_speed(sections(rig, length, with_heavy=False), rig.mud)


def mass_of_set(rig: Rig) -> float:
    """The mass of the heaviest set of slips [kg]."""
    return _heaviest(rig).mass


def _share(rig: Rig, way: str) -> float:
    heaviest = _heaviest(rig)
    return max(shares(heaviest, heaviest.mass, way, heaviest.off_centre).by_person)


def share_of_three(rig: Rig) -> float:
    """The most that one of three carries, a handle each [kg]."""
    return _share(rig, "three")


def share_with_two_handles(rig: Rig) -> float:
    """What one of two carries who has two handles to himself [kg]."""
    return _share(rig, "two-in-turn")


def share_of_two(rig: Rig) -> float:
    """The most that one of two carries, each an end handle and both the middle one [kg]."""
    return _share(rig, "two-share-middle")


CONSEQUENCES: Mapping[str, Consequence] = MappingProxyType(
    {
        "load-at-rest": Consequence(Kind.FORCE, load_at_rest),
        "peak-of-stop": Consequence(Kind.FORCE, peak_of_stop, {"speed": Kind.SPEED}),
        "peak-over-rest": Consequence(Kind.SHARE, peak_over_rest, {"speed": Kind.SPEED}),
        "throwing-speed": Consequence(Kind.SPEED, throwing_speed, {"length": Kind.LENGTH}),
        "mass-of-set": Consequence(Kind.MASS, mass_of_set),
        "share-of-three": Consequence(Kind.MASS, share_of_three),
        "share-with-two-handles": Consequence(Kind.MASS, share_with_two_handles),
        "share-of-two": Consequence(Kind.MASS, share_of_two),
    }
)
"""Every consequence by the name that content gives it."""

_SHOWN: Mapping[Kind, tuple[str, str]] = MappingProxyType(
    {
        Kind.FORCE: ("kN", "klbf"),
        Kind.MASS: ("kg", "lb"),
        Kind.SPEED: ("m/s", "ft/s"),
        Kind.LENGTH: ("m", "ft"),
        Kind.SHARE: ("", ""),
    }
)

_PLACE = re.compile(r"\{figure:([a-z][a-z0-9-]*)\}")
_SENTENCE_END = re.compile(r"(?<=[.!?])\s+")


def value_of(figure: BoundFigure, rig: Rig, site_figures: Mapping[str, str]) -> float:
    """The figure on this rig [SI].

    Raises ``KeyError`` for a consequence that there is not, ``TypeError`` for wrong arguments, ``ValueError`` for one
    that cannot be read, ``MechanicsRangeError`` for what the formula does not cover.
    """
    consequence = CONSEQUENCES[figure.function]
    given = {
        name: read(site_figures.get(written, written), consequence.arguments.get(name, Kind.SHARE))
        for name, written in figure.arguments.items()
    }
    return consequence.work(rig, **given)


def told(value: float, kind: Kind, system: str) -> str:
    """``value`` [SI] with its unit and the other system's beside it: ``464 kN (104 klbf)``."""
    si, us = _SHOWN[kind]
    if si == us:
        return rounded(Fraction(value))
    both = [f"{rounded(Fraction(from_si(value, name, kind)))} {name}" for name in (si, us)]
    first, second = reversed(both) if system == US else both
    return f"{first} ({second})"


def figures_of(
    figures: Mapping[str, BoundFigure], rig: Rig | None, site_figures: Mapping[str, str]
) -> Mapping[str, str]:
    """Each figure by its name, ready to be said; those left out cannot be worked out on this rig."""
    if rig is None:
        return {}
    said = {}
    for name, figure in figures.items():
        try:
            said[name] = told(value_of(figure, rig, site_figures), CONSEQUENCES[figure.function].kind, rig.units)
        except (MechanicsRangeError, ValueError):
            continue
    return said


def figure_names(text: str) -> tuple[str, ...]:
    """The figures that ``text`` has places for."""
    return tuple(dict.fromkeys(_PLACE.findall(text)))


def sentences(text: str, figures: Mapping[str, str]) -> str:
    """``text`` with its figures, without each sentence that has a place for one that is not there."""
    if not _PLACE.search(text):
        return text
    kept = [each for each in _SENTENCE_END.split(text) if set(figure_names(each)) <= figures.keys()]
    return _PLACE.sub(lambda place: figures[place[1]], " ".join(kept))
