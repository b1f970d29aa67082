"""Which formats there are, each family in one tuple."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from trainer.export import delimited, jsontext, workbook
from trainer.export.reports import MatrixReport, RecordsReport
from trainer.export.wording import Says

__all__ = ["MATRIX_FORMATS", "RECORD_FORMATS"]

MATRIX_FORMATS: tuple[tuple[str, Callable[[MatrixReport, Says, datetime], bytes]], ...] = (
    ("csv", delimited.render_matrix),
    ("json", jsontext.render_matrix),
    ("xlsx", workbook.render_matrix),
)
RECORD_FORMATS: tuple[tuple[str, Callable[[RecordsReport, Says, datetime], bytes]], ...] = (
    ("csv", delimited.render_records),
    ("json", jsontext.render_records),
    ("xlsx", workbook.render_records),
)
