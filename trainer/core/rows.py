"""Rows of an imported table as the actions take them: a number for messages and text by column, nothing decided yet."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from datetime import date

from trainer.errors import BadCell

__all__ = ["ColumnSet", "Table", "TableRow", "chosen_id", "comparable", "guarded", "read_day", "tidy", "unguarded"]

_FORMULA_SIGNS = tuple("=+-@\t\r\n＝＋－＠")

_ISO_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_EITHER_ORDER = re.compile(r"\d{1,2}[/.\-]\d{1,2}[/.\-]\d{2,4}")
_FIRST_YEAR, _LAST_YEAR = 1950, 2100


@dataclass(frozen=True, slots=True)
class ColumnSet:
    """The columns of one kind of table, in the order in which they are documented; all but ``required`` may lack."""

    names: tuple[str, ...]
    required: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row: ``number`` counts as a spreadsheet does (the header is row 1), ``cells`` holds text by column.

    ``flaws`` are what was wrong with it before anybody asked what it says, kept so that one run tells all.
    """

    number: int
    cells: Mapping[str, str]
    flaws: tuple[BadCell, ...] = field(default=())

    def get(self, column: str) -> str:
        """The text in ``column``, empty where the cell is empty or the table has no such column."""
        return self.cells.get(column, "")

    def has(self, column: str) -> bool:
        """Whether the table has ``column`` at all: an absent column says nothing, an empty cell says empty."""
        return column in self.cells

    def bad(self, column: str, code: str, **values: str) -> BadCell:
        """A bad cell of this row; ``code`` names the sentence under ``import:`` in the words."""
        return BadCell(self.number, column, self.get(column), code, tuple(values.items()))


@dataclass(frozen=True, slots=True)
class Table:
    """A table that was read: its rows in file order and the columns that nobody asked for."""

    rows: tuple[TableRow, ...]
    ignored: tuple[str, ...] = ()


def tidy(text: str) -> str:
    """``text`` NFC-normalised, without blanks round it, each run of blanks and line breaks one blank."""
    return " ".join(unicodedata.normalize("NFC", text).split())


def chosen_id(text: str, ids: Collection[str]) -> str:
    """The one of ``ids`` that ``text`` writes, also as people do (``Assistant driller``); else ``text`` itself."""
    spelt = "-".join(text.casefold().replace("_", " ").replace("-", " ").split())
    return spelt if text not in ids and spelt in ids else text


def guarded(text: str) -> str:
    """``text`` with ``'`` before it when a spreadsheet would compute it; ``unguarded`` gives the same text back."""
    return f"'{text}" if text.lstrip("'").startswith(_FORMULA_SIGNS) else text


def unguarded(text: str) -> str:
    """``text`` without the ``'`` that ``guarded`` put before it."""
    return text[1:] if text.startswith("'") and text.lstrip("'").startswith(_FORMULA_SIGNS) else text


def comparable(text: str) -> str:
    """``text`` as two spellings of one name are compared: no case, no accents, no doubled blanks."""
    bare = unicodedata.normalize("NFKD", tidy(text).casefold())
    return "".join(each for each in bare if not unicodedata.combining(each))


def read_day(row: TableRow, column: str) -> date | BadCell | None:
    """The civil date in ``column``, ``None`` when empty, or the bad cell: only ``YYYY-MM-DD`` is not ambiguous."""
    text = row.get(column)
    if not text:
        return None
    if _EITHER_ORDER.fullmatch(text):
        return row.bad(column, "day-order")
    if not _ISO_DAY.fullmatch(text):
        return row.bad(column, "day-form")
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return row.bad(column, "day-none")
    return day if _FIRST_YEAR <= day.year <= _LAST_YEAR else row.bad(column, "day-far")
