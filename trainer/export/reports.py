"""What an exporter is given, and the rows that every format of one report shares."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date

from trainer.core.records import Json
from trainer.core.standing import Cell
from trainer.export.titles import Titles
from trainer.export.wording import Says, reason_text

__all__ = [
    "MATRIX_COLUMNS",
    "RECORD_COLUMNS",
    "LedgerHead",
    "MatrixReport",
    "MatrixRow",
    "RecordsReport",
    "matrix_rows",
]

MATRIX_COLUMNS = (
    "hand_id", "name", "position", "crew", "competency", "standing", "due", "do_by", "late", "reason",
)  # fmt: skip
RECORD_COLUMNS = ("record_id", "site", "seq", "at", "day", "by", "hand", "kind", "body", "prev", "hash")

MatrixRow = tuple[str, str, str, str, str, str, date | None, date | str | None, str, str]
"""The values of ``MATRIX_COLUMNS``; ``do_by`` may be ``arrange``, ``late`` is ``yes`` or empty."""


@dataclass(frozen=True, slots=True)
class LedgerHead:
    """The last record of one site's chain: by it a reader sees how much of the ledger an export has seen."""

    site: str
    seq: int
    hash: str
    at: str


@dataclass(frozen=True, slots=True)
class MatrixReport:
    """The matrix of one site on a day; ``shown`` says in words what was left out, empty for nothing.

    ``titles`` and the time ``zone`` are for what is printed.
    """

    site: str
    as_of: date
    cells: tuple[Cell, ...]
    names: Mapping[str, str]
    heads: tuple[LedgerHead, ...]
    version: str
    shown: str = ""
    titles: Titles = field(default_factory=Titles)
    zone: str = "UTC"


@dataclass(frozen=True, slots=True)
class RecordsReport:
    """Records by site, then seq, each with exactly the fields of ``RECORD_COLUMNS``. They are read once."""

    site: str
    records: Iterable[Mapping[str, Json]]
    heads: tuple[LedgerHead, ...]
    version: str


def matrix_rows(report: MatrixReport, words: Says) -> Iterator[MatrixRow]:
    """One row a needed cell, by hand_id, then catalogue order; keys and ids English, the reason in words."""
    for cell in report.cells:
        yield (
            cell.hand,
            report.names.get(cell.hand) or words.say("export.erased"),
            cell.position,
            cell.crew,
            cell.competency,
            cell.standing.value,
            cell.due,
            cell.do_by,
            "yes" if cell.late else "",
            reason_text(cell.reason, words),
        )
