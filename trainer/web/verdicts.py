"""What is said beside each part of an answered task: the words of its mark, its reason, and what a place is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import cast

from trainer.core.shown import to_handles
from trainer.core.tasks import (
    DANGER,
    FIT,
    ChooseAll,
    ChooseOne,
    JudgeDrawing,
    PlaceCrew,
    PointAt,
    PutInOrder,
    ReadSheet,
    Task,
    TickSteps,
)
from trainer.core.telling import MISSED, RIGHT, Told
from trainer.core.text import Text
from trainer.web import cached, parts
from trainer.web.parts.shapes import Mark, Place
from trainer.words import Words

__all__ = ["beside", "label_of", "reason", "said_of"]

_FOUND = {RIGHT: "found", MISSED: "not-found"}
_BELONGS = {RIGHT: "belongs", MISSED: "belongs-missed"}


def label_of(task: Task, name: str, words: Words) -> str:
    """What the option, step or spot called ``name`` is called on screen."""
    text: Text | None
    match task:
        case ChooseOne(options=options) | ChooseAll(options=options) | JudgeDrawing(options=options):
            text = next(each.text for each in options if each.id == name)
        case ReadSheet(options=told):
            text = next(each.text for each in told if each.id == name)
        case PutInOrder(steps=steps):
            text = next(each.text for each in steps if each.id == name)
        case TickSteps(rows=rows):
            text = next(each.text for each in rows if each.id == name)
        case PointAt(picture=picture) | PlaceCrew(picture=picture):
            return cached.part_name(picture.name, name, words)
        case _:
            text = None
    return words.pick(text) if text else name


def said_of(task: Task, each: Told, words: Words) -> str:
    """The words of the mark: of a step that it stands too early, of a danger or a fault whether it was found.

    Of one of several options they say whether it is part of the answer: asked for what is amiss, a safe act that was
    taken too would be called not right.
    """
    if not each.mark:
        return ""
    if each.first:
        return words.say("parts.too-early")
    if isinstance(task, PointAt) and task.asks != FIT:
        return words.say(f"parts.{_FOUND.get(each.mark, f'not-{task.asks}')}")
    if isinstance(task, ChooseAll):
        return words.say(f"parts.{_BELONGS.get(each.mark, 'not-belongs')}")
    return words.say(f"parts.{each.mark}")


def reason(task: Task, each: Told, words: Words) -> str:
    """Why; where a step stands too early, first what has to come before it."""
    why = words.pick(each.why)
    if not each.first:
        return why
    return f"{words.say('parts.comes-first', first=label_of(task, each.first, words))} {why}"


def beside(task: Task, order: tuple[str, ...], told: Iterable[Told], words: Words) -> Mapping[str, parts.Verdict]:
    """What stands beside each part, by its handle in ``order``."""
    found = {each.id: _verdict(task, each, words) for each in told}
    if isinstance(task, PointAt) and task.asks != FIT:
        found = _with_places(task, found, words)
    return {_handle(task, order, name): each for name, each in found.items()}


def _verdict(task: Task, each: Told, words: Words) -> parts.Verdict:
    is_single = isinstance(task, ChooseOne | JudgeDrawing | ReadSheet)
    # Where only one can be chosen, "left out" would be an odd thing to say of the right one.
    mark = RIGHT if is_single and each.mark == MISSED else each.mark
    return parts.Verdict(cast("Mark", mark), reason(task, each, words), said_of(task, replace(each, mark=mark), words))


def _with_places(task: PointAt, found: Mapping[str, parts.Verdict], words: Words) -> dict[str, parts.Verdict]:
    """Each spoken of with what it is. Once all that was asked for is told, the other places are told as well."""
    bad, good = ("danger", "safe") if task.asks == DANGER else ("fault", "sound")
    is_all_told = all(each.part in found for each in task.spots if each.right)
    return {
        each.part: replace(
            found.get(each.part, parts.Verdict("", words.pick(each.why))),
            place=cast("Place", bad if each.right else good),
        )
        for each in task.spots
        if is_all_told or each.part in found
    }


def _handle(task: Task, order: tuple[str, ...], name: str) -> str:
    return cast("tuple[str, ...]", to_handles(task, order, (name,)))[0]
