"""CSV that a spreadsheet opens as it is: UTF-8 with BOM, CRLF, RFC 4180, ISO dates, nothing that it would compute."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Sequence
from datetime import date, datetime

from trainer.core.rows import guarded
from trainer.export.reports import MATRIX_COLUMNS, RECORD_COLUMNS, MatrixReport, RecordsReport, matrix_rows
from trainer.export.wording import Says

__all__ = ["render_matrix", "render_records"]


def render_matrix(report: MatrixReport, words: Says, now: datetime) -> bytes:  # noqa: ARG001 - one signature a family
    """The matrix, one row a needed cell."""
    return _render(MATRIX_COLUMNS, matrix_rows(report, words))


def render_records(report: RecordsReport, words: Says, now: datetime) -> bytes:  # noqa: ARG001
    """The records, one row each, the body as JSON."""
    return _render(RECORD_COLUMNS, ([record[name] for name in RECORD_COLUMNS] for record in report.records))


def _render(header: Sequence[str], rows: Iterable[Iterable[object]]) -> bytes:
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(header)
    writer.writerows([_text(value) for value in row] for row in rows)
    return out.getvalue().encode("utf-8-sig")


def _text(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, date):
        return value.isoformat()
    return guarded(value if isinstance(value, str) else json.dumps(value, ensure_ascii=False, separators=(",", ":")))
