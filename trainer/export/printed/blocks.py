"""What flows down a page: headings, paragraphs, facts side by side, and lines to sign on."""

from __future__ import annotations

from collections.abc import Sequence

from trainer.export.printed.canvas import Canvas
from trainer.export.printed.forms import Field, blanks

__all__ = ["facts", "paragraph", "room", "section", "sign_lines"]

_HEAD = 11.0
_TEXT = 9.0
_SIGN_ROW = 11.0


def room(canvas: Canvas, height: float) -> None:
    """Go on on a new page where so much does not fit on this one."""
    if not canvas.has_room(height):
        canvas.page()


def section(canvas: Canvas, text: str, *, needs: float = 12.0) -> None:
    """A heading, on the same page as the ``needs`` millimetres after it."""
    room(canvas, canvas.line(_HEAD) + 3 + needs)
    canvas.at = canvas.write(text, canvas.margin, canvas.at + 2.0, canvas.inner, _HEAD, bold=True) + 0.8


def paragraph(canvas: Canvas, text: str, *, size: float = _TEXT, bold: bool = False) -> None:
    """Text over the whole width."""
    room(canvas, canvas.height_of(text, canvas.inner, size, bold=bold))
    canvas.at = canvas.write(text, canvas.margin, canvas.at, canvas.inner, size, bold=bold) + 0.8


def facts(canvas: Canvas, pairs: Sequence[tuple[str, str]], *, columns: int = 2) -> None:
    """Each fact as its label in bold and what it is, several beside each other."""
    wide = canvas.inner / columns
    for start in range(0, len(pairs), columns):
        row = pairs[start : start + columns]
        heights = [_fact_height(canvas, label, said, wide - 4) for label, said in row]
        room(canvas, max(heights) + 0.8)
        for place, (label, said) in enumerate(row):
            _fact(canvas, label, said, canvas.margin + place * wide, wide - 4)
        canvas.at += max(heights) + 0.8


def _fact_height(canvas: Canvas, label: str, said: str, wide: float) -> float:
    first = canvas.measured(f"{label}: ", _TEXT, bold=True)
    return len(canvas.lines(said, wide, _TEXT, first=first)) * canvas.line(_TEXT)


def _fact(canvas: Canvas, label: str, said: str, x: float, wide: float) -> None:
    first = canvas.measured(f"{label}: ", _TEXT, bold=True)
    lines = canvas.lines(said, wide, _TEXT, first=first)
    canvas.write(f"{label}:", x, canvas.at, wide, _TEXT, bold=True, rows=1)
    canvas.put(lines[:1], x + first, canvas.at, wide - first, _TEXT)
    canvas.put(lines[1:], x, canvas.at + canvas.line(_TEXT), wide, _TEXT)


def sign_lines(canvas: Canvas, labels: Sequence[str], date: str) -> None:
    """A line to sign on for each, with the date beside it."""
    room(canvas, _SIGN_ROW * len(labels))
    for label in labels:
        fields = (Field(label, share=2.4), Field(date))
        canvas.at = blanks(canvas, fields, canvas.margin, canvas.at, canvas.inner, _TEXT, _SIGN_ROW)
