"""A straight-edge along a surface of slips or bowl, feeler leaves in the gaps, drawn many times wider than they are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import cos, pi

from trainer.pictures.strokes import Point, drawing, path, polygon, rect, scatter

__all__ = ["exaggeration", "straight_edge"]

WIDTH, HEIGHT = 640, 620
_EDGE, _EDGE_WIDTH = 430.0, 110.0
_TOP, _BOTTOM = 60.0, 560.0
_LEAF = 16.0
"""Width of one leaf."""
_LEAVES_MOST = 15
_TALL_MM = 420.0
"""What the height of the drawing stands for [mm]: about a slip."""
_SAMPLES = 60
_COLOURS = {1: ("slip", "slip-dark"), 2: ("steel", "steel-dark"), 3: ("bowl", "line")}
"""Body and surface line of a back, a face and a bowl."""


def exaggeration(tick: float) -> int:
    """How many times wider than tall the gaps are drawn when a leaf is ``tick`` [mm] thick."""
    return round(_LEAF / tick / ((_BOTTOM - _TOP) / _TALL_MM))


def straight_edge(leaves: Sequence[int], surface: int, grain: int) -> str:
    """The edge over a gap of so many ``leaves`` at the top, in the middle and at the bottom of ``surface``."""
    if len(leaves) != 3 or not all(0 <= each <= _LEAVES_MOST for each in leaves):
        raise ValueError(f"three gaps of 0 to {_LEAVES_MOST} leaves")
    body, line = _COLOURS[surface]
    profile = [*_profile([each * _LEAF for each in leaves], grain)]
    parts = [
        rect(0, 0, WIDTH, HEIGHT, "paper"),
        polygon([(60, 20), *profile, (60, HEIGHT - 20)], body),
        path("M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in profile), line, 5, stroke_linejoin="round"),
        *_ruler(),
    ]
    for count, place in zip(leaves, _places(), strict=True):
        parts += _stack(count, place)
    return drawing(WIDTH, HEIGHT, parts)


def _places() -> tuple[float, float, float]:
    """Where the gaps are measured."""
    return _TOP + 45, (_TOP + _BOTTOM) / 2, _BOTTOM - 45


def _profile(gaps: Sequence[float], grain: int) -> Iterator[Point]:
    """The surface from top to bottom: even at the places measured, easing from one to the next."""
    top, middle, bottom = _places()
    stations = [(20.0, gaps[0]), (top + 32, gaps[0]), (middle - 32, gaps[1]), (middle + 32, gaps[1])]
    stations += [(bottom - 32, gaps[2]), (HEIGHT - 20.0, gaps[2])]
    for (upper, one), (lower, other) in pairwise(stations):
        for step in range(12):
            share = step / 12
            eased = one + (other - one) * (1 - cos(pi * share)) / 2
            rough = 0.0 if one == other else 1.5 * (scatter(grain, upper, step) - 0.5)
            yield _EDGE - eased + rough, upper + (lower - upper) * share
    yield _EDGE - gaps[2], HEIGHT - 20.0


def _ruler() -> Iterator[str]:
    yield rect(_EDGE, 10, _EDGE_WIDTH, HEIGHT - 20, "steel-light", stroke="var(--pic-ink)", stroke_width=3)
    outer = _EDGE + _EDGE_WIDTH
    marks = "".join(f"M{outer - (34 if n % 5 == 0 else 20):.0f} {30 + 20 * n}H{outer:.0f}" for n in range(29))
    yield path(marks, "line", 2)


def _stack(count: int, place: float) -> Iterator[str]:
    """So many leaves side by side in the gap, every fifth one dark."""
    for leaf in range(count):
        colour = "handle" if leaf % 5 == 4 else "glove"
        yield rect(_EDGE - (leaf + 1) * _LEAF, place - 26, _LEAF, 52, colour, stroke="var(--pic-ink)", stroke_width=2)
