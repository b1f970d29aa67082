"""The matrix on screen as files: exactly the cells that are shown, under a name with site and date."""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping, Sequence
from datetime import date

import trainer
from trainer.actions import keeping, look
from trainer.core.matrix import Cell
from trainer.export import MATRIX_FORMATS, LedgerHead, MatrixReport, titles_of
from trainer.web.door import Here

__all__ = ["FORMATS", "file_name", "rendered"]

FORMATS: tuple[tuple[str, str], ...] = (
    ("xlsx", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"),
    ("csv", "text/csv"),
    ("pdf", "application/pdf"),
)
"""Formats offered on screen, with their media types."""


def file_name(here: Here, as_of: date, form: str) -> str:
    """``matrix-SITE-DAY.FORM``."""
    return f"matrix-{here.desk.store.site}-{as_of.isoformat()}.{form}"


def rendered(
    here: Here, cells: Sequence[Cell], names: Mapping[str, str], as_of: date, shown: str, form: str
) -> Callable[[], io.BytesIO]:
    """What makes the file once it is asked for, so that a page that nobody downloads from costs nothing."""

    def render() -> io.BytesIO:
        keeping.seal(here.desk)
        heads = tuple(LedgerHead(head.site, head.seq, head.hash, head.at) for head in look.heads(here.desk))
        report = MatrixReport(
            here.desk.store.site, as_of, tuple(cells), names, heads, trainer.VERSION, shown,
            titles_of(here.desk.catalogue, here.words), here.desk.store.tz,
        )  # fmt: skip
        return io.BytesIO(dict(MATRIX_FORMATS)[form](report, here.words, here.desk.now))

    return render
