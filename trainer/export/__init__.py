"""Reports that go out: ``(report, words, now) -> bytes``, pure, one function a format.

Start at ``MATRIX_FORMATS`` and ``RECORD_FORMATS``: format name to function, and ``reports`` for what goes in. What is
printed, as PDF, stands in ``printed``. May import ``trainer.core`` and ``trainer.errors``; words are handed in.
"""

from trainer.export.formats import MATRIX_FORMATS, RECORD_FORMATS
from trainer.export.marks import STANDING_MARKS, StandingMark
from trainer.export.reports import MATRIX_COLUMNS, RECORD_COLUMNS, LedgerHead, MatrixReport, RecordsReport
from trainer.export.titles import Titles, procedure_entry, procedure_line, titles_of
from trainer.export.wording import Says, reason_text

__all__ = [
    "MATRIX_COLUMNS",
    "MATRIX_FORMATS",
    "RECORD_COLUMNS",
    "RECORD_FORMATS",
    "STANDING_MARKS",
    "LedgerHead",
    "MatrixReport",
    "RecordsReport",
    "Says",
    "StandingMark",
    "Titles",
    "procedure_entry",
    "procedure_line",
    "reason_text",
    "titles_of",
]
