"""Rules on sheets to read: known figures, and on every sheet of an option's grid its own answer, clear to an eye."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import product

from trainer.core.forms import grid
from trainer.core.readings import DRAWINGS, READINGS, Drawing, Figure, reading
from trainer.core.tasks import GRAIN, Grid, ReadSheet
from trainer.curriculum.checks.workout import grid_problems
from trainer.curriculum.nodes import Path

__all__ = ["sheet_problems"]

_MOST_SHEETS = 5_000

Found = Iterator[tuple[Path, str, str]]


def sheet_problems(task: ReadSheet) -> Found:
    """Each problem as (path below the task, what, what to do); the whole grid is tried once all can be read."""
    named = [*_names(task)]
    yield from named
    if named:
        return
    drawing = DRAWINGS[task.drawing]
    for option in task.options:
        if not option.sheets:
            yield ("options", option.id, "sheets"), "never the right one", "add at least one sheet that shows it"
        for number, sheet in enumerate(option.sheets, 1):
            found = [*_figures(drawing, sheet)] or [*_misread(task, option.id, sheet)]
            path: Path = ("options", option.id, "sheets", number)
            yield from (((*path, *below), what, todo) for below, what, todo in found)


def _names(task: ReadSheet) -> Found:
    """The drawing, the reading, and whether the options are answers of it."""
    if task.drawing not in DRAWINGS:
        yield ("drawing",), f'there is no drawing "{task.drawing}"', f"write one of these: {', '.join(DRAWINGS)}"
        return
    known = [name for name, each in READINGS.items() if each.drawing == task.drawing]
    if task.function not in known:
        yield ("function",), f'"{task.drawing}" is not read by "{task.function}"', f"write one of: {', '.join(known)}"
        return
    if len(task.options) < 2:
        yield ("options",), "fewer than two options", "add one that people really choose"
    answers = READINGS[task.function].answers
    for option in task.options:
        if option.id not in answers:
            what = f'"{option.id}" is no answer of {task.function}'
            yield ("options", option.id, "id"), what, f"write one of: {', '.join(answers)}"


def _figures(drawing: Drawing, sheet: Mapping[str, Grid]) -> Found:
    """Figures that the drawing does not have, that cannot be read, or that leave its range."""
    yield from grid_problems(sheet, (), _MOST_SHEETS)
    for name, each in sheet.items():
        figure = drawing.get(name)
        if figure is None or name == GRAIN:
            others = ", ".join(known for known in drawing if known != GRAIN)
            yield (name,), f'there is no figure "{name}" to choose', f"write one of these: {others}"
        elif not [*grid_problems({name: each}, (), _MOST_SHEETS)]:
            yield from _out_of_range(name, figure, grid(each))


def _out_of_range(name: str, figure: Figure, values: tuple[str, ...]) -> Found:
    for value in values:
        if not Fraction(figure.least) <= Fraction(value) <= Fraction(figure.most):
            yield (name,), f"{value} is out of range", f"keep to {figure.least} to {figure.most}"
            return
        if figure.is_whole and Fraction(value).denominator != 1:
            yield (name,), f"{value} is not a whole number", "use whole steps"
            return


def _misread(task: ReadSheet, wanted: str, sheet: Mapping[str, Grid]) -> Found:
    """The first sheet of the grid that has another answer, and the first that is too close to call."""
    told: set[bool] = set()
    for values in product(*(grid(each) for each in sheet.values())):
        figures = dict(zip(sheet, values, strict=True))
        read = reading(task.function, figures)
        is_other = read.key != wanted
        if (is_other or not read.is_clear) and is_other not in told:
            told.add(is_other)
            at = ", ".join(f"{name} {value}" for name, value in figures.items())
            if is_other:
                yield (), f'reads "{read.key}" at {at}', f'narrow the figures until all read "{wanted}"'
            else:
                yield (), f"too close to call at {at}", "keep farther from the limits"
