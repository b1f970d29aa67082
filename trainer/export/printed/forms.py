"""What is filled in by hand: a label with its line, choices with their boxes, several to a row."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from trainer.export.printed.canvas import Canvas
from trainer.export.printed.signs import tick_box

__all__ = ["Asked", "Field", "blank", "blanks", "choice_rows", "choices", "rows_of"]

_GAP = 1.0
_BETWEEN = 3.0
_CHIP_GAP = 2.0
_LEAST_LINE = 13.0


@dataclass(frozen=True, slots=True)
class Field:
    """One line to write on: its label, what stands on it already, and how wide it is among the others of its row."""

    label: str
    filled: str = ""
    share: float = 1.0


@dataclass(frozen=True, slots=True)
class Asked:
    """One thing to tick: what is asked, in bold, or nothing, and what can be ticked."""

    label: str
    options: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Chip:
    """A label or an option with its box, as it stands in a row: how far right, and how wide."""

    text: str
    is_option: bool
    x: float = 0.0
    wide: float = 0.0


def blank(canvas: Canvas, field: Field, x: float, y: float, width: float, size: float, row: float) -> None:
    """A label, and a line from its end to ``x + width`` at the foot of a row that high."""
    foot = y + row - 0.8
    text = foot - canvas.line(size)
    label = canvas.cut(field.label, width * 0.7, size, 1)
    canvas.put(label, x, text, width, size)
    start = x + (canvas.measured(label[0], size) + _GAP if field.label else 0.0)
    canvas.rule(start, foot, x + width, thick=0.15)
    if field.filled:
        canvas.write(field.filled, start + 0.5, text - 0.2, x + width - start - 0.5, size + 0.5, bold=True, rows=1)


def blanks(canvas: Canvas, fields: Sequence[Field], x: float, y: float, width: float, size: float, row: float) -> float:
    """Several beside each other in one row; the ``y`` below it."""
    total = sum(field.share for field in fields)
    room = width - _BETWEEN * (len(fields) - 1)
    for field in fields:
        own = room * field.share / total
        blank(canvas, field, x, y, own, size, row)
        x += own + _BETWEEN
    return y + row


def rows_of(canvas: Canvas, fields: Sequence[Field], width: float, size: float) -> list[tuple[Field, ...]]:
    """The fields in their order, two beside each other where nothing of either is cut, with a line to write on."""
    rows: list[tuple[Field, ...]] = []
    half = (width - _BETWEEN) / 2
    for field in fields:
        fits = (
            len(rows[-1]) == 1 and all(_wide(canvas, each, size) <= half for each in (*rows[-1], field))
            if rows
            else False
        )
        rows = [*rows[:-1], (*rows[-1], field)] if fits else [*rows, (field,)]
    return rows


def _wide(canvas: Canvas, field: Field, size: float) -> float:
    """How much a field takes at the least."""
    filled = canvas.measured(field.filled, size + 0.5, bold=True) + 1.0 if field.filled else _LEAST_LINE
    # ``blank`` gives a label seven tenths of the width.
    label = canvas.measured(field.label, size)
    return max(label + _GAP + filled, label / 0.7)


def choice_rows(canvas: Canvas, asked: Sequence[Asked], width: float, size: float, box: float) -> list[list[_Chip]]:
    """Everything asked as it stands in rows: each in the first row that has room for all of it, else in rows of its
    own."""
    rows: list[list[_Chip]] = []
    for each in asked:
        chips = list(_chips(canvas, each, size, box))
        wide = sum(chip.wide + _CHIP_GAP for chip in chips) - _CHIP_GAP
        free = next((row for row in rows if _end(row) + _BETWEEN + wide <= width), None)
        if free is None:
            rows += _wrapped(chips, width)
        else:
            free += _placed(chips, _end(free) + _BETWEEN)
    return rows


def _end(row: Sequence[_Chip]) -> float:
    return row[-1].x + row[-1].wide


def _placed(chips: Sequence[_Chip], x: float) -> list[_Chip]:
    placed = []
    for chip in chips:
        placed.append(replace(chip, x=x))
        x += chip.wide + _CHIP_GAP
    return placed


def _wrapped(chips: Sequence[_Chip], width: float) -> list[list[_Chip]]:
    """One thing asked in rows of its own."""
    rows: list[list[_Chip]] = [[]]
    for chip in chips:
        x = _end(rows[-1]) + _CHIP_GAP if rows[-1] else 0.0
        if x + chip.wide > width and rows[-1]:
            rows.append([])
            x = 0.0
        rows[-1].append(replace(chip, x=x))
    return rows


def _chips(canvas: Canvas, asked: Asked, size: float, box: float) -> Iterator[_Chip]:
    if asked.label:
        yield _Chip(asked.label, False, wide=canvas.measured(asked.label, size, bold=True))
    for option in asked.options:
        yield _Chip(option, True, wide=box + _GAP + canvas.measured(option, size))


def choices(
    canvas: Canvas,
    asked: Sequence[Asked],
    x: float,
    y: float,
    width: float,
    size: float,
    *,
    box: float = 3.6,
    row: float = 5.0,
) -> float:
    """Everything asked, each option behind a box to tick, wrapped; the ``y`` below."""
    rows = choice_rows(canvas, asked, width, size, box)
    for number, chips in enumerate(rows):
        top = y + number * row
        text = top + (row - canvas.line(size)) / 2
        for chip in chips:
            left = x + chip.x
            if chip.is_option:
                tick_box(canvas, left, top + (row - box) / 2, box)
                left += box + _GAP
            canvas.write(chip.text, left, text, x + width - left, size, bold=not chip.is_option, rows=1)
    return y + len(rows) * row
