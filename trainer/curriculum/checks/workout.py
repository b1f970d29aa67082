"""Rules on numbers to work out: readable parameters, a known function, and a tolerance that no mistake fits into."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from trainer.core.marking import Functions, uncertain
from trainer.core.tasks import WorkOut
from trainer.curriculum.nodes import Path

__all__ = ["workout_problems"]

_MOST_CASES = 20_000


def workout_problems(task: WorkOut, functions: Functions) -> Iterator[tuple[Path, str, str]]:
    """Each problem as (path below the task, what, what to do); the whole grid is tried once all can be read."""
    found = [*_unreadable(task), *_unknown(task, functions)]
    yield from found
    if not found:
        yield from _too_close(task, functions)


def _unreadable(task: WorkOut) -> Iterator[tuple[Path, str, str]]:
    for path, written in _decimals(task):
        if not _is_decimal(written):
            yield path, f'expected a number, got "{written}"', "write e.g. 0.5"
    if _is_decimal(task.absolute) and _is_decimal(task.relative) and not _has_tolerance(task):
        yield ("absolute",), "no tolerance", "make absolute or relative more than 0"
    cases = 1
    for name, (_, _, count) in task.parameters.items():
        cases *= count
        if count < 1:
            yield (
                ("parameters", name),
                "no value to draw",
                "make the third figure, how many values there are, at least 1",
            )
    if cases > _MOST_CASES:
        yield ("parameters",), f"{cases} cases are too many to try", f"keep below {_MOST_CASES}"


def _decimals(task: WorkOut) -> Iterator[tuple[Path, str]]:
    yield ("absolute",), task.absolute
    yield ("relative",), task.relative
    for name, (low, step, _) in task.parameters.items():
        yield ("parameters", name, 1), low
        yield ("parameters", name, 2), step


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
