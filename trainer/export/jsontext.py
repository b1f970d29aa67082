"""JSON as UTF-8 with LF: the CSV's keys, ``null`` for what is empty there."""

from __future__ import annotations

import json
from datetime import date, datetime

from trainer.export.reports import MATRIX_COLUMNS, RECORD_COLUMNS, MatrixReport, RecordsReport, matrix_rows
from trainer.export.wording import Says

__all__ = ["render_matrix", "render_records"]


def render_matrix(report: MatrixReport, words: Says, now: datetime) -> bytes:  # noqa: ARG001 - one signature a family
    """The matrix as one array, an object on each line for each needed cell."""
    lines = [f"\n{_line(dict(zip(MATRIX_COLUMNS, row, strict=True)))}" for row in matrix_rows(report, words)]
    return ("[" + ",".join(lines) + "\n]\n").encode()


def render_records(report: RecordsReport, words: Says, now: datetime) -> bytes:  # noqa: ARG001
    """The records as JSON Lines: one object on each line, its values exactly as they were hashed."""
    lines = (
        json.dumps({name: record[name] for name in RECORD_COLUMNS}, ensure_ascii=False) for record in report.records
    )
    return "".join(f"{line}\n" for line in lines).encode()


def _line(row: dict[str, object]) -> str:
    return json.dumps({name: _value(value) for name, value in row.items()}, ensure_ascii=False)


def _value(value: object) -> object:
    return value.isoformat() if isinstance(value, date) else value or None
