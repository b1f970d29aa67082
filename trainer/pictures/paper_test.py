"""The paper of a slip test, rolled out: a band of tooth marks for each segment, thirds ruled in pencil."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from trainer.pictures.strokes import drawing, path, polygon, rect, scatter, shape

__all__ = ["paper_test"]

WIDTH, HEIGHT = 720, 560
_LEFT, _RIGHT, _TOP, _BOTTOM = 70.0, 690.0, 70.0, 520.0
_ROWS = 12
"""Rows of teeth in a third."""
_DASHES = 3
"""Marks of one tooth of one die."""

Thirds = Sequence[float]


def paper_test(contact: Sequence[Thirds], grain: int) -> str:
    """The sheet on which ``contact``, the share printed of each third of each segment, top to bottom, can be read.

    As many marks stand in a third as its share says; which ones, ``grain`` scatters.
    """
    band = (_RIGHT - _LEFT) / len(contact)
    parts = [*_paper(), *_pencil(len(contact), band)]
    for number, thirds in enumerate(contact):
        marks = "".join(_marks(number, thirds, _LEFT + number * band, band, grain))
        if marks:
            parts.append(path(marks, "ink", 4.6, stroke_linecap="butt"))
    return drawing(WIDTH, HEIGHT, parts)


def _paper() -> Iterator[str]:
    yield rect(0, 0, WIDTH, HEIGHT, "paper")
    yield rect(_LEFT - 34, _TOP - 46, _RIGHT - _LEFT + 48, _BOTTOM - _TOP + 62, "bowl", rx=6)


def _pencil(segments: int, band: float) -> Iterator[str]:
    """Thirds and segments ruled, dots that number the segments, and an arrow that points to the upper end."""
    third = (_BOTTOM - _TOP) / 3
    lines = "".join(f"M{_LEFT - 34:.0f} {_TOP + third * n:.0f}H{_RIGHT + 14:.0f}" for n in (1, 2))
    lines += "".join(f"M{_LEFT + band * n:.0f} {_TOP - 14:.0f}V{_BOTTOM:.0f}" for n in range(1, segments))
    yield path(lines, "line", 2, stroke_dasharray="10 7")
    for number in range(segments):
        middle = _LEFT + band * (number + 0.5)
        for dot in range(number + 1):
            yield shape("circle", cx=middle + 18 * (dot - number / 2), cy=_TOP - 26, r=6, fill="var(--pic-line)")
    across = _LEFT - 17
    yield polygon([(across - 11, _TOP + 16), (across, _TOP - 8), (across + 11, _TOP + 16)], "line")
    yield path(f"M{across} {_TOP + 14}V{_TOP + 62}", "line", 5)


def _marks(number: int, thirds: Thirds, left: float, band: float, grain: int) -> Iterator[str]:
    """The marks of one segment as path text."""
    dies = max(2, round(band / 70))
    pitch = (band - 26) / dies
    dash = (pitch - 12) / _DASHES
    for third, share in enumerate(thirds):
        order = sorted(
            ((row, die, mark) for row in range(_ROWS) for die in range(dies) for mark in range(_DASHES)),
            key=lambda at: -_firmness(number, third, thirds, at, grain),
        )
        height = (_BOTTOM - _TOP) / 3 / _ROWS
        for row, die, mark in sorted(order[: round(share * len(order))]):
            x = left + 19 + die * pitch + mark * dash + 2 * scatter(grain, number, third, row, die, mark, "x")
            y = _TOP + (third * _ROWS + row + 0.5) * height
            yield f"M{x:.0f} {y:.1f}h{dash - 3:.0f}"


def _firmness(number: int, third: int, thirds: Thirds, at: tuple[int, int, int], grain: int) -> float:
    """How firmly a tooth presses: in patches, and more towards the neighbour that prints more."""
    row, die, mark = at
    above, below = thirds[max(0, third - 1)], thirds[min(2, third + 1)]
    slope = (above - below) * (0.5 - (row + 0.5) / _ROWS)
    patch = scatter(grain, number, third, row // 3, die, "patch")
    return 1.6 * slope + 0.5 * patch + 0.5 * scatter(grain, number, third, row, die, mark)
