"""A page to draw on in millimetres: bundled fonts, wrapped text, lines and boxes, a footer, the same bytes every time.

The only module that knows the PDF library. Nothing here knows what a sheet says.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Literal

from fpdf import FPDF
from fpdf.enums import Align as FpdfAlign
from fpdf.fonts import TTFFont

__all__ = ["A3", "A4", "LETTER", "PAPERS", "POINT", "Align", "Canvas", "Paper", "paper_called"]

POINT = 25.4 / 72
"""Millimetres a point."""

Align = Literal["L", "C", "R"]

_FONTS = Path(__file__).resolve().parents[3] / "assets" / "fonts"
_FAMILY = "sheet"
_FOOT = 7.0
_FOOT_SIZE = 7.0
_RUNNING_SIZE = 8.5
_MORE = "…"


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper size, upright, in millimetres."""

    name: str
    width: float
    height: float


A4 = Paper("A4", 210.0, 297.0)
A3 = Paper("A3", 297.0, 420.0)
LETTER = Paper("Letter", 215.9, 279.4)
PAPERS: tuple[Paper, ...] = (A4, LETTER)
"""What a site may print on, as ``core.catalogue.PAPERS`` names them; big posters are always A3."""


def paper_called(name: str) -> Paper:
    """The paper that the site names, in any spelling; A4 for none or one that is not known."""
    return next((each for each in PAPERS if each.name.casefold() == name.strip().casefold()), A4)


class _Pdf(FPDF):
    """The library's document, with our footer."""

    def __init__(self, foot: Callable[[], None]) -> None:
        super().__init__(unit="mm")
        self._foot = foot

    def footer(self) -> None:
        """Called by the library at the end of each page."""
        self._foot()


