"""The last row of each kind for every competency and hand, in one pass over the evidence.

Rows stand in the order in which standing is decided, so "the last" is the greatest row number, a stand-down is a cut
at a row number, and whatever is older than the cut is less than it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

import numpy as np
import numpy.typing as npt

from trainer.core.columns import EFFECTS, PARTS, EvidenceColumns, Rows
from trainer.core.durations import NO_DAY, Days
from trainer.core.records import Effect, Part

__all__ = ["NO_ROW", "Cells", "Grid", "Latest", "days_of", "grid", "latest"]

NO_ROW = -1

Cells = npt.NDArray[np.int32]
"""Flat numbers of cells, competency * columns + hand."""

_CHUNK = 1 << 17


@dataclass(frozen=True, slots=True)
class Grid:
    """Where each evidence row falls, over all competencies and hands of the evidence.

    Rows from ``stop`` on are later than the as-of day.
    """

    evidence: EvidenceColumns
    stop: int

    @property
    def shape(self) -> tuple[int, int]:
        """Competencies and hands."""
        return len(self.evidence.competencies), len(self.evidence.hands)

    @property
    def size(self) -> int:
        """The number of cells."""
        return self.shape[0] * self.shape[1]

    def cells(self, rows: slice | Rows) -> Cells:
        """The cell of each of ``rows``."""
        found: Cells = self.evidence.competency[rows] * np.int32(self.shape[1])
        found += self.evidence.hand[rows]
        return found

    def chunks(self) -> Iterator[slice]:
        """The rows up to the as-of day in slices that keep what is made on the way within a few megabytes."""
        for start in range(0, self.stop, _CHUNK):
            yield slice(start, min(start + _CHUNK, self.stop))

    def passes(self, part: Part, is_open: npt.NDArray[np.bool_]) -> tuple[Rows, Cells]:
        """The rows, in order, that pass ``part`` in the cells that are open, and the cell of each."""
        rows: list[Rows] = []
        cells: list[Cells] = []
        for chunk in self.chunks() if is_open.any() else ():
            is_pass = self.evidence.part[chunk] == PARTS.index(part)
            is_pass &= self.evidence.effect[chunk] == EFFECTS.index(Effect.PASS)
            found = (np.flatnonzero(is_pass) + chunk.start).astype(np.int32)
            own = self.cells(found)
            is_asked = is_open[own]
            rows.append(found[is_asked])
            cells.append(own[is_asked])
        none = np.zeros(0, dtype=np.int32)
        return np.concatenate([none, *rows]), np.concatenate([none, *cells])


@dataclass(frozen=True, slots=True)
class Latest:
    """Flat tables over the grid's cells, of row numbers: the last stand-down, reinstatement, pass of each part."""

    down: Rows
    up: Rows
    passes: npt.NDArray[np.int32]

    def passed(self, part: Part) -> Rows:
        """The last pass of ``part`` later than the last stand-down."""
        rows: Rows = self.passes[PARTS.index(part)]
        return np.where(rows > self.down, rows, np.int32(NO_ROW))

    def ever(self) -> Rows:
        """The last pass of any part, also before a stand-down."""
        rows: Rows = self.passes[1:].max(axis=0)
        return rows


def grid(evidence: EvidenceColumns, as_of: date) -> Grid:
    """The grid of the rows with a day on or before ``as_of``."""
    return Grid(evidence, evidence.up_to(as_of))


def latest(over: Grid) -> Latest:
    """The last row of each kind for each cell of the grid."""
    size, evidence = over.size, over.evidence
    table = np.full(len(_TABLES) * size, NO_ROW, dtype=np.int32)
    start_of = _TABLE_OF * np.int32(size)
    for chunk in over.chunks():
        place = start_of[evidence.effect[chunk] * np.int8(len(PARTS)) + evidence.part[chunk]]
        place += over.cells(chunk)
        np.maximum.at(table, place, np.arange(chunk.start, chunk.stop, dtype=np.int32))
    tables = table.reshape(len(_TABLES), size)
    down, up = tables[_TABLES.index(Effect.DOWN)], tables[_TABLES.index(Effect.UP)]
    # A reinstatement without a stand-down before it changes nothing; one that is older was for an earlier one.
    is_back = (down > NO_ROW) & (up > down)
    return Latest(down, np.where(is_back, up, np.int32(NO_ROW)), tables[: len(PARTS)])


def days_of(days: Days, rows: Rows) -> Days:
    """The day of each row, ``NO_DAY`` where there is no row."""
    if not len(days):
        return np.full(rows.shape, NO_DAY, dtype=np.int32)
    return np.where(rows == NO_ROW, np.int32(NO_DAY), days.take(rows, mode="clip"))


_TABLES: tuple[Part | Effect, ...] = (*PARTS, Effect.DOWN, Effect.UP)
"""Part ``NONE`` (the first) takes what changes nothing: fails, and passes of no part."""


def _table_of(effect: Effect, part: Part) -> int:
    if effect is Effect.FAIL:
        return 0
    return _TABLES.index(part if effect is Effect.PASS else effect)


_TABLE_OF = np.array([_table_of(effect, part) for effect in EFFECTS for part in PARTS], dtype=np.int32)
