"""What may be sent to a browser before an answer is final: the question, never its key.

Ids in content may tell (``take-off``, ``wrong-grip``), so what can be chosen goes out under neutral handles ``o1``,
``o2`` ... in the drawn order, tokens as ``t1``, ``t2`` ... Answers come back in handles and are turned into ids here.
Parts of a picture keep their names beside the handle: the drawing is found by them, and they say what a thing is.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from trainer.core.banks import Item
from trainer.core.beside import BESIDE, beside, pair_of
from trainer.core.checklists import STATES
from trainer.core.forms import DrawnItem
from trainer.core.tasks import (
    Answer,
    ChooseAll,
    ChooseOne,
    JudgeDrawing,
    Option,
    Picture,
    PlaceCrew,
    PointAt,
    PutInOrder,
    ReadSheet,
    SheetOption,
    Task,
    TickRow,
    TickSteps,
    WorkOut,
)
from trainer.core.text import pick
from trainer.errors import BadInput

__all__ = [
    "KINDS",
    "Sheet",
    "Shown",
    "ShownChoice",
    "ShownTask",
    "show",
    "show_task",
    "to_answer",
    "to_handles",
    "worded",
]

KINDS: tuple[tuple[type, str], ...] = (
    (ChooseOne, "choose-one"),
    (ChooseAll, "choose-all"),
    (PutInOrder, "put-in-order"),
    (PointAt, "point-at"),
    (PlaceCrew, "place-crew"),
    (JudgeDrawing, "judge-drawing"),
    (WorkOut, "work-out"),
    (ReadSheet, "read-sheet"),
    (TickSteps, "tick-steps"),
)
"""Each type of task with its name in content and on the way to the browser."""


_NO_FIGURES: Mapping[str, str] = {}
_PLACE = re.compile(r"\{(\w+)\}")


@dataclass(frozen=True, slots=True)
class ShownChoice:
    """One thing to choose, order, point at, stand on or place: its handle, its words, its part or drawing.

    ``person`` says which tokens belong to the same one, ``critical`` which rows are so on a sheet.
    """

    handle: str
    text: str = ""
    part: str = ""
    picture: Picture | None = None
    person: str = ""
    critical: bool = False


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet to be drawn: which drawing, and the figures that it is drawn from."""

    drawing: str
    figures: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class ShownTask:
    """A task without its key. ``at_most`` tokens fit a spot; ``units`` are those of a number to work out, SI first.

    ``sheet`` is what a drawing is made from on our side: the browser gets the drawing, never the figures.
    """

    kind: str
    choices: tuple[ShownChoice, ...] = ()
    tokens: tuple[ShownChoice, ...] = ()
    picture: Picture | None = None
    at_most: int = 0
    units: tuple[str, ...] = ()
    sheet: Sheet | None = None


@dataclass(frozen=True, slots=True)
class Shown:
    """A question as it is shown; ``situation`` stands before it, empty where there is none."""

    text: str
    task: ShownTask
    picture: Picture | None = None
    situation: str = ""


def show(item: Item, drawn: DrawnItem, language: str) -> Shown:
    """``item`` as drawn, in ``language``, without anything that tells the key."""
    task = show_task(item.task, drawn.options, language, drawn.parameters)
    situation = worded(pick(item.situation, language), drawn.parameters) if item.situation else ""
    return Shown(worded(pick(item.text, language), drawn.parameters), task, _unmarked(item.picture), situation)


def worded(sentence: str, parameters: Mapping[str, str]) -> str:
    """``sentence`` with each ``{name}`` of the drawn figures filled in; ``{name_ft}`` and its kin are US beside SI."""
    return _PLACE.sub(lambda place: _figure(place[1], parameters) or place[0], sentence)


def _figure(name: str, parameters: Mapping[str, str]) -> str:
    """What stands at the place ``name``; empty where nothing of that name was drawn."""
    if name in parameters:
        return parameters[name]
    si, _, suffix = name.rpartition("_")
    return beside(parameters[si], BESIDE[suffix]) if si in parameters and suffix in BESIDE else ""


