"""What the parts draw: frozen values of plain strings and numbers, made by views from the catalogue."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["Cell", "Choice", "Column", "Level", "Mark", "Place", "Row", "Spot", "Tick", "Ticked", "Token", "Verdict"]

Mark = Literal["right", "wrong", "missed", ""]
"""``right`` and ``wrong`` speak of what was chosen, ``missed`` of a right one left out; empty only gives a reason."""


Place = Literal["danger", "safe", "fault", "sound", ""]
"""What a place on a picture is, whether or not it was found; empty where only the answer is spoken of."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What is said about one option, spot or step once the answer is in.

    ``said`` are the words of the mark where they are other than its own; ``place`` is what a place on a picture is.
    """

    mark: Mark
    why: str = ""
    said: str = ""
    place: Place = ""


@dataclass(frozen=True, slots=True)
class Choice:
    """One option. ``picture`` is SVG text of ``trainer.pictures``; ``alt`` says it in words."""

    id: str
    text: str
    picture: str = ""
    alt: str = ""


@dataclass(frozen=True, slots=True)
class Spot:
    """One place on a picture: ``x`` and ``y`` in percent of width and height from the upper left corner."""

    id: str
    label: str
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Token:
    """Something to be placed: ``badge`` is the one or two letters on it, ``person`` groups tokens that look alike.

    ``side`` is the short word under the letters that tells one hand of a person from the other. ``note`` stands under
    the token in one or two lines.
    """

    id: str
    label: str
    badge: str
    person: str
    note: tuple[str, ...] = ()
    side: str = ""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of the matrix."""

    id: str
    title: str


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell: ``level`` names a ``Level``, empty where nothing is needed; ``note`` is a short second line."""

    level: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the matrix: ``note`` stands small under the name; one cell a column."""

    id: str
    name: str
    cells: tuple[Cell, ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Level:
    """How cells of one level look: the word, the shape's name in ``look.SHAPES`` and the colour's name."""

    id: str
    word: str
    shape: str
    tone: str


@dataclass(frozen=True, slots=True)
class Tick:
    """One step of an observation sheet; ``group`` is a heading over the steps that share it."""

    id: str
    text: str
    critical: bool = False
    group: str = ""


@dataclass(frozen=True, slots=True)
class Ticked:
    """What the observer put on one step; ``note`` is free text."""

    state: str = ""
    own_act: bool = True
    note: str = ""
