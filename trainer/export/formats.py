"""Which formats there are, each family in one tuple."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from trainer.export import delimited, jsontext, workbook
from trainer.export.reports import MatrixReport, RecordsReport
from trainer.export.wording import Says

__all__ = ["MATRIX_FORMATS", "RECORD_FORMATS"]


def _poster(report: MatrixReport, words: Says, now: datetime) -> bytes:
    # The PDF library takes half a second to import, which every other command would wait for.
    from trainer.export.printed import poster

    return poster.render(report, words, now)


MATRIX_FORMATS: tuple[tuple[str, Callable[[MatrixReport, Says, datetime], bytes]], ...] = (
    ("csv", delimited.render_matrix),
    ("json", jsontext.render_matrix),
    ("xlsx", workbook.render_matrix),
    ("pdf", _poster),
)
RECORD_FORMATS: tuple[tuple[str, Callable[[RecordsReport, Says, datetime], bytes]], ...] = (
    ("csv", delimited.render_records),
    ("json", jsontext.render_records),
    ("xlsx", workbook.render_records),
)
