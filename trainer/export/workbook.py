"""XLSX that prints as it stands: a real table with a frozen header, A3 landscape, one page wide, and a sheet about it.

Nothing in it is computed: text that looks like a formula, a link or a number stays text.
"""

from __future__ import annotations

import io
import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime

import xlsxwriter
from xlsxwriter.format import Format
from xlsxwriter.workbook import Workbook
from xlsxwriter.worksheet import Worksheet

from trainer.core.rows import guarded
from trainer.errors import BadInput
from trainer.export.marks import STANDING_MARKS
from trainer.export.reports import (
    MATRIX_COLUMNS,
    RECORD_COLUMNS,
    LedgerHead,
    MatrixReport,
    RecordsReport,
    matrix_rows,
)
from trainer.export.wording import Says

__all__ = ["render_matrix", "render_records"]

_OPTIONS = {
    "in_memory": True,
    "strings_to_formulas": False,
    "strings_to_urls": False,
    "strings_to_numbers": False,
    "default_date_format": "yyyy-mm-dd",
}
_A3 = 8
_MOST_ROWS = 1_048_575
_LONGEST_CELL = 32_767
_MATRIX_WIDTHS = (12, 28, 18, 12, 22, 15, 12, 12, 7, 60)
_RECORD_WIDTHS = (38, 14, 8, 26, 12, 14, 14, 14, 80, 20, 20)


def render_matrix(report: MatrixReport, words: Says, now: datetime) -> bytes:
    """The matrix, one row a needed cell, each standing as word, shape and fill."""
    about: list[tuple[str, object]] = [
        (words.say("export.site"), report.site),
        (words.say("export.as-of"), report.as_of),
        (words.say("export.shown"), report.shown or words.say("export.everything")),
    ]
    sheet = _Sheet("matrix", MATRIX_COLUMNS, _MATRIX_WIDTHS)
    return _render(
        sheet, matrix_rows(report, words), [*about, *_source(report.heads, report.version, words)], words, now
    )


def render_records(report: RecordsReport, words: Says, now: datetime) -> bytes:
    """The records, one row each, the body as JSON. Raises ``BadInput`` for more of them than a sheet has rows."""
    rows = ([record[name] for name in RECORD_COLUMNS] for record in report.records)
    about = [(words.say("export.site"), report.site), *_source(report.heads, report.version, words)]
    return _render(_Sheet("records", RECORD_COLUMNS, _RECORD_WIDTHS), rows, about, words, now)


def _source(heads: Iterable[LedgerHead], version: str, words: Says) -> list[tuple[str, str]]:
    """What the sheet was made from: each chain's last record and the program's version."""
    shown = [
        (
            words.say("export.head", site=head.site),
            words.say("export.head-at", seq=head.seq, at=head.at, hash=head.hash),
        )
        for head in heads
    ]
    return [*shown, (words.say("export.version"), version)]


@dataclass(frozen=True, slots=True)
class _Sheet:
    name: str
    columns: Sequence[str]
    widths: Sequence[int]


def _render(
    sheet: _Sheet,
    rows: Iterable[Sequence[object]],
    about: Sequence[tuple[str, object]],
    words: Says,
    now: datetime,
) -> bytes:
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, _OPTIONS) as book:
        # A fixed time makes the same report the same bytes.
        book.set_properties({"title": words.say(f"export.{sheet.name}"), "created": now.replace(tzinfo=None)})
        _table(book.add_worksheet(words.say(f"export.{sheet.name}")), _Formats(book), sheet, rows, words)
        _about(book.add_worksheet(words.say("export.about")), _Formats(book), [*about, _written(words, now)])
    return out.getvalue()


def _written(words: Says, now: datetime) -> tuple[str, object]:
    return words.say("export.written"), now.strftime("%Y-%m-%dT%H:%M:%SZ")


class _Formats:
    """The cell formats of one workbook."""

    def __init__(self, book: Workbook) -> None:
        self.quoted: Format = book.add_format({"quote_prefix": True, "valign": "top"})
        self.day: Format = book.add_format({"num_format": "yyyy-mm-dd", "align": "left", "valign": "top"})
        self.plain: Format = book.add_format({"valign": "top"})
        self.wrapped: Format = book.add_format({"text_wrap": True, "valign": "top"})
        # The shape stands in the number format: it is seen and printed, and the cell's value stays the plain word.
        self.standing: dict[str, Format] = {
            mark.standing.value: book.add_format(
                {"num_format": f'"{mark.shape} "@', "bg_color": mark.fill, "font_color": mark.ink, "valign": "top"}
            )
            for mark in STANDING_MARKS
        }

    def of_text(self, text: str, column: str) -> Format:
        """The format for ``text`` in the column called ``column``."""
        if guarded(text) != text:
            return self.quoted
        if column == "reason":
            return self.wrapped
        return self.standing.get(text, self.plain) if column == "standing" else self.plain


def _table(page: Worksheet, formats: _Formats, sheet: _Sheet, rows: Iterable[Sequence[object]], words: Says) -> None:
    last = 0
    for last, row in enumerate(rows, start=1):
        if last > _MOST_ROWS:
            raise BadInput("export-too-long", rows=_MOST_ROWS)
        for column, value in enumerate(row):
            _write(page, last, column, value, sheet.columns[column], formats, words)
    for column, width in enumerate(sheet.widths):
        page.set_column(column, column, width)
    # A table needs one row below its header, be it empty.
    page.add_table(
        0,
        0,
        max(last, 1),
        len(sheet.columns) - 1,
        {"name": sheet.name, "style": "Table Style Light 1", "columns": [{"header": name} for name in sheet.columns]},
    )
    page.freeze_panes(1, 0)
    page.repeat_rows(0)
    page.set_landscape()
    page.set_paper(_A3)
    page.fit_to_pages(1, 0)
    page.set_footer("&L&A&R&P / &N")


def _write(page: Worksheet, row: int, column: int, value: object, name: str, formats: _Formats, words: Says) -> None:
    """One cell by its kind; an empty one is left empty."""
    match value:
        case None | "":
            return
        case date():
            page.write_datetime(row, column, datetime(value.year, value.month, value.day), formats.day)  # noqa: DTZ001
        case int():
            page.write_number(row, column, value, formats.plain)
        case str():
            page.write_string(row, column, _fitting(value, words), formats.of_text(value, name))
        case _:
            text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
            page.write_string(row, column, _fitting(text, words), formats.plain)


def _fitting(text: str, words: Says) -> str:
    return text if len(text) <= _LONGEST_CELL else words.say("export.too-long")


def _about(page: Worksheet, formats: _Formats, lines: Iterable[tuple[str, object]]) -> None:
    for row, (label, value) in enumerate(lines):
        page.write_string(row, 0, label, formats.plain)
        if isinstance(value, date):
            page.write_datetime(row, 1, datetime(value.year, value.month, value.day), formats.day)  # noqa: DTZ001
        else:
            page.write_string(row, 1, str(value), formats.wrapped)
    page.set_column(0, 0, 26)
    page.set_column(1, 1, 100)
