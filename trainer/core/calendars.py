"""Durations as tables over the days that occur: for hundreds of thousands of cells each costs one look-up.

The days between the first and the last of some evidence are few against its cells, so each duration is worked out once
a day and not once a cell. The tables are kept, because the next fold asks for the same ones.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from trainer.core.durations import NO_DAY, Days, Duration, after_each

__all__ = ["Calendar", "Moves", "calendar"]

_WINDOW = 4096
"""Days that a table grows by: eleven years, so that a day later the same tables serve."""

_MOST_WINDOWS = 16


@dataclass(frozen=True, slots=True)
class Moves:
    """Days moved by a duration of their own line each, arrays (lines, columns); no day stays none.

    ``table`` holds a stretch for every different duration, ``starts`` where each line's stretch begins.
    """

    table: Days
    starts: npt.NDArray[np.intp]

    def of(self, places: npt.NDArray[np.intp]) -> Days:
        """The days that ``Calendar.places`` stand for, moved."""
        return self.table.take(places + self.starts)


@dataclass(frozen=True, slots=True)
class Calendar:
    """All days that occur, in order: from ``first`` every one, or with ``listed`` just these; place 0 is no day."""

    first: int
    count: int
    listed: Days | None = None

    def places(self, days: Days) -> npt.NDArray[np.intp]:
        """The place of each day, all of which must be of this calendar or none."""
        if self.listed is not None:
            return np.searchsorted(self.listed, days)
        places = days.astype(np.intp)
        places -= self.first - 1
        return np.maximum(places, 0, out=places)

    def after(self, durations: Sequence[Duration | None], nothing: int = NO_DAY) -> Moves:
        """``durations.after_each`` by a duration a line; ``nothing`` on every day of a line without one."""
        if self.listed is not None:
            return _moves(self.listed, tuple(durations), nothing)
        return _kept_moves(self.first, self.count, tuple(durations), nothing)


def calendar(days: Iterable[Days]) -> Calendar:
    """The calendar of all these days."""
    given = [each for each in days if each.size]
    if not given:
        return Calendar(1, 1)
    first, last = min(int(each.min()) for each in given), max(int(each.max()) for each in given)
    start = (max(first, 1) - 1) // _WINDOW * _WINDOW + 1
    windows = max(last - start, 0) // _WINDOW + 1
    if windows > _MOST_WINDOWS:
        # A day centuries away, a slip of the pen: tables over everything between would take more than the evidence.
        listed = np.unique(np.concatenate([[NO_DAY], *(np.unique(each) for each in given)]))
        return Calendar(0, 0, listed.astype(np.int32))
    return Calendar(start, windows * _WINDOW)


@lru_cache(maxsize=256)
def _kept_moves(first: int, count: int, durations: tuple[Duration | None, ...], nothing: int) -> Moves:
    every_day = np.arange(first - 1, first + count, dtype=np.int32)
    every_day[0] = NO_DAY
    return _moves(every_day, durations, nothing)


def _moves(days: Days, durations: tuple[Duration | None, ...], nothing: int) -> Moves:
    stretches = {each: _moved(days, each, nothing) for each in durations}
    start_of = {each: number * len(days) for number, each in enumerate(stretches)}
    table = np.concatenate([np.zeros(0, dtype=np.int32), *stretches.values()])
    starts = np.array([start_of[each] for each in durations], dtype=np.intp).reshape(-1, 1)
    for each in (table, starts):
        each.setflags(write=False)
    return Moves(table, starts)


def _moved(days: Days, duration: Duration | None, nothing: int) -> Days:
    return np.full(len(days), nothing, dtype=np.int32) if duration is None else after_each(days, duration)
