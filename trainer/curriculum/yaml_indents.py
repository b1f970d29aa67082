"""Lines that begin too far to the left or to the right: which one it is, and how far to move it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

__all__ = ["misplaced"]

_STEP = 2


@dataclass(frozen=True, slots=True)
class _Line:
    """A line with words on it: its number from 0, the column of its ``-`` if it has one, and that of its first word.

    ``is_open`` where nothing stands after its colon, so that something may follow below it.
    """

    number: int
    dash: int | None
    word: int
    is_open: bool

    @property
    def begins(self) -> int:
        """The column of the first thing on it."""
        return self.word if self.dash is None else self.dash


def misplaced(lines: Sequence[str], at: int) -> tuple[int, str, str] | None:
    """The line from 1, what is wrong and what to do, where line ``at``, from 0, does not stand as those round it do."""
    here = _read(lines, at)
    above = _next(lines, at, -1)
    if here is None or above is None:
        return None
    # The line above belonged below the one over it, and what belongs below it stands right.
    over = _next(lines, above.number, -1)
    if over is not None and over.is_open and above.dash is None and above.begins == over.word < here.begins:
        return _moved(above, above.begins + _STEP)
    below = _next(lines, at, 1)
    if here.dash is None and above.dash is not None and below is not None and here.word == below.word != above.word:
        return _moved(above, above.begins + here.word - above.word)
    wanted = _columns(lines, at, is_dash=here.dash is not None)
    if here.begins in wanted or not wanted:
        return None
    # Between two that are as near, that of the line just above is the likelier.
    return _moved(here, min(wanted, key=lambda column: (abs(column - here.begins), wanted.index(column))))


def _moved(line: _Line, column: int) -> tuple[int, str, str]:
    by = column - line.begins
    blanks = f"{abs(by)} blank{'' if abs(by) == 1 else 's'}"
    side, other = ("right", "left") if by < 0 else ("left", "right")
    what = f"this line begins {blanks} too far to the {side}, so it does not line up with those round it"
    return line.number + 1, what, f"move it {blanks} to the {other}"


def _read(lines: Sequence[str], number: int) -> _Line | None:
    line = lines[number]
    rest = line.lstrip(" ")
    if not rest or rest.startswith("#"):
        return None
    begins = len(line) - len(rest)
    is_open = rest.rstrip().endswith(":")
    if not rest.startswith("- "):
        return _Line(number, None, begins, is_open)
    return _Line(number, begins, len(line) - len(rest[1:].lstrip(" ")), is_open)


def _next(lines: Sequence[str], number: int, way: int) -> _Line | None:
    number += way
    while 0 <= number < len(lines):
        found = _read(lines, number)
        if found is not None:
            return found
        number += way
    return None


def _columns(lines: Sequence[str], at: int, *, is_dash: bool) -> list[int]:
    """Where a line at ``at`` could begin among its like, by the lines above that are still open; the nearest first."""
    found: list[int] = []
    limit = None
    for number in range(at - 1, -1, -1):
        line = _read(lines, number)
        if line is None or (limit is not None and line.begins >= limit):
            continue
        columns = [line.dash] if is_dash else [line.word]
        found += [each for each in columns if each is not None and each not in found]
        limit = line.begins
    return found
