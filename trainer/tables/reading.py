"""Rows out of a CSV or XLSX file, with every problem of the header told at once."""

from __future__ import annotations

import csv
import io
import unicodedata
from collections.abc import Iterator, Mapping, Sequence

from trainer.core.rows import ColumnSet, Table, TableRow, unguarded
from trainer.errors import BadCell, BadInput, BadTable
from trainer.tables import workbooks
from trainer.tables.decoding import decode

__all__ = ["COMMAND_LIMIT", "UPLOAD_LIMIT", "read_table"]

UPLOAD_LIMIT = 5_000_000
COMMAND_LIMIT = 50_000_000
"""Bytes that a table may have, uploaded and by command."""

_DELIMITERS = (",", ";", "\t", "|")
_LONGEST_CELL = 10_000


def read_table(data: bytes, columns: ColumnSet, limit: int = COMMAND_LIMIT) -> Table:
    """The rows in ``data`` with text for each column of ``columns`` that the header names, in any order.

    Rows without any text are left out but counted. A row longer than the header, or a cell beyond reason, is a flaw
    of its row. Raises ``BadInput`` when this is no table, ``BadTable`` when a column is missing or there twice.
    """
    if len(data) > limit:
        raise BadInput("table-too-big", megabytes=limit // 1_000_000)
    if workbooks.is_workbook(data):
        return _table(workbooks.records(data), columns)
    text, delimiter = _without_hint(decode(data))
    found = _records(text, delimiter or _delimiter(text, columns))
    return _table(((number, [unguarded(cell) for cell in cells]) for number, cells in found), columns)


def _table(records: Iterator[tuple[int, list[str]]], columns: ColumnSet) -> Table:
    """The records below the header as rows."""
    number, header = next(records, (0, []))
    if not header:
        raise BadInput("table-empty")
    names = [_column_name(cell) for cell in header]
    bad = _bad_header(number, names, columns)
    if bad:
        raise BadTable(bad)
    wanted = {name: names.index(name) for name in columns.names if name in names}
    rows = tuple(_row(number, cells, names, wanted) for number, cells in records)
    return Table(rows, tuple(name for name in names if name and name not in columns.names))


def _row(number: int, cells: Sequence[str], names: Sequence[str], wanted: Mapping[str, int]) -> TableRow:
    """One record as a row; spreadsheets leave out what is empty at the end, so a short record is no flaw."""
    text = {name: _clean(cells[place]) if place < len(cells) else "" for name, place in wanted.items()}
    return TableRow(number, text, _flaws(number, cells, names))


def _without_hint(text: str) -> tuple[str, str]:
    """``text`` without the ``sep=;`` line that spreadsheets write for themselves, and the delimiter it names."""
    first, _, rest = text.partition("\n")
    hint = first.rstrip("\r").lower()
    return (rest, hint[-1]) if len(hint) == 5 and hint.startswith("sep=") else (text, "")


def _records(text: str, delimiter: str) -> Iterator[tuple[int, list[str]]]:
    """Each record that holds any text, with its number; raises ``BadInput`` where a quote is never closed."""
    csv.field_size_limit(COMMAND_LIMIT)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    try:
        for number, cells in enumerate(reader, start=1):
            if any(cell.strip() for cell in cells):
                yield number, cells
    except csv.Error:
        raise BadInput("table-broken", line=reader.line_num) from None


def _delimiter(text: str, columns: ColumnSet) -> str:
    """The delimiter under which the first line names most of ``columns``; the comma where none is better."""
    first = next((line for line in io.StringIO(text, newline="") if line.strip()), "")

    def known(delimiter: str) -> int:
        cells = next(csv.reader([first], delimiter=delimiter))
        return sum(_column_name(cell) in columns.names for cell in cells)

    return max(_DELIMITERS, key=known)


def _column_name(cell: str) -> str:
    """A header as a column's name: ``Hand ID`` and ``hand-id`` are ``hand_id``."""
    return "_".join(_clean(cell).casefold().replace("-", " ").replace("_", " ").split())


def _clean(cell: str) -> str:
    """A cell's text, NFC-normalised, without blanks round it."""
    return unicodedata.normalize("NFC", cell).strip()


def _bad_header(number: int, names: Sequence[str], columns: ColumnSet) -> tuple[BadCell, ...]:
    """What is wrong with the header: a needed column missing, a known one there twice."""
    missing = [BadCell(number, name, "", "column-missing") for name in columns.required if name not in names]
    twice = [BadCell(number, name, name, "column-twice") for name in columns.names if names.count(name) > 1]
    return (*missing, *twice)


def _flaws(number: int, cells: Sequence[str], names: Sequence[str]) -> tuple[BadCell, ...]:
    """What is wrong with a record before its cells are read: text beyond the last column, a cell beyond reason."""
    beyond = [BadCell(number, str(len(names) + 1), _short(cell), "row-long") for cell in cells[len(names) :] if cell]
    long = [
        BadCell(number, name, _short(cell), "cell-long")
        for name, cell in zip(names, cells, strict=False)
        if len(cell) > _LONGEST_CELL
    ]
    return (*beyond[:1], *long)


def _short(cell: str) -> str:
    return cell if len(cell) <= 40 else f"{cell[:40]}…"
