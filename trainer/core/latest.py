"""The last row of each kind for every competency and hand, in one pass over the evidence.

A hand's rows stand in the order in which standing is decided, so "the last" is the greatest row number, a stand-down is
a cut at a row number, and whatever is older than the cut is less than it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import repeat

import numpy as np
import numpy.typing as npt

from trainer.core.columns import EFFECTS, PARTS, EvidenceColumns, Rows
from trainer.core.durations import NO_DAY, Days
from trainer.core.records import Effect, Part

__all__ = ["NO_ROW", "Cells", "Grid", "Latest", "days_of", "grid", "latest", "put_last", "with_no_day"]

NO_ROW = -1

_NO_DAYS = np.array([NO_DAY], dtype=np.int32)

Cells = npt.NDArray[np.int32]
"""Flat numbers of cells, line * columns + column."""


@dataclass(frozen=True, slots=True)
class Grid:
    """Where each evidence row falls among competencies (lines) and hands (columns).

    ``kind`` is the table that a row belongs to: 0 for what changes nothing, is later than the as-of day, or is about a
    competency or hand that is not asked; ``cell`` means nothing there.
    """

    kind: npt.NDArray[np.int8]
    cell: Cells
    shape: tuple[int, int]

    @property
    def size(self) -> int:
        """The number of cells."""
        return self.shape[0] * self.shape[1]

    def passes(self, part: Part) -> tuple[Rows, Cells]:
        """The rows that pass ``part``, in order, and the cell of each."""
        rows = (self.kind == _TABLES.index(part)).nonzero()[0]
        return rows.astype(np.int32), self.cell.take(rows)


@dataclass(frozen=True, slots=True)
class Latest:
    """Tables over the grid's cells, of row numbers: the last stand-down, the last reinstatement after it, the last
    pass of each part later than it. ``is_untried`` where no part was ever passed, also before a stand-down."""

    down: Rows
    up: Rows
    is_untried: npt.NDArray[np.bool_]
    passes: npt.NDArray[np.int32]

    def passed(self, part: Part) -> Rows:
        """The last pass of ``part`` later than the last stand-down."""
        rows: Rows = self.passes[PARTS.index(part)]
        return rows


def grid(evidence: EvidenceColumns, competencies: Sequence[str], hands: Sequence[str], as_of: date) -> Grid:
    """The grid of these competencies and hands, both without doubles, on ``as_of``."""
    line, column = _places(competencies, evidence.competencies), _places(hands, evidence.hands)
    kind, counts = _kinds(evidence, as_of), np.diff(evidence.hand_starts)
    if line.min(initial=0) < 0:
        kind[(line < 0).take(evidence.competency)] = 0
    if column.min(initial=0) < 0:
        kind[np.repeat(column < 0, counts)] = 0
    cell = (np.maximum(line, 0) * np.int32(len(hands))).take(evidence.competency)
    cell += np.repeat(np.maximum(column, 0), counts)
    return Grid(kind, cell, (len(competencies), len(hands)))


def _kinds(evidence: EvidenceColumns, as_of: date) -> npt.NDArray[np.int8]:
    """The table of each row, 0 for what is later than ``as_of``. A fail changes nothing."""
    effect = evidence.effect
    kind: npt.NDArray[np.int8] = evidence.part * (effect == EFFECTS.index(Effect.PASS))
    for each in (Effect.DOWN, Effect.UP):
        kind += (effect == EFFECTS.index(each)) * np.int8(_TABLES.index(each))
    kind *= evidence.day <= np.int32(as_of.toordinal())
    return kind


def _places(asked: Sequence[str], table: Sequence[str]) -> npt.NDArray[np.int32]:
    """For each id of ``table`` its place in what is asked, -1 where it is not there."""
    if tuple(asked) == tuple(table):
        return np.arange(len(table), dtype=np.int32)
    place = {each: number for number, each in enumerate(asked)}
    return np.fromiter(map(place.get, table, repeat(-1)), dtype=np.int32, count=len(table))


def latest(over: Grid) -> Latest:
    """The last row of each kind for each cell of the grid."""
    tables = np.full((len(_TABLES), *over.shape), NO_ROW, dtype=np.int32)
    if over.size:
        place = over.kind.astype(np.int32)
        place *= np.int32(over.size)
        place += over.cell
        put_last(tables.reshape(-1), place, np.arange(len(place), dtype=np.int32))
    passes, down, up = tables[: len(PARTS)], tables[_TABLES.index(Effect.DOWN)], tables[_TABLES.index(Effect.UP)]
    is_untried = passes[1:].max(axis=0) == NO_ROW
    _cut(passes, down)
    # A reinstatement without a stand-down before it changes nothing; one that is older was for an earlier one.
    up[(down == NO_ROW) | (up < down)] = NO_ROW
    return Latest(down, up, is_untried, passes)


def put_last(table: Rows, places: Cells, rows: Rows) -> None:
    """Put each of ``rows``, which rise, at its place: where several have one place, the last is what stays there."""
    # An assignment through an index that names a place twice leaves the last value, and unlike ``np.maximum.at`` waits
    # neither for what stands there nor for other threads.
    table[places] = rows


def _cut(passes: npt.NDArray[np.int32], down: Rows) -> None:
    """Take out of ``passes`` what is older than the last stand-down: few cells have one."""
    cells = (down > NO_ROW).reshape(-1).nonzero()[0]
    if len(cells):
        flat = passes.reshape(len(passes), -1)
        own = flat.take(cells, axis=1)
        flat[:, cells] = np.where(own > down.take(cells), own, np.int32(NO_ROW))


def days_of(days: Days, rows: Rows) -> Days:
    """The day of each row, ``NO_DAY`` where there is no row; ``days`` are as ``with_no_day`` gives them."""
    return days.take(rows)


def with_no_day(days: Days) -> Days:
    """The days with ``NO_DAY`` after them, where "no row" finds it: row -1 is the last."""
    return np.concatenate((days, _NO_DAYS))


_TABLES: tuple[Part | Effect, ...] = (*PARTS, Effect.DOWN, Effect.UP)
"""Part ``NONE`` (the first) takes what changes nothing: fails, and passes of no part."""
