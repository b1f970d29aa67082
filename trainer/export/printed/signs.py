"""Shapes that say something beside a word: standings, what a step was, must-be-met, and boxes to tick by hand."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import cos, pi, sin

from trainer.core.observation import MET, MET_AFTER_PROMPT, NOT_APPLICABLE, NOT_MET, NOT_OBSERVED
from trainer.export.printed.canvas import POINT, Canvas

__all__ = ["FIGURES", "STATE_FIGURES", "critical", "critical_width", "figure", "tick_box"]

_BLACK, _WHITE = "#000000", "#ffffff"
_STROKE = 0.14
_Points = list[tuple[float, float]]


def figure(canvas: Canvas, name: str, x: float, y: float, size: float) -> None:
    """The shape called ``name``, black and white, in a square of ``size`` with its upper left corner there."""
    FIGURES[name](canvas, x, y, size)


def tick_box(canvas: Canvas, x: float, y: float, size: float, letter: str = "") -> None:
    """A box to tick; ``letter`` stands in it, light, for what a tick there means."""
    canvas.box(x, y, size, size, thick=0.2, fill=_WHITE)
    points = 7.0
    top = y + (size - canvas.line(points)) / 2
    if letter:
        canvas.write(letter, x, top, size, points, align="C", grey=0.35, rows=1)


def critical(canvas: Canvas, x: float, y: float, word: str, size: float) -> float:
    """A black disc with ``!`` and the word in bold, for a line of text of that size; how wide both are."""
    across = size * POINT * 1.05
    _disc_with_call(canvas, x, y + (canvas.line(size) - across) / 2, across)
    canvas.write(word, x + across + 0.8, y, 60, size, bold=True, rows=1)
    return critical_width(canvas, word, size)


def critical_width(canvas: Canvas, word: str, size: float) -> float:
    """How wide ``critical`` draws, with the blank after it."""
    return size * POINT * 1.05 + 0.8 + canvas.measured(f"{word} ", size, bold=True)


def _disc_with_call(canvas: Canvas, x: float, y: float, size: float) -> None:
    canvas.disc(x + size / 2, y + size / 2, size / 2, fill=_BLACK, thick=0.01)
    canvas.path(_at(x, y, size, (0.5, 0.2), (0.5, 0.58)), thick=size * 0.16, white=True)
    canvas.path(_at(x, y, size, (0.5, 0.74), (0.5, 0.78)), thick=size * 0.16, white=True)


def _ring(canvas: Canvas, x: float, y: float, size: float) -> None:
    thick = size * _STROKE
    canvas.disc(x + size / 2, y + size / 2, (size - thick) / 2, fill=_WHITE, thick=thick)


def _half(canvas: Canvas, x: float, y: float, size: float) -> None:
    _ring(canvas, x, y, size)
    canvas.half_disc(x + size / 2, y + size / 2, size / 2)


def _tick_disc(canvas: Canvas, x: float, y: float, size: float) -> None:
    canvas.disc(x + size / 2, y + size / 2, size / 2, fill=_BLACK, thick=0.01)
    canvas.path(_at(x, y, size, (0.24, 0.52), (0.43, 0.70), (0.76, 0.33)), thick=size * _STROKE, white=True)


def _triangle(canvas: Canvas, x: float, y: float, size: float) -> None:
    canvas.shape(_at(x, y, size, (0.5, 0.07), (0.98, 0.93), (0.02, 0.93)), fill=_WHITE, thick=size * 0.11)
    _call(canvas, x, y + size * 0.09, size)


def _diamond(canvas: Canvas, x: float, y: float, size: float) -> None:
    canvas.shape(_at(x, y, size, (0.5, 0), (1, 0.5), (0.5, 1), (0, 0.5)), fill=_BLACK, thick=0.01)
    _call(canvas, x, y, size, white=True)


def _call(canvas: Canvas, x: float, y: float, size: float, *, white: bool = False) -> None:
    """The stroke and dot of an exclamation mark in the middle."""
    canvas.path(_at(x, y, size, (0.5, 0.30), (0.5, 0.54)), thick=size * 0.11, white=white)
    canvas.path(_at(x, y, size, (0.5, 0.70), (0.5, 0.72)), thick=size * 0.11, white=white)


def _octagon(canvas: Canvas, x: float, y: float, size: float) -> None:
    turns = [pi / 8 + number * pi / 4 for number in range(8)]
    points = [(x + size / 2 * (1 + 1.05 * cos(turn)), y + size / 2 * (1 + 1.05 * sin(turn))) for turn in turns]
    canvas.shape(points, fill=_BLACK, thick=0.01)
    canvas.path(_at(x, y, size, (0.25, 0.5), (0.75, 0.5)), thick=size * 0.16, white=True)


def _tick(canvas: Canvas, x: float, y: float, size: float) -> None:
    canvas.path(_at(x, y, size, (0.06, 0.52), (0.38, 0.84), (0.94, 0.16)), thick=size * 0.17)


def _bubble(canvas: Canvas, x: float, y: float, size: float) -> None:
    outline = ((0.04, 0.08), (0.96, 0.08), (0.96, 0.72), (0.48, 0.72), (0.24, 0.96), (0.24, 0.72), (0.04, 0.72))
    canvas.shape(_at(x, y, size, *outline), fill=_WHITE, thick=size * 0.09)
    canvas.path(_at(x, y, size, (0.28, 0.40), (0.44, 0.56), (0.74, 0.24)), thick=size * 0.10)


def _cross(canvas: Canvas, x: float, y: float, size: float) -> None:
    canvas.path(_at(x, y, size, (0.1, 0.1), (0.9, 0.9)), thick=size * 0.17)
    canvas.path(_at(x, y, size, (0.9, 0.1), (0.1, 0.9)), thick=size * 0.17)


def _unseen(canvas: Canvas, x: float, y: float, size: float) -> None:
    _ring(canvas, x, y, size)
    canvas.path(_at(x, y, size, (0.18, 0.18), (0.82, 0.82)), thick=size * 0.11)


def _dash(canvas: Canvas, x: float, y: float, size: float) -> None:
    canvas.path(_at(x, y, size, (0.15, 0.5), (0.85, 0.5)), thick=size * 0.15)


def _at(x: float, y: float, size: float, *parts: tuple[float, float]) -> _Points:
    return [(x + size * across, y + size * down) for across, down in parts]


FIGURES: Mapping[str, Callable[[Canvas, float, float, float], None]] = {
    "ring": _ring,
    "half": _half,
    "tick-disc": _tick_disc,
    "triangle": _triangle,
    "diamond": _diamond,
    "octagon": _octagon,
    "tick": _tick,
    "bubble": _bubble,
    "cross": _cross,
    "unseen": _unseen,
    "dash": _dash,
}
"""Every shape by the name that screens have for it."""

STATE_FIGURES: Mapping[str, str] = {
    MET: "tick",
    MET_AFTER_PROMPT: "bubble",
    NOT_MET: "cross",
    NOT_OBSERVED: "unseen",
    NOT_APPLICABLE: "dash",
}
"""What a step was -> its shape."""
