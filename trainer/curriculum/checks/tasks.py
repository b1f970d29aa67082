"""Rules on what a person is asked to do, the same in a lesson's scene and a quiz's item."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import TypeAlias

from trainer.core.checklists import MET
from trainer.core.marking import Functions
from trainer.core.tasks import (
    ChooseAll,
    ChooseOne,
    JudgeDrawing,
    Option,
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
from trainer.core.text import Text
from trainer.curriculum.checks.places import tasks_of
from trainer.curriculum.checks.sheets import sheet_problems
from trainer.curriculum.checks.workout import workout_problems
from trainer.curriculum.loaded import Loaded
from trainer.curriculum.nodes import Path
from trainer.errors import Problem

__all__ = ["answerable", "words_of"]

_FEWEST_ROWS = 3
_FEWEST_STATES = 2

Found: TypeAlias = Iterator[tuple[Path, str, str]]
"""Each problem as (path below the task, what, what to do)."""


def answerable(loaded: Loaded) -> list[Problem]:
    """Tasks that cannot be answered rightly, or not only rightly, or whose options cannot be told apart."""
    return [
        loaded.problem(placed.file, (*placed.path, *path), what, todo)
        for placed in tasks_of(loaded)
        for path, what, todo in _task_problems(placed.task, loaded.functions)
    ]


def _task_problems(task: Task, functions: Functions) -> Found:
    match task:
        case ChooseOne(options=options):
            yield from _one_right(options)
            yield from _options(("options",), options)
        case JudgeDrawing(options=options):
            yield from _one_right(options)
            yield from _options(("options",), options)
            yield from _drawn(options)
        case ChooseAll(options=options):
            yield from _right_and_wrong(("options",), [each.right for each in options])
            yield from _options(("options",), options)
        case PutInOrder(steps=steps):
            yield from _order(steps)
            yield from _plan(task)
        case PointAt(spots=spots):
            yield from _right_and_wrong(("spots",), [each.right for each in spots])
        case PlaceCrew():
            yield from _crew(task)
        case WorkOut():
            yield from workout_problems(task, functions)
        case ReadSheet(options=told):
            yield from _same_words(("options",), told)
            yield from sheet_problems(task)
        case TickSteps(rows=rows):
            yield from _ticked(rows)


def _one_right(options: tuple[Option, ...]) -> Found:
    right = [each.id for each in options if each.right]
    if not right:
        yield ("options",), "no option is right", "write right: true at the one that is"
    elif len(right) > 1:
        yield ("options",), f"{len(right)} options are right: {', '.join(right)}", "make exactly one of them right"
    if len(options) < 2:
        yield ("options",), "fewer than two options", "add one that people really choose"


def _right_and_wrong(path: tuple[str, ...], rights: list[bool]) -> Found:
    if not any(rights):
        yield path, "nothing here is right", "write right: true at each that is"
    if all(rights):
        yield path, "nothing here is wrong", "add at least one with right: false"


def _options(path: tuple[str, ...], options: tuple[Option, ...]) -> Found:
    for each in options:
        if each.text is None:
            yield (*path, each.id), '"text" is missing', "add text: {en: ..., es: ...}"
    yield from _same_words(path, options)


def _same_words(
    path: tuple[str, ...], options: tuple[Option, ...] | tuple[SheetOption, ...] | tuple[TickRow, ...]
) -> Found:
    """Two options that read the same in some language."""
    seen: dict[tuple[str, str], str] = {}
    for each in options:
        for language, sentence in (each.text or {}).items():
            first = seen.setdefault((language, _read_aloud(sentence)), each.id)
            if first != each.id:
                yield (
                    (*path, each.id, "text", language),
                    f'reads the same as "{first}"',
                    "word one of the two differently",
                )


def _read_aloud(sentence: str) -> str:
    return " ".join("".join(c if c.isalnum() else " " for c in sentence.casefold()).split())


def _drawn(options: tuple[Option, ...]) -> Found:
    for each in options:
        if each.picture is None:
            yield ("options", each.id), '"picture" is missing', "add picture: {name: ...}"


def _order(steps: tuple[Option, ...]) -> Found:
    if len(steps) < 3:
        yield ("steps",), "fewer than three steps", "add steps, or ask it another way"
    yield from _options(("steps",), steps)
    for each in steps:
        if not each.right:
            yield ("steps", each.id, "right"), "a wrong step in an order", "leave the step out, or leave right out"


def _ticked(rows: tuple[TickRow, ...]) -> Found:
    """Sheets that are ticked rightly without reading: too short, all alike, or with too little that went otherwise."""
    yield from _same_words(("rows",), rows)
    if len(rows) < _FEWEST_ROWS:
        yield ("rows",), f"fewer than {_FEWEST_ROWS} rows", "add steps of the watch"
    otherwise = [each.state for each in rows if each.state != MET]
    if len(set(otherwise)) < _FEWEST_STATES:
        yield ("rows",), "the rows hardly differ", f"let {_FEWEST_STATES} rows be two other states than met"
    elif len(otherwise) == len(rows):
        yield ("rows",), "no row is met", "let one be met: something always goes well"


def _plan(task: PutInOrder) -> Found:
    """Steps tapped on a picture that stand nowhere on it, and places of no step."""
    steps = {each.id for each in task.steps}
    if task.picture is None:
        for name in task.at:
            yield ("at", name), "a place without a picture", "add picture: {name: ...}, or leave at out"
        return
    for name in steps - set(task.at):
        yield ("at",), f'no place for "{name}"', f"add {name}: the part of the picture where it is done"
    for name in set(task.at) - steps:
        yield ("at", name), "not among the steps", "write the id of a step"


def _crew(task: PlaceCrew) -> Found:
    if not task.layouts:
        yield ("layouts",), "no layout is right", "add at least one"
    for number, layout in enumerate(task.layouts, 1):
        yield from _layout(task, number, layout)
    named = {spot for layout in task.layouts for spot in layout}
    for spot in task.spots:
        if spot not in named and spot not in task.whys:
            yield ("whys",), f'no reason for "{spot}", a wrong place', f"add {spot}: {{en: ..., es: ...}}"
    for spot in task.whys:
        if spot not in task.spots:
            yield ("whys", spot), "not among the spots", "add it to spots or take it out"


def _layout(task: PlaceCrew, number: int, layout: Mapping[str, tuple[str, ...]]) -> Found:
    placed: Counter[str] = Counter()
    for spot, persons in layout.items():
        placed.update(persons)
        if spot not in task.spots:
            yield ("layouts", number, spot), "not among the spots", "add it to spots or take it out"
        if len(persons) > task.at_most:
            yield ("layouts", number, spot), f"{len(persons)} on one spot, at most {task.at_most} fit", "move one"
    owners = Counter(each.person for each in task.tokens)
    # Persons are interchangeable, so only how many tokens each has counts.
    if sorted(placed.values()) != sorted(owners.values()):
        yield ("layouts", number), "does not place every token once", "name each person as often as they have tokens"


def words_of(task: Task) -> Iterator[Text]:
    """The words by which the options of ``task`` are told apart."""
    match task:
        case ChooseOne(options=options) | ChooseAll(options=options) | JudgeDrawing(options=options):
            yield from (each.text for each in options if each.text is not None)
        case PutInOrder(steps=steps):
            yield from (each.text for each in steps if each.text is not None)
        case ReadSheet(options=told):
            yield from (each.text for each in told)
        case TickSteps(rows=rows):
            yield from (each.text for each in rows)
        case _:
            return
