"""Rows of an imported table as the actions take them: a number for messages and text by column, nothing decided yet."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Literal

from trainer.errors import BadCell

__all__ = [
    "ORDERS", "ColumnSet", "DayOrder", "Table", "TableRow", "Turned", "chosen_id", "comparable", "guarded", "in_order",
    "read_day", "readings", "tidy", "turned", "unguarded",
]  # fmt: skip

DayOrder = Literal["day", "month"]
"""Which of the two comes first in days such as ``03/04/2026``."""

ORDERS: tuple[DayOrder, ...] = ("day", "month")

_FORMULA_SIGNS = tuple("=+-@\t\r\n＝＋－＠")

_ISO_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_EITHER_ORDER = re.compile(r"(\d{1,2})[/.\-](\d{1,2})[/.\-](\d{4})")
_FIRST_YEAR, _LAST_YEAR = 1950, 2100


@dataclass(frozen=True, slots=True)
class ColumnSet:
    """The columns of one kind of table, in the order in which they are documented; all but ``required`` may lack.

    ``days`` are those that hold civil dates.
    """

    names: tuple[str, ...]
    required: tuple[str, ...]
    days: tuple[str, ...] = ()


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


@dataclass(frozen=True, slots=True)
class Turned:
    """That a table has days with the day or the month first: ``sample`` is one, if possible one that can be two days.

    ``likely`` is the one order in which all of them are days; ``None`` where both are, or neither is.
    """

    sample: str
    likely: DayOrder | None


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
        return _without_order(row, column)
    if not _ISO_DAY.fullmatch(text):
        return row.bad(column, "day-form")
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return row.bad(column, "day-none")
    return day if _FIRST_YEAR <= day.year <= _LAST_YEAR else row.bad(column, "day-far")


def _without_order(row: TableRow, column: str) -> BadCell:
    """What is said about a day with the day or the month first while nobody has said which: no guess is made."""
    days = sorted({each.isoformat() for each in readings(row.get(column)).values()})
    if not days:
        return row.bad(column, "day-none")
    if len(days) == 1:
        return row.bad(column, "day-turned", day=days[0])
    return row.bad(column, "day-order", one=days[0], other=days[1])


def readings(text: str) -> dict[DayOrder, date]:
    """The day that ``text`` writes in each order in which it is one: none, one or both for ``03/04/2026``."""
    found = _EITHER_ORDER.fullmatch(text)
    if not found:
        return {}
    first, second, year = (int(each) for each in found.groups())
    written: tuple[tuple[DayOrder, int, int], ...] = (("day", second, first), ("month", first, second))
    days: dict[DayOrder, date] = {}
    for order, month, day in written:
        # A month or day that there is not leaves that order out.
        with suppress(ValueError):
            days[order] = date(year, month, day)
    return days


def turned(table: Table, columns: ColumnSet) -> Turned | None:
    """What can be asked about the order of the days in ``table``; ``None`` where none depends on it."""
    days = [row.get(column) for row in table.rows for column in columns.days]
    read = {text: readings(text) for text in days if _EITHER_ORDER.fullmatch(text)}
    if not read:
        return None
    sample = next((text for text, found in read.items() if len(set(found.values())) > 1), next(iter(read)))
    fitting = [order for order in ORDERS if all(order in found for found in read.values())]
    return Turned(sample, fitting[0] if len(fitting) == 1 else None)


def in_order(table: Table, columns: ColumnSet, order: DayOrder) -> Table:
    """``table`` with its days as ``YYYY-MM-DD``, read in ``order``; what is no day in that order stays as it is."""

    def told(row: TableRow) -> TableRow:
        found = {name: readings(row.get(name)).get(order) for name in columns.days if row.has(name)}
        cells = {name: day.isoformat() for name, day in found.items() if day is not None}
        return replace(row, cells={**row.cells, **cells}) if cells else row

    return replace(table, rows=tuple(told(row) for row in table.rows))
