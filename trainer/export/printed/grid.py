"""Hands by competencies as a table on paper: each standing as shape, word and tint, its head on every page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from trainer.core.standing import Standing
from trainer.export.marks import STANDING_MARKS
from trainer.export.printed.canvas import Canvas
from trainer.export.printed.signs import figure
from trainer.export.wording import Says

__all__ = ["Grid", "GridLine", "Square", "draw", "draw_legend", "is_brief", "least_width", "standing_word"]

_MARKS = {mark.standing: mark for mark in STANDING_MARKS}
_NOT_ASKED = "#ededed"
_WORD, _LEAST_WORD, _LARGE_WORD = 7.0, 6.0, 8.5
_LARGE_FROM = 28.0
_SIGN_OF_WORD = 0.41
_PAD, _BESIDE = 0.9, 0.6
_HEAD_SIZE = 8.0
_UPRIGHT = 24.0
_HEADS_UP = (18.0, 24.0, 30.0, 38.0)
_NAME_SIZE, _UNDER_SIZE, _SAID_SIZE = 8.5, 7.0, 7.5


@dataclass(frozen=True, slots=True)
class Square:
    """How one hand stands in one competency; ``note`` is about the due date, heavier where it is past.

    ``brief`` is said instead where a column is too narrow for the note.
    """

    standing: Standing
    note: str = ""
    is_late: bool = False
    brief: str = ""


@dataclass(frozen=True, slots=True)
class GridLine:
    """One hand: a square a column, ``None`` where nothing is asked; ``said`` stands in the last column, or under the
    squares where the table has none."""

    name: str
    under: str
    squares: tuple[Square | None, ...]
    said: tuple[str, ...] = ()
    group: str = ""
    """Where it changes from line to line, it stands over them as a heading."""


@dataclass(frozen=True, slots=True)
class Grid:
    """The whole table. ``said`` is the head of the last column, empty for no such column; ``scale`` makes the text
    about hands larger where a page has room."""

    first: str
    columns: tuple[str, ...]
    lines: tuple[GridLine, ...]
    name_width: float
    said: str = ""
    said_width: float = 0.0
    scale: float = 1.0


def standing_word(standing: Standing, words: Says) -> str:
    """The standing in a word or two."""
    return words.say("matrix.off" if standing is Standing.STOOD_DOWN else f"standing.{standing.replace(' ', '-')}")


def least_width(canvas: Canvas, words: Says) -> float:
    """How wide a column must be for every standing's word at its smallest: off the slips may take two lines."""
    one_line = [each for each in Standing if each is not Standing.STOOD_DOWN]
    widest = max(canvas.measured(standing_word(each, words), _LEAST_WORD) for each in one_line)
    return _PAD + _WORD * _SIGN_OF_WORD + _BESIDE + widest + _PAD


def draw(canvas: Canvas, grid: Grid, words: Says) -> None:
    """The table from ``at`` down, over as many pages as it needs; more columns than fit go on further pages."""
    for number, part in enumerate(_parts(canvas, grid, words)):
        if number:
            canvas.page()
        part.draw()


def is_brief(canvas: Canvas, grid: Grid, words: Says) -> bool:
    """Whether a column on that paper is too narrow for a note, so that it is said briefly."""
    return any(part.is_brief() for part in _parts(canvas, grid, words))


