"""What hangs: block, slips in the table, and the string below them, each with what it weighs beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from trainer.pictures.strokes import drawing, path, polygon, rect, words

__all__ = ["hanging"]

WIDTH, HEIGHT = 600, 620
_MIDDLE, _TABLE, _FOOT = 150.0, 210.0, 600.0
_SHORTEST = 76.0
_WIDEST = 44.0


def hanging(
    block: Sequence[str], slips: Sequence[str], lengths: Sequence[float], diameters: Sequence[float],
    labels: Sequence[Sequence[str]],
) -> str:  # fmt: skip
    """``block`` and ``slips`` are the lines beside those; sections come from the slips down, each with its own lines.

    Long sections are drawn long, but none so short that its lines do not fit.
    """
    parts = [*_above(block), *_table(slips)]
    top = _TABLE
    for length, od, lines in zip(_drawn(lengths), diameters, labels, strict=True):
        wide = _WIDEST * od / max(diameters)
        parts.append(rect(_MIDDLE - wide / 2, top, wide, length, "pipe", stroke="var(--pic-ink)", stroke_width=3))
        parts += _lines(top + length / 2, lines, 26)
        top += length
    return drawing(WIDTH, HEIGHT, [*parts, *_slips()])


def _drawn(lengths: Sequence[float]) -> list[float]:
    """Heights that fill the room below the table, in order of the lengths but none too short."""
    room = _FOOT - _TABLE - 40 - _SHORTEST * len(lengths)
    return [_SHORTEST + room * each / sum(lengths) for each in lengths]


def _above(lines: Sequence[str]) -> Iterator[str]:
    yield rect(_MIDDLE - 6, 0, 12, 30, "line")
    yield rect(_MIDDLE - 46, 24, 92, 66, "steel-dark", stroke="var(--pic-ink)", stroke_width=3, rx=12)
    yield path(f"M{_MIDDLE - 30:.0f} 90V150M{_MIDDLE + 30:.0f} 90V150", "ink", 6)
    yield rect(_MIDDLE - 42, 142, 84, 22, "handle", stroke="var(--pic-ink)", stroke_width=3, rx=6)
    yield rect(_MIDDLE - 12, 160, 24, _TABLE - 160, "pipe", stroke="var(--pic-ink)", stroke_width=3)
    yield from _lines(48, lines, 26)


def _table(lines: Sequence[str]) -> Iterator[str]:
    yield rect(0, _TABLE, 2 * _MIDDLE, 40, "floor", stroke="var(--pic-ink)", stroke_width=3)
    yield rect(_MIDDLE - 70, _TABLE, 140, 40, "bowl", stroke="var(--pic-ink)", stroke_width=3)
    yield from _lines(_TABLE - 14, lines, 30)


def _slips() -> Iterator[str]:
    for side in (-1, 1):
        wedge = [(13.0, -14.0), (46.0, -14.0), (36.0, 40.0), (13.0, 40.0)]
        points = [(_MIDDLE + side * x, _TABLE + y) for x, y in wedge]
        yield polygon(points, "slip", stroke="var(--pic-ink)", stroke_width=3)


def _lines(middle: float, lines: Sequence[str], size: int) -> Iterator[str]:
    """Lines of words right of the string, the first one bold, about this height."""
    for place, line in enumerate(lines):
        across = 2 * _MIDDLE + 16
        down = middle + 10 + size * 1.25 * (place - (len(lines) - 1) / 2)
        yield words(across, down, line, size, anchor="start", is_bold=place == 0)