class Canvas:
    """One document being drawn. ``at`` is how far down the page is used; every method takes millimetres and points.
    ``running`` stands at the top of every page that begins while it says something.

    Text is shaped, so that Arabic, Vietnamese and Cyrillic names come out right, and never overflows its width.
    """

    def __init__(
        self,
        paper: Paper,
        title: str,
        language: str,
        now: datetime,
        *,
        landscape: bool = False,
        margin: float = 12.0,
        foot: str | None = "",
        leading: float = 1.22,
    ) -> None:
        """``foot`` stands on every page beside its number, ``None`` for no foot at all; ``leading`` is from line to
        line, in sizes of the text."""
        self.margin, self.at, self._said, self._leading = margin, margin, foot, leading
        self.running = ""
        self._pdf = _Pdf(self._draw_foot)
        self.lay(paper, landscape=landscape)
        self._widths: dict[tuple[str, float, bool], float] = {}
        self._prepare(title, language, now)

    def _prepare(self, title: str, language: str, now: datetime) -> None:
        pdf = self._pdf
        pdf.set_margin(0)
        pdf.c_margin = 0
        pdf.set_auto_page_break(False)
        for style, file in (("", "DejaVuSans.ttf"), ("B", "DejaVuSans-Bold.ttf")):
            pdf.add_font(_FAMILY, style, _FONTS / file)
        pdf.set_text_shaping(True)
        pdf.set_title(title)
        pdf.set_lang(language)
        pdf.set_creator("trainer")
        pdf.set_producer("trainer")
        # A fixed time makes the same report the same bytes.
        pdf.set_creation_date(now.astimezone(UTC))

    def lay(self, paper: Paper, *, landscape: bool = False) -> None:
        """Have the pages from the next one on in this size, upright or lying."""
        self.width, self.height = (paper.height, paper.width) if landscape else (paper.width, paper.height)

    @property
    def inner(self) -> float:
        """Width between the margins."""
        return self.width - 2 * self.margin

    @property
    def right(self) -> float:
        """Where the right margin begins."""
        return self.width - self.margin

    @property
    def bottom(self) -> float:
        """Down to where a page may be filled."""
        return self.height - self.margin - (0 if self._said is None else _FOOT)

    def page(self) -> None:
        """Go on at the top of a new page."""
        self._pdf.add_page(format=(self.width, self.height))
        self.at = self.margin
        if self.running:
            self.at = self.write(self.running, self.margin, self.at, self.inner, _RUNNING_SIZE, bold=True, rows=1) + 1.5

    def has_room(self, height: float) -> bool:
        """Whether so much still fits on this page."""
        return self.at + height <= self.bottom + 0.01

    def line(self, size: float) -> float:
        """From line to line of text of that size."""
        return size * POINT * self._leading

    def finish(self) -> bytes:
        """The document, which ends with that."""
        data = bytes(self._pdf.output())
        self.close()
        return data

    def close(self) -> None:
        """Let go of the font files, which the library reads only as far as it needs them."""
        for font in self._pdf.fonts.values():
            if isinstance(font, TTFFont):
                font.ttfont.close()

    def _draw_foot(self) -> None:
        if self._said is None:
            return
        top = self.height - self.margin - self.line(_FOOT_SIZE)
        number = f"{self._pdf.page_no()} / {{nb}}"
        self.write(self._said, self.margin, top, self.inner - 22, _FOOT_SIZE, grey=0.3, rows=1)
        self._cell(number, self.right - 20, top, 20, _FOOT_SIZE, bold=False, align="R", grey=0.3)

    def measured(self, text: str, size: float, *, bold: bool = False) -> float:
        """How wide ``text`` is on one line."""
        key = (text, size, bold)
        if key not in self._widths:
            self._pdf.set_font(_FAMILY, "B" if bold else "", size)
            self._widths[key] = self._pdf.get_string_width(text)
        return self._widths[key]

    def lines(self, text: str, width: float, size: float, *, bold: bool = False, first: float = 0.0) -> list[str]:
        """``text`` broken into lines of at most ``width``, the first one shorter by ``first``."""
        done: list[str] = []
        space = self.measured(" ", size, bold=bold)
        for paragraph in text.split("\n"):
            line, used, left = "", 0.0, width - (first if not done else 0.0)
            for word in self._words(paragraph, width, size, bold=bold):
                # Word by word, because each is measured once and kept: shaping whole lines again and again is slow.
                wide = self.measured(word, size, bold=bold)
                if used + wide <= left:
                    line, used = f"{line} {word}" if line else word, used + wide + space
                elif line or (first and not done):
                    done.append(line)
                    line, used, left = word, wide + space, width
                else:
                    line, used = word, wide + space
            done.append(line)
        return done

    def _words(self, paragraph: str, width: float, size: float, *, bold: bool) -> list[str]:
        """Its words, one that is wider than a line cut into pieces."""
        found: list[str] = []
        for word in paragraph.split():
            while self.measured(word, size, bold=bold) > width and len(word) > 1:
                fits = self._letters(word, width, size, bold=bold)
                found.append(word[:fits])
                word = word[fits:]
            found.append(word)
        return found

    def _letters(self, word: str, width: float, size: float, *, bold: bool) -> int:
        """How many of its letters fit, at least one."""
        fits = 1
        while fits < len(word) and self.measured(word[: fits + 1], size, bold=bold) <= width:
            fits += 1
        return fits

    def cut(self, text: str, width: float, size: float, rows: int, *, bold: bool = False) -> list[str]:
        """The same in at most ``rows`` lines, the last one ending in ``…`` where something is left out."""
        found = self.lines(text, width, size, bold=bold)
        if len(found) <= rows:
            return found
        last = found[rows - 1]
        while last and self.measured(last + _MORE, size, bold=bold) > width:
            last = last[:-1].rstrip()
        return [*found[: rows - 1], last + _MORE]

    def height_of(self, text: str, width: float, size: float, *, bold: bool = False, rows: int = 0) -> float:
        """How high ``write`` draws it."""
        found = self.cut(text, width, size, rows, bold=bold) if rows else self.lines(text, width, size, bold=bold)
        return len(found) * self.line(size)

    def write(
        self,
        text: str,
        x: float,
        y: float,
        width: float,
        size: float = 9.0,
        *,
        bold: bool = False,
        align: Align = "L",
        grey: float = 0.0,
        rows: int = 0,
    ) -> float:
        """Draw ``text`` from ``y`` down, wrapped, in at most ``rows`` lines where given; the ``y`` below it.

        ``grey`` is from 0 for black to 1 for white.
        """
        found = self.cut(text, width, size, rows, bold=bold) if rows else self.lines(text, width, size, bold=bold)
        return self.put(found, x, y, width, size, bold=bold, align=align, grey=grey)

    def put(
        self,
        lines: Sequence[str],
        x: float,
        y: float,
        width: float,
        size: float,
        *,
        bold: bool = False,
        align: Align = "L",
        grey: float = 0.0,
    ) -> float:
        """Draw lines that are broken already; the ``y`` below them."""
        step = self.line(size)
        for number, line in enumerate(lines):
            self._cell(line, x, y + number * step, width, size, bold=bold, align=align, grey=grey)
        return y + len(lines) * step

    def _cell(
        self, text: str, x: float, y: float, width: float, size: float, *, bold: bool, align: Align, grey: float
    ) -> None:
        pdf = self._pdf
        pdf.set_font(_FAMILY, "B" if bold else "", size)
        pdf.set_text_color(round(grey * 255))
        pdf.set_xy(x, y)
        pdf.cell(width, self.line(size), text, align=FpdfAlign.coerce(align))

    def write_up(self, text: str, x: float, y: float, width: float, size: float, *, rows: int) -> None:
        """Draw ``text`` turned upwards, its first letter at ``x``, ``y``: for the heads of narrow columns."""
        with self._pdf.rotation(90, x, y):
            self.write(text, x, y, width, size, bold=True, rows=rows)

    def rule(self, x: float, y: float, to: float, *, thick: float = 0.2, dash: float = 0.0) -> None:
        """A line across."""
        self._line(x, y, to, y, thick, dash)

    def rule_down(self, x: float, y: float, to: float, *, thick: float = 0.2, dash: float = 0.0) -> None:
        """A line down."""
        self._line(x, y, x, to, thick, dash)

    def _line(self, x: float, y: float, to_x: float, to_y: float, thick: float, dash: float) -> None:
        pdf = self._pdf
        pdf.set_draw_color(0)
        pdf.set_line_width(thick)
        pdf.set_dash_pattern(dash, dash)
        pdf.line(x, y, to_x, to_y)
        pdf.set_dash_pattern()

    def box(
        self, x: float, y: float, width: float, height: float, *, thick: float = 0.2, fill: str = "", edge: bool = True
    ) -> None:
        """A rectangle; ``fill`` is ``#rrggbb``, empty for none."""
        pdf = self._pdf
        pdf.set_draw_color(0)
        pdf.set_line_width(thick)
        if fill:
            pdf.set_fill_color(fill)
        pdf.rect(x, y, width, height, style=("D" if edge else "") + ("F" if fill else "") or None)

    def shape(self, points: Sequence[tuple[float, float]], *, fill: str = "#000000", thick: float = 0.3) -> None:
        """A closed shape; ``fill`` empty for its outline only."""
        pdf = self._pdf
        pdf.set_draw_color(0)
        pdf.set_line_width(thick)
        if fill:
            pdf.set_fill_color(fill)
        pdf.polygon(points, style="DF" if fill else "D")

    def path(self, points: Sequence[tuple[float, float]], *, thick: float, white: bool = False) -> None:
        """An open line through the points."""
        pdf = self._pdf
        pdf.set_draw_color(255 if white else 0)
        pdf.set_line_width(thick)
        pdf.polyline(points)

    def disc(self, x: float, y: float, radius: float, *, fill: str = "", thick: float = 0.3) -> None:
        """A circle round ``x``, ``y``."""
        pdf = self._pdf
        pdf.set_draw_color(0)
        pdf.set_line_width(thick)
        if fill:
            pdf.set_fill_color(fill)
        pdf.circle(x, y, radius, style="DF" if fill else "D")

    def half_disc(self, x: float, y: float, radius: float) -> None:
        """The left half of a disc, black."""
        pdf = self._pdf
        pdf.set_draw_color(0)
        pdf.set_fill_color(0)
        pdf.set_line_width(0.1)
        pdf.solid_arc(x - radius, y - radius, 2 * radius, 90, 270, 2 * radius, style="F")

    def picture(self, svg: str, x: float, y: float, width: float, height: float) -> None:
        """A drawing, as large as fits into that box, at its upper left corner."""
        if svg:
            self._pdf.image(io.BytesIO(svg.encode()), x, y, width, height, keep_aspect_ratio=True)
