"""Rules on numbers to work out: readable parameters, a known function, and a tolerance that no mistake fits into."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from fractions import Fraction
from inspect import signature

from trainer.core.beside import BESIDE
from trainer.core.marking import Functions, uncertain, unlike_in_us
from trainer.core.tasks import Grid, WorkOut
from trainer.curriculum.nodes import Path

__all__ = ["grid_problems", "us_problems", "workout_problems"]

_MOST_CASES = 20_000


def workout_problems(task: WorkOut, functions: Functions) -> Iterator[tuple[Path, str, str]]:
    """Each problem as (path below the task, what, what to do); the whole grid is tried once all can be read."""
    found = [*_unreadable(task), *_unknown(task, functions)]
    found = found or [*_other_arguments(task, functions)]
    yield from found
    if not found:
        yield from _too_close(task, functions)


def _unreadable(task: WorkOut) -> Iterator[tuple[Path, str, str]]:
    for name, written in (("absolute", task.absolute), ("relative", task.relative)):
        if not _is_decimal(written):
            yield (name,), *_no_number(written)
    if _is_decimal(task.absolute) and _is_decimal(task.relative) and not _has_tolerance(task):
        yield ("absolute",), "no tolerance", "make absolute or relative more than 0"
    yield from grid_problems(task.parameters, ("parameters",), _MOST_CASES)


def grid_problems(figures: Mapping[str, Grid], path: Path, most: int) -> Iterator[tuple[Path, str, str]]:
    """Figures below ``path`` that no values can be drawn for, and more than ``most`` cases in all."""
    cases = 1
    for name, (low, step, count) in figures.items():
        cases *= count
        for place, written in enumerate((low, step), 1):
            if not _is_decimal(written):
                yield (*path, name, place), *_no_number(written)
        if count < 1:
            todo = "make the third figure, how many values there are, at least 1"
            yield (*path, name), "no value to draw", todo
    if cases > most:
        yield path, f"{cases} cases are too many to try", f"keep below {most}"


def _no_number(written: str) -> tuple[str, str]:
    return f'expected a number, got "{written}"', "write e.g. 0.5"


def _is_decimal(written: str) -> bool:
    whole, _, part = written.removeprefix("-").partition(".")
    return written.isascii() and whole.isdigit() and (part.isdigit() or "." not in written)


def _has_tolerance(task: WorkOut) -> bool:
    return Fraction(task.absolute) > 0 or Fraction(task.relative) > 0


def _unknown(task: WorkOut, functions: Functions) -> Iterator[tuple[Path, str, str]]:
    known = ", ".join(functions) or "none"
    wanted = (("function",), task.function), *((("mistakes", name), name) for name in task.mistakes)
    for path, name in wanted:
        if name not in functions:
            yield path, f'there is no function "{name}"', f"write one of these: {known}"


def _other_arguments(task: WorkOut, functions: Functions) -> Iterator[tuple[Path, str, str]]:
    """Functions that do not take exactly the figures drawn."""
    wanted = (("function",), task.function), *((("mistakes", name), name) for name in task.mistakes)
    for path, name in wanted:
        taken = set(signature(functions[name]).parameters)
        if taken != set(task.parameters):
            yield path, f'"{name}" takes other figures', f"draw these: {', '.join(sorted(taken))}"


def us_problems(task: WorkOut, named: Collection[str], functions: Functions) -> Iterator[tuple[Path, str, str]]:
    """The first case in which the US figures that the question ``named`` (as ``length_ft``) lead to another answer."""
    pairs = {name: pair for name in task.parameters for suffix, pair in BESIDE.items() if f"{name}_{suffix}" in named}
    if pairs and not [*_unreadable(task), *_unknown(task, functions), *_other_arguments(task, functions)]:
        case = next(unlike_in_us(task, pairs, functions), None)
        if case is not None:
            drawn = ", ".join(f"{name} {value}" for name, value in case.parameters.items())
            yield (), f"worked with the US figures it is marked wrong at {drawn}", "widen the tolerance"


def _too_close(task: WorkOut, functions: Functions) -> Iterator[tuple[Path, str, str]]:
    """The first case in which each function cannot be marked fairly."""
    told: set[str] = set()
    for case in uncertain(task, functions):
        if case.function not in told:
            told.add(case.function)
            drawn = ", ".join(f"{name} {value}" for name, value in case.parameters.items())
            if case.function == task.function:
                yield ("function",), f"gives no number at {drawn}", "narrow the parameters"
            else:
                yield (
                    ("mistakes", case.function),
                    f"passes as right, or gives no number, at {drawn}",
                    "make the tolerance smaller or narrow the parameters",
                )
