"""What is said about an answer once it is in: a mark and a reason for each thing chosen, left out or misplaced."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from trainer.core.tasks import (
    Answer,
    ChooseAll,
    ChooseOne,
    DrawnTask,
    JudgeDrawing,
    Option,
    Picture,
    PlaceCrew,
    PointAt,
    PutInOrder,
    Spot,
    TickSteps,
    WorkOut,
)
from trainer.core.text import Text

__all__ = ["LATE", "MISSED", "RIGHT", "WRONG", "Hint", "Told", "hint", "told"]

RIGHT = "right"
WRONG = "wrong"
MISSED = "missed"
LATE = ""


@dataclass(frozen=True, slots=True)
class Told:
    """What is said of the option, spot or step called ``id``.

    ``mark`` is ``RIGHT`` or ``WRONG`` of what was chosen, ``MISSED`` of a right one left out. ``then`` and ``picture``
    are what follows from it, in a lesson. ``first`` is the step that has to come before one that stands too early; a
    step that stands late only because others pushed in bears no mark.
    """

    id: str
    mark: str
    why: Text
    then: Text | None = None
    picture: Picture | None = None
    first: str = ""


@dataclass(frozen=True, slots=True)
class Hint:
    """What a lesson says before the next try: enough to learn from, not the whole answer.

    ``left`` is how many right ones are still to be found beside those in ``told``.
    """

    told: tuple[Told, ...]
    left: int = 0


def told(task: DrawnTask, answer: Answer | None) -> tuple[Told, ...]:
    """All that there is to say of ``answer``, in ids, in the task's own order; ``None`` is a blank.

    A step is wrong that stands too early: before another that has to precede it.
    A number to work out has no parts to speak of, and neither has a placing in which every spot is a possible one.
    """
    match task:
        case ChooseOne(options=options) | JudgeDrawing(options=options):
            chosen = (answer,) if isinstance(answer, str) else ()
            return tuple(_of_chosen([(each.id, each) for each in options], chosen))
        case ChooseAll(options=options):
            return tuple(_of_chosen([(each.id, each) for each in options], tuple(answer or ())))
        case PointAt(spots=spots):
            return tuple(_of_chosen([(each.part, each) for each in spots], tuple(answer or ())))
        case PutInOrder(steps=steps):
            return tuple(_of_order(steps, tuple(answer or ())))
        case PlaceCrew(whys=whys):
            return tuple(Told(spot, WRONG, why) for spot, why in whys.items() if spot in (answer or ()))
        case TickSteps(rows=rows):
            ticked = answer if isinstance(answer, Mapping) else {}
            marks = ((row, RIGHT if ticked.get(row.id) == (row.state,) else WRONG) for row in rows)
            return tuple(Told(row.id, mark, row.why, row.then) for row, mark in marks)
        case WorkOut():
            return ()


def _of_chosen(things: Sequence[tuple[str, Option | Spot]], chosen: Sequence[str]) -> Iterator[Told]:
    for name, each in things:
        if name in chosen:
            yield _told(name, RIGHT if each.right else WRONG, each)
        elif each.right:
            yield _told(name, MISSED, each)


def _of_order(steps: Sequence[Option], given: Sequence[str]) -> Iterator[Told]:
    if not given:
        yield from (_told(step.id, WRONG, step) for step in steps)
        return
    for rank, step in enumerate(steps):
        place = given.index(step.id)
        first = next((each.id for each in steps[:rank] if each.id in given[place:]), "")
        mark = WRONG if first else RIGHT if place == rank else LATE
        yield replace(_told(step.id, mark, step), first=first)


def _told(name: str, mark: str, each: Option | Spot) -> Told:
    return Told(name, mark, each.why, each.then, each.picture)


def hint(task: DrawnTask, answer: Answer) -> Hint:
    """What to say of a wrong ``answer``: what was chosen wrongly, else the first thing that was left out."""
    said = told(task, answer)
    wrong = tuple(each for each in said if each.mark == WRONG)
    missed = tuple(each for each in said if each.mark == MISSED)
    match task:
        case ChooseOne() | JudgeDrawing():
            return Hint(wrong)
        case PutInOrder(steps=steps):
            return Hint(_first_early(steps, wrong, tuple(answer)))
        case _ if wrong:
            return Hint(wrong, len(missed))
        case _:
            return Hint(missed[:1], max(0, len(missed) - 1))


def _first_early(steps: Sequence[Option], early: Sequence[Told], given: Sequence[str]) -> tuple[Told, ...]:
    """The first step given that stands too early, with the reason of the one before it; none of a right order."""
    if not early:
        return ()
    each = min(early, key=lambda each: given.index(each.id))
    why = next(step.why for step in steps if step.id == each.first)
    return (replace(each, why=why),)
