"""The last row of each kind for every competency and hand, in one pass over the evidence.

Rows stand in the order in which standing is decided, so "the last" is the greatest row number, a stand-down is a cut
at a row number, and whatever is older than the cut is less than it.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
import numpy.typing as npt

from trainer.core.columns import EFFECTS, PARTS, EvidenceColumns, Rows
from trainer.core.durations import NO_DAY, Days
from trainer.core.records import Effect, Part

__all__ = ["NO_ROW", "Cells", "Grid", "Latest", "days_of", "grid", "latest"]

NO_ROW = -1

Cells = npt.NDArray[np.intp]
"""Flat numbers of cells, competency * columns + hand."""

_CHUNK = 1 << 18
"""Rows at once: what is made on the way stays within a few megabytes."""


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
        found: Cells = self.evidence.competency[rows].astype(np.intp)
        found *= self.shape[1]
        found += self.evidence.hand[rows]
        return found

    def passes(self, part: Part) -> Rows:
        """The rows, in order, that pass ``part``."""
        is_part = self.evidence.part[: self.stop] == PARTS.index(part)
        is_part &= self.evidence.effect[: self.stop] == EFFECTS.index(Effect.PASS)
        return np.flatnonzero(is_part).astype(np.int32)


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
    for start in range(0, over.stop, _CHUNK):
        rows = slice(start, min(start + _CHUNK, over.stop))
        index = _TABLE_OF[evidence.effect[rows] * np.int8(len(PARTS)) + evidence.part[rows]]
        index *= size
        index += over.cells(rows)
        np.maximum.at(table, index, np.arange(rows.start, rows.stop, dtype=np.int32))
    tables = table.reshape(len(_TABLES), size)
    down, up = tables[_TABLES.index(Effect.DOWN)], tables[_TABLES.index(Effect.UP)]
    # A reinstatement without a stand-down before it changes nothing; one that is older was for an earlier one.
    is_back = (down > NO_ROW) & (up > down)
    return Latest(down, np.where(is_back, up, np.int32(NO_ROW)), tables[: len(PARTS)])


def days_of(days: Days, rows: Rows) -> Days:
    """The day of each row, ``NO_DAY`` where there is no row."""
    found = np.full(rows.shape, NO_DAY, dtype=np.int32)
    is_row = rows > NO_ROW
    found[is_row] = days[rows[is_row]]
    return found


_TABLES: tuple[Part | Effect, ...] = (*PARTS, Effect.DOWN, Effect.UP)
"""Part ``NONE`` (the first) takes what changes nothing: fails, and passes of no part."""


def _table_of(effect: Effect, part: Part) -> int:
    if effect is Effect.FAIL:
        return 0
    return _TABLES.index(part if effect is Effect.PASS else effect)


_TABLE_OF = np.array([_table_of(effect, part) for effect in EFFECTS for part in PARTS], dtype=np.intp)