def _parts(canvas: Canvas, grid: Grid, words: Says) -> list[_Part]:
    room = canvas.inner - grid.name_width - grid.said_width
    fits = max(1, int(room / least_width(canvas, words)))
    # As many on each page: one column alone on a page would be overlooked.
    each = -(-len(grid.columns) // -(-len(grid.columns) // fits))
    parts = [range(start, min(start + each, len(grid.columns))) for start in range(0, len(grid.columns), each)]
    return [_Part(canvas, grid, columns, words) for columns in parts]


class _Part:
    """The columns that fit beside each other."""

    def __init__(self, canvas: Canvas, grid: Grid, columns: Sequence[int], words: Says) -> None:
        self._canvas, self._grid, self._columns, self._words = canvas, grid, columns, words
        self._wide = (canvas.inner - grid.name_width - grid.said_width) / max(1, len(columns))
        self._left = canvas.margin + grid.name_width
        self._word = _LARGE_WORD if self._wide >= _LARGE_FROM else _WORD
        self._sign = self._word * _SIGN_OF_WORD
        self._name_size, self._under_size, self._said_size = (
            size * grid.scale for size in (_NAME_SIZE, _UNDER_SIZE, _SAID_SIZE)
        )

    def draw(self) -> None:
        """Head and lines."""
        self._head()
        group = ""
        for line in self._grid.lines:
            title = line.group if line.group != group else ""
            height = self._height(line)
            if not self._canvas.has_room(height + self._below(line) + (6 if title else 0)):
                self._canvas.page()
                self._head()
                # On a new page it is said again whose lines these are.
                title = line.group
            if title:
                self._group(title)
            group = line.group
            self._line(line, height)

    def is_brief(self) -> bool:
        """Whether any square of it is too narrow for its note."""
        squares = (line.squares[column] for line in self._grid.lines for column in self._columns)
        return any(each and each.brief and self._note(each, self._wide - 2 * _PAD) == each.brief for each in squares)

    def _head(self) -> None:
        """Titles of the columns: across where there is room, else turned upwards."""
        canvas, titles = self._canvas, [self._grid.columns[each] for each in self._columns]
        foot = canvas.at + (self._up(titles) if self._wide < _UPRIGHT else self._across(titles))
        edge = foot - 1 - canvas.line(_HEAD_SIZE)
        canvas.write(self._grid.first, canvas.margin, edge, self._grid.name_width, _HEAD_SIZE, bold=True, rows=1)
        if self._grid.said:
            x = canvas.right - self._grid.said_width + 1.5
            canvas.write(self._grid.said, x, edge, self._grid.said_width, _HEAD_SIZE, bold=True, rows=1)
        canvas.rule(canvas.margin, foot, canvas.right, thick=0.6)
        canvas.at = foot

    def _across(self, titles: Sequence[str]) -> float:
        """Titles drawn as they are read; how high they stand."""
        canvas, wide = self._canvas, self._wide - 2 * _PAD
        broken = [canvas.lines(title, wide, _HEAD_SIZE, bold=True) for title in titles]
        high = max((len(lines) for lines in broken), default=1) * canvas.line(_HEAD_SIZE) + 2
        for place, lines in enumerate(broken):
            top = canvas.at + high - 1 - len(lines) * canvas.line(_HEAD_SIZE)
            canvas.put(lines, self._left + place * self._wide + _PAD, top, wide, _HEAD_SIZE, bold=True)
        return high

    def _up(self, titles: Sequence[str]) -> float:
        """Titles drawn upwards; how high they stand, no higher than they need."""
        canvas = self._canvas
        rows = max(1, int((self._wide - 2) / canvas.line(_HEAD_SIZE)))

        def fits(high: float) -> bool:
            words = (word for title in titles for word in title.split())
            is_whole = all(canvas.measured(word, _HEAD_SIZE, bold=True) <= high - 2 for word in words)
            return is_whole and all(len(canvas.lines(each, high - 2, _HEAD_SIZE, bold=True)) <= rows for each in titles)

        high = next((each for each in _HEADS_UP if fits(each)), _HEADS_UP[-1])
        for place, title in enumerate(titles):
            used = len(canvas.cut(title, high - 2, _HEAD_SIZE, rows, bold=True)) * canvas.line(_HEAD_SIZE)
            x = self._left + place * self._wide + (self._wide - used) / 2
            canvas.write_up(title, x, canvas.at + high - 1, high - 2, _HEAD_SIZE, rows=rows)
        return high

    def _group(self, title: str) -> None:
        canvas = self._canvas
        canvas.box(canvas.margin, canvas.at, canvas.inner, 6, fill="#d9d9d9", edge=False)
        canvas.write(title, canvas.margin + _PAD, canvas.at + 1.2, canvas.inner, _NAME_SIZE, bold=True, rows=1)
        canvas.at += 6

    def _height(self, line: GridLine) -> float:
        """Of the squares: as high as the highest thing beside them."""
        canvas = self._canvas
        name = len(self._name(line)) * canvas.line(self._name_size)
        under = canvas.line(self._under_size) if line.under else 0
        beside = self._said_height(line) if self._grid.said else 0
        return max(name + under, 2 * canvas.line(self._word), beside) + 1.4

    def _below(self, line: GridLine) -> float:
        """What stands under the squares needs so much."""
        return 0 if self._grid.said or not line.said else self._said_height(line) + 1.2

    def _said_height(self, line: GridLine) -> float:
        return sum(len(each) for each in self._said(line)) * self._canvas.line(self._said_size)

    def _name(self, line: GridLine) -> list[str]:
        return self._canvas.cut(line.name, self._grid.name_width - 1.5, self._name_size, 2, bold=True)

    def _said(self, line: GridLine) -> list[list[str]]:
        if self._grid.said:
            return [self._canvas.lines(each, self._grid.said_width - 2, self._said_size) for each in line.said]
        # Under the squares it is one paragraph: the page is wide and not high.
        return [self._canvas.lines(" · ".join(line.said), self._canvas.inner - 4, self._said_size)] if line.said else []

    def _line(self, line: GridLine, height: float) -> None:
        canvas, top, name_width = self._canvas, self._canvas.at, self._grid.name_width
        y = canvas.put(self._name(line), canvas.margin, top + 0.7, name_width, self._name_size, bold=True)
        canvas.write(line.under, canvas.margin, y, name_width - 1.5, self._under_size, grey=0.2, rows=1)
        for place, column in enumerate(self._columns):
            self._square(line.squares[column], self._left + place * self._wide, top, height)
        x, y = canvas.margin + 3, top + height + 0.5
        if self._grid.said:
            x, y = canvas.right - self._grid.said_width + 1.5, top + 0.7
        for lines in self._said(line):
            y = canvas.put(lines, x, y, canvas.right - x, self._said_size)
        canvas.at = top + height + self._below(line)
        canvas.rule(canvas.margin, canvas.at, canvas.right, thick=0.3)

    def _square(self, square: Square | None, x: float, y: float, height: float) -> None:
        canvas, wide = self._canvas, self._wide
        if square is None:
            canvas.box(x, y, wide, height, thick=0.1, fill=_NOT_ASKED)
            return
        mark = _MARKS[square.standing]
        # What is off the slips stands on white, in a heavy frame: a dark ground swallows the shape in print.
        is_off = square.standing is Standing.STOOD_DOWN
        canvas.box(x, y, wide, height, thick=0.1, fill="#ffffff" if is_off else mark.fill)
        if is_off:
            canvas.box(x + 0.35, y + 0.35, wide - 0.7, height - 0.7, thick=0.7)
        left, top, to = x + _PAD, y + 0.7, x + wide - _PAD
        beside = left + self._sign + _BESIDE
        figure(canvas, mark.figure, left, top + (canvas.line(self._word) - self._sign) / 2, self._sign)
        word = standing_word(square.standing, self._words)
        if square.note:
            self._fitted(word, beside, top, to, bold=False)
            self._fitted(self._note(square, to - left), left, top + canvas.line(self._word), to, bold=square.is_late)
        else:
            canvas.write(word, beside, top, to - beside, self._word, bold=is_off, rows=2)

    def _note(self, square: Square, wide: float) -> str:
        is_fitting = self._canvas.measured(square.note, _LEAST_WORD, bold=square.is_late) <= wide
        return square.note if is_fitting or not square.brief else square.brief

    def _fitted(self, text: str, x: float, y: float, to: float, *, bold: bool) -> None:
        """One line as large as it fits, down to the smallest that is read."""
        canvas, wide = self._canvas, to - x + 0.3
        size = min(self._word, self._word * wide / max(canvas.measured(text, self._word, bold=bold), 0.1))
        canvas.write(text, x, y, wide, max(_LEAST_WORD, size - 0.05), bold=bold, rows=1)


def draw_legend(canvas: Canvas, words: Says, *, is_brief: bool = False) -> None:
    """Every shape with its word, what is not asked, and the sign for late; on a new page where this one is full.

    ``is_brief`` where a square has its brief note, whose sign is told too.
    """
    if not canvas.has_room(11):
        canvas.page()
    x, y = canvas.margin, canvas.at + 2
    for mark in STANDING_MARKS:
        figure(canvas, mark.figure, x, y, 3.6)
        word = standing_word(mark.standing, words)
        canvas.write(word, x + 4.8, y - 0.1, 60, 8.5, rows=1)
        x += 4.8 + canvas.measured(word, 8.5) + 6
    canvas.box(x, y, 5, 3.6, thick=0.1, fill=_NOT_ASKED)
    not_asked = words.say("prints.not-asked")
    canvas.write(not_asked, x + 6.2, y - 0.1, 60, 8.5, rows=1)
    x += 6.2 + canvas.measured(not_asked, 8.5) + 6
    late = words.say("prints.late-sign-brief" if is_brief else "prints.late-sign")
    signs = " · ".join((words.say("prints.date-sign"), late))
    if x + canvas.measured(signs, 8.5) > canvas.right:
        x, y = canvas.margin, y + 4.5
    canvas.write(signs, x, y - 0.1, canvas.right - x, 8.5, rows=1)
    canvas.at = y + 5
