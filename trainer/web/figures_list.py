"""The figures of the page, as one table: name, who gets it, and who draws it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from trainer.actions import may
from trainer.core.rig import Rig
from trainer.web import (
    figures_contact,
    figures_grease,
    figures_hanging,
    figures_lift,
    figures_shares,
    figures_stickup,
    figures_stop,
)
from trainer.web.door import Here
from trainer.web.figures_units import Both

__all__ = ["FIGURES", "Figure", "figures_of", "named"]


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure: ``name`` is its address and its words, ``action`` what its reader must be allowed to do."""

    name: str
    draw: Callable[[Here, Rig, Both], None]
    action: str = "reckoning.rig"


FIGURES: tuple[Figure, ...] = (
    Figure("hanging", figures_hanging.draw),
    Figure("stop", figures_stop.draw),
    Figure("shares", figures_shares.draw),
    Figure("lift", figures_lift.draw),
    Figure("contact", figures_contact.draw),
    Figure("stickup", figures_stickup.draw),
    Figure("grease", figures_grease.draw, "reckoning.grease"),
)
"""In the order of the list."""


def figures_of(here: Here) -> tuple[Figure, ...]:
    """The figures that whoever is here may see; the action asks again."""
    return tuple(each for each in FIGURES if may.is_allowed(here.actor.role, each.action))


def named(name: str) -> Figure | None:
    """The figure of that name."""
    return next((each for each in FIGURES if each.name == name), None)