def show_task(
    task: Task, order: tuple[str, ...], language: str, parameters: Mapping[str, str] = _NO_FIGURES
) -> ShownTask:
    """``task`` with what can be chosen in ``order``, a drawn order of its option ids, and its drawn figures."""
    kind = next(name for each, name in KINDS if isinstance(task, each))
    match task:
        case ChooseOne(options=options) | ChooseAll(options=options) | JudgeDrawing(options=options):
            # In a lesson an option's picture is its consequence; only where drawings are judged is it the option.
            return ShownTask(kind, _choices(options, order, language, isinstance(task, JudgeDrawing)))
        case PutInOrder(steps=steps, picture=picture, at=at):
            choices = zip(_choices(steps, order, language, False), order, strict=True)
            placed = tuple(replace(each, part=at[step]) if picture else each for each, step in choices)
            return ShownTask(kind, placed, picture=_unmarked(picture))
        case PointAt(picture=picture):
            return ShownTask(kind, _parts(order), picture=_unmarked(picture))
        case PlaceCrew(tokens=tokens, picture=picture, at_most=at_most):
            shown = tuple(
                ShownChoice(f"t{n}", pick(token.text, language), person=token.person)
                for n, token in enumerate(tokens, start=1)
            )
            return ShownTask(kind, _parts(order), shown, _unmarked(picture), at_most)
        case WorkOut(unit=unit):
            pair = pair_of(unit)
            return ShownTask(kind, units=(unit, pair.us) if pair else (unit,))
        case ReadSheet(drawing=drawing, options=told):
            return ShownTask(kind, _choices(told, order, language, False), sheet=Sheet(drawing, parameters))
        case TickSteps(rows=rows):
            return ShownTask(kind, _rows(rows, order, language))


def _choices(
    options: tuple[Option, ...] | tuple[SheetOption, ...], order: tuple[str, ...], language: str, drawings: bool
) -> tuple[ShownChoice, ...]:
    by_id = {option.id: option for option in options}
    return tuple(
        ShownChoice(
            handle,
            text=pick(option.text, language) if option.text else "",
            picture=_unmarked(option.picture) if drawings and isinstance(option, Option) else None,
        )
        for handle, option in ((handle, by_id[each]) for handle, each in _handles(order).items())
    )


def _rows(rows: tuple[TickRow, ...], order: tuple[str, ...], language: str) -> tuple[ShownChoice, ...]:
    by_id = {row.id: row for row in rows}
    return tuple(
        ShownChoice(handle, pick(by_id[each].text, language), critical=by_id[each].critical)
        for handle, each in _handles(order).items()
    )


def _parts(order: tuple[str, ...]) -> tuple[ShownChoice, ...]:
    return tuple(ShownChoice(handle, part=part) for handle, part in _handles(order).items())


def _handles(order: tuple[str, ...]) -> dict[str, str]:
    """Handle to id, in the drawn order."""
    return {f"o{place}": each for place, each in enumerate(order, start=1)}


def _unmarked(picture: Picture | None) -> Picture | None:
    """The picture without its marks of right and wrong; a mark to look at something stays."""
    if picture is None:
        return None
    return replace(picture, marks={part: mark for part, mark in picture.marks.items() if mark == "look"})


def _tokens(task: Task) -> dict[str, str]:
    """Handle to token id; the states of a sheet are everybody's and go by their own names, other tasks have none."""
    if isinstance(task, TickSteps):
        return {state: state for state in STATES}
    if not isinstance(task, PlaceCrew):
        return {}
    return {f"t{place}": token.id for place, token in enumerate(task.tokens, start=1)}


def to_answer(task: Task, order: tuple[str, ...], answer: Answer) -> Answer:
    """An answer in handles as one in ids. Raises ``BadInput("not-offered")`` for a handle that was not shown."""
    return _renamed(task, answer, _handles(order), _tokens(task))


def to_handles(task: Task, order: tuple[str, ...], answer: Answer) -> Answer:
    """An answer in ids as one in handles, to show a kept answer again."""
    ids = {each: handle for handle, each in _handles(order).items()}
    return _renamed(task, answer, ids, {each: handle for handle, each in _tokens(task).items()})


def _renamed(task: Task, answer: Answer, names: Mapping[str, str], tokens: Mapping[str, str]) -> Answer:
    try:
        match answer:
            case str():
                return answer if isinstance(task, WorkOut) else names[answer]
            case tuple():
                return tuple(names[each] for each in answer)
            case _:
                return {names[spot]: tuple(tokens[each] for each in there) for spot, there in answer.items()}
    except KeyError:
        raise BadInput("not-offered") from None
