"""What a person is asked to do, in a lesson's scene or a quiz's item: one frozen type a kind.

A lesson also shows what follows from each choice (``then``, ``picture``, ``go``); a quiz leaves those out.
Answers, as drafts and records hold them (``Answer``):

==============  ======================================================================================
choose-one      the option's id
choose-all      the ids chosen, sorted
put-in-order    all ids in the order given
point-at        the parts pointed at, sorted
place-crew      spot -> tokens placed there, sorted; a token left over is in no list
judge-drawing   the option's id (each option is a drawing)
work-out        the number as typed, a string; ``66 lb`` where the US unit was chosen; a decimal comma is understood
read-sheet      the option's id
tick-steps      row -> the one state ticked there
==============  ======================================================================================
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from trainer.core.text import Text

__all__ = [
    "ASKS",
    "DANGER",
    "FAULT",
    "FIT",
    "GRAIN",
    "Answer",
    "ChooseAll",
    "ChooseOne",
    "DrawnTask",
    "Grid",
    "JudgeDrawing",
    "Option",
    "Picture",
    "PlaceCrew",
    "PointAt",
    "PutInOrder",
    "ReadSheet",
    "SheetOption",
    "Spot",
    "Task",
    "TickRow",
    "TickSteps",
    "Token",
    "WorkOut",
]

Answer = str | tuple[str, ...] | Mapping[str, tuple[str, ...]]

Grid = tuple[str, str, int]
"""The values that a drawn figure may take: the lowest and the step, as decimal strings, and how many there are."""

FIT = "fit"
DANGER = "danger"
FAULT = "fault"
ASKS = (FIT, DANGER, FAULT)
"""What a picture may be pointed at for: what fits, where it is dangerous, or what is not in order."""

GRAIN = "grain"
"""The figure that every drawn sheet has: it scatters its marks, so that no two look alike."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing from assets/pictures and the state it is shown in; ``marks`` maps parts to right, wrong or look.

    ``move`` names a motion of the drawing: it is shown, and played where it is only looked at.
    """

    name: str
    show: tuple[str, ...] = ()
    hide: tuple[str, ...] = ()
    marks: Mapping[str, str] = field(default_factory=dict)
    move: str = ""


@dataclass(frozen=True, slots=True)
class Option:
    """One thing that can be chosen.

    ``why`` is its own reason, right or wrong; ``then`` is what follows, told in a lesson; ``picture`` is the drawing
    of that consequence (or, in judge-drawing, the option itself); ``go`` names a scene to play next.
    """

    id: str
    right: bool
    why: Text
    text: Text | None = None
    then: Text | None = None
    picture: Picture | None = None
    go: str | None = None


@dataclass(frozen=True, slots=True)
class ChooseOne:
    """Choose the one right option."""

    options: tuple[Option, ...]


@dataclass(frozen=True, slots=True)
class ChooseAll:
    """Choose every right option and no other."""

    options: tuple[Option, ...]


@dataclass(frozen=True, slots=True)
class PutInOrder:
    """Put the steps in order; ``steps`` stand in the right order, each with the reason for its place.

    With a ``picture`` they are tapped on it, one after the other: ``at`` gives each step the part where it is done.
    """

    steps: tuple[Option, ...]
    picture: Picture | None = None
    at: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Spot:
    """A named part of the picture that can be pointed at, whether it should be, and why."""

    part: str
    right: bool
    why: Text
    then: Text | None = None
    picture: Picture | None = None


@dataclass(frozen=True, slots=True)
class PointAt:
    """Point at every right part of the picture and no other.

    ``asks`` is one of ``ASKS``. Where the right parts are dangers or faults they are drawn as that afterwards, and
    whether they were found is said apart from it: else a tick would stand on the place that crushes a hand.
    """

    picture: Picture
    spots: tuple[Spot, ...]
    # How an answer is drawn, not what is asked: older records name the wording that they were played in.
    asks: str = field(default=FIT, metadata={"is_wording": False})


@dataclass(frozen=True, slots=True)
class Token:
    """Something to be placed: a person, or one hand of a person. Tokens of one ``person`` are interchangeable."""

    id: str
    person: str
    text: Text


@dataclass(frozen=True, slots=True)
class PlaceCrew:
    """Place every token on a spot.

    ``layouts`` are the right ones: spot -> persons there. A person's name does not matter, only who is the same
    person: a layout fits when some renaming of the persons gives it. ``spots`` that no layout names are wrong places,
    with their reason in ``whys``.
    """

    picture: Picture
    tokens: tuple[Token, ...]
    spots: tuple[str, ...]
    layouts: tuple[Mapping[str, tuple[str, ...]], ...]
    whys: Mapping[str, Text]
    why: Text
    at_most: int = 2


@dataclass(frozen=True, slots=True)
class JudgeDrawing:
    """Choose the one drawing that fits the question; each option carries a picture and, for a reader, its words."""

    options: tuple[Option, ...]


@dataclass(frozen=True, slots=True)
class WorkOut:
    """Work out a number from drawn parameters.

    ``function`` names a function of ``trainer.mechanics`` in the registry (never evaluated as code); ``parameters``
    maps a name to (low, step, count) as decimal strings; right within ``max(absolute, relative * |key|)``;
    ``mistakes`` are the named functions that the commonest mistakes amount to.
    """

    function: str
    parameters: Mapping[str, Grid]
    unit: str
    absolute: str
    relative: str
    mistakes: Mapping[str, Text]
    why: Text


@dataclass(frozen=True, slots=True)
class SheetOption:
    """One thing that may be said of a drawn sheet.

    ``sheets`` are the sheets of which it is right: figure -> grid, each as likely as the others. ``why`` says how such
    a sheet looks, so that it reads well both beside a right choice and beside a wrong one; ``then`` is what follows
    when it is chosen of another sheet, told in a lesson.
    """

    id: str
    text: Text
    why: Text
    sheets: tuple[Mapping[str, Grid], ...]
    then: Text | None = None


@dataclass(frozen=True, slots=True)
class ReadSheet:
    """Read a sheet drawn for this person alone, and choose what is to be said of it.

    ``drawing`` and ``function`` name a drawing and a reading of ``core.readings``; the ids of the options are answers
    of that reading. Each option is as likely to be the right one as any other. ``core.sheets.as_drawn`` makes the
    choice of it that it is once its figures are drawn.
    """

    drawing: str
    function: str
    options: tuple[SheetOption, ...]


@dataclass(frozen=True, slots=True)
class TickRow:
    """One step of the watch that is told: the ``state`` that it is to be ticked with, one of ``checklists.STATES``.

    ``why`` says by which of the things told; ``then`` is what follows from another tick, told in a lesson.
    """

    id: str
    text: Text
    state: str
    why: Text
    critical: bool = False
    then: Text | None = None


@dataclass(frozen=True, slots=True)
class TickSteps:
    """Tick the sheet of a watch that the question tells: every row with its state. Rows keep their order."""

    rows: tuple[TickRow, ...]


DrawnTask = ChooseOne | ChooseAll | PutInOrder | PointAt | PlaceCrew | JudgeDrawing | WorkOut | TickSteps
"""What can be marked and told about once its figures are drawn."""

Task = DrawnTask | ReadSheet
