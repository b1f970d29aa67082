"""The dial of a weight indicator, the joint that the slips go on next with its bands, a board of weights and limits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, radians, sin

from trainer.pictures.digits import number
from trainer.pictures.strokes import Point, drawing, path, polygon, rect, scatter, shape

__all__ = ["load_board"]

WIDTH, HEIGHT = 640, 744
_HUB: Point = (222.0, 222.0)
_RIM = 206.0
_FULL = 160
"""The last figure on the dial."""
_SMALL, _MIDDLE, _LARGE = 2, 10, 20
"""From mark to mark: the divisions, the longer ones, and those with a figure."""
_JOINT = 543.0
_BOX, _BODY = 124.0, 84.0
_PATCH = 70.0
"""Height of the place where the bands are, on the joint as on the board."""
_BANDS = {1: ((8, 28),), 2: ((16, 12), (40, 12)), 3: ((22, 8), (38, 8), (54, 8))}
"""From the top of that place, and how wide: no two patterns are alike in number, width or height."""
_BOARD_TOP, _ROW = 456.0, 90.0


def load_board(indicator: int, block: int, limits: Sequence[int], bands: int, grain: int) -> str:
    """The needle at ``indicator``, ``block`` and ``limits`` on the board, all in t; the joint with its ``bands``.

    ``bands`` 0 is a joint with mud where they would be. What ``grain`` scatters is dirt and scratches only.
    """
    if len(limits) != len(_BANDS) or not 0 <= indicator <= _FULL or bands not in (0, *_BANDS):
        raise ValueError(f"a needle from 0 to {_FULL}, three limits, and 0 to 3 bands")
    parts = [
        rect(0, 0, WIDTH, HEIGHT, "paper"),
        *_dial(),
        *_needle(indicator),
        *_figures(),
        *_at_the_table(grain),
        *(_banded(_JOINT, 64, bands) if bands else _mud(grain)),
        *_board(block, limits),
    ]
    return drawing(WIDTH, HEIGHT, parts)


def _at(value: float, radius: float) -> Point:
    """Where the dial has ``value``: from lower left over the top to lower right."""
    turn = radians(300 * value / _FULL - 150)
    return _HUB[0] + radius * sin(turn), _HUB[1] - radius * cos(turn)


def _dial() -> Iterator[str]:
    x, y = _HUB
    yield shape("circle", cx=x, cy=y, r=_RIM, fill="var(--pic-paper)", stroke="var(--pic-steel-dark)", stroke_width=20)
    yield shape("circle", cx=x, cy=y, r=_RIM + 10, stroke="var(--pic-ink)", stroke_width=3)
    for every, length, thick in ((_SMALL, 14, 2.2), (_MIDDLE, 23, 3.5), (_LARGE, 27, 5.5)):
        yield path("".join(_mark(value, length) for value in range(0, _FULL + 1, every)), "ink", thick)


def _mark(value: int, length: float) -> str:
    (x, y), (inner_x, inner_y) = _at(value, _RIM - 13), _at(value, _RIM - 13 - length)
    return f"M{x:.1f} {y:.1f}L{inner_x:.1f} {inner_y:.1f}"


def _figures() -> Iterator[str]:
    for value in range(0, _FULL + 1, _LARGE):
        yield from number(value, *_at(value, _RIM - 80), 29)


def _needle(indicator: int) -> Iterator[str]:
    """The needle, so thin at its tip that it leaves the marks beside its own to be seen."""
    (x, y), (tip_x, tip_y) = _HUB, _at(indicator, _RIM - 20)
    along_x, along_y = (tip_x - x) / (_RIM - 20), (tip_y - y) / (_RIM - 20)
    tail = [(x - 46 * along_x + side * 8 * along_y, y - 46 * along_y - side * 8 * along_x) for side in (1, -1)]
    tip = [(tip_x - side * 1.6 * along_y, tip_y + side * 1.6 * along_x) for side in (1, -1)]
    yield polygon([*tail, *tip], "danger")
    yield shape("circle", cx=x, cy=y, r=16, fill="var(--pic-ink)")


def _at_the_table(grain: int) -> Iterator[str]:
    """The joint that hangs in the elevators, box up, over the empty bowl: the slips are not set yet."""
    edge = {"stroke": "var(--pic-ink)", "stroke_width": 3}
    left, right = _JOINT - _BODY / 2, _JOINT + _BODY / 2
    box = (_JOINT - _BOX / 2, _JOINT + _BOX / 2)
    for side in (-1, 1):
        yield rect(_JOINT + 77 * side - 6, -4, 12, 220, "steel", **edge)
    yield rect(_JOINT - 88, 366, 176, 68, "floor", **edge)
    bowl = [(-74.0, 366.0), (74.0, 366.0), (56.0, 434.0), (-56.0, 434.0)]
    yield polygon([(_JOINT + x, y) for x, y in bowl], "void", **edge)
    yield rect(left, 170, _BODY, 264, "pipe", **edge)
    shoulder = [(box[0], 24), (box[1], 24), (box[1], 172), (right, 204), (left, 204), (box[0], 172)]
    yield polygon(shoulder, "pipe", **edge)
    yield rect(_JOINT - 50, 14, 100, 10, "pipe-dark", **edge)
    yield rect(_JOINT - 87, 184, 174, 52, "handle", rx=10, **edge)
    yield path(f"M{_JOINT} 184V236", "ink", 3)
    scratches = "".join(_scratch(grain, each, left, right) for each in range(9))
    yield path(scratches, "pipe-dark", 3, stroke_linecap="round")


def _scratch(grain: int, each: int, left: float, right: float) -> str:
    x = left + 10 + (right - left - 20) * scatter(grain, each, "x")
    y = 246 + 84 * scatter(grain, each, "y")
    return f"M{x:.1f} {y:.1f}v{8 + 14 * scatter(grain, each):.1f}"


def _banded(middle: float, top: float, bands: int) -> Iterator[str]:
    """The bands of such a joint, round a place whose top is at ``top``."""
    for down, wide in _BANDS[bands]:
        yield rect(middle - _BOX / 2, top + down, _BOX, wide, "ink")


def _mud(grain: int) -> Iterator[str]:
    """Mud all over the place where the bands would be, with runs below it."""
    left, right, top, bottom = _JOINT - _BOX / 2 - 5, _JOINT + _BOX / 2 + 5, 48.0, 150.0
    steps = 12
    across = [left + (right - left) * step / steps for step in range(steps + 1)]
    upper = [(x, top + 9 * scatter(grain, n, "upper")) for n, x in enumerate(across)]
    lower = [(x, bottom + 26 * scatter(grain, n, "lower") ** 2) for n, x in enumerate(across)]
    yield polygon([*upper, *reversed(lower)], "slip-dark", stroke="var(--pic-ink)", stroke_width=3,
                  stroke_linejoin="round")  # fmt: skip
    lumps = "".join(
        f"M{left + 14 + (right - left - 40) * scatter(grain, n, 'lump'):.1f} {top + 18 + 15 * n}q8 -9 16 0"
        for n in range(6)
    )
    yield path(lumps, "ink", 2.5, stroke_linecap="round")


def _board(block: int, limits: Sequence[int]) -> Iterator[str]:
    yield rect(18, _BOARD_TOP, WIDTH - 36, 3 * _ROW, "paper", rx=10, stroke="var(--pic-ink)", stroke_width=4)
    yield from _block()
    yield from number(block, 112, _BOARD_TOP + 225, 48)
    inner = 212
    yield path(f"M{inner} {_BOARD_TOP}V{_BOARD_TOP + 3 * _ROW:.0f}", "ink", 3)
    yield path("".join(f"M{inner} {_BOARD_TOP + _ROW * n:.0f}H{WIDTH - 18}" for n in (1, 2)), "line", 2)
    for row, limit in enumerate(limits):
        above = _BOARD_TOP + _ROW * row + (_ROW - _PATCH) / 2
        yield rect(316 - _BOX / 2, above, _BOX, _PATCH, "pipe", stroke="var(--pic-ink)", stroke_width=2)
        yield from _banded(316, above, row + 1)
        yield from number(limit, 500, above + _PATCH / 2, 48)


def _block() -> Iterator[str]:
    """A travelling block with its hook, seen from the front."""
    middle, top = 112.0, _BOARD_TOP + 22
    edge = {"stroke": "var(--pic-ink)", "stroke_width": 3}
    yield path(f"M{middle - 22} {top - 4}V{top + 40}M{middle + 22} {top - 4}V{top + 40}", "line", 4)
    yield rect(middle - 40, top + 8, 80, 76, "steel-dark", rx=20, **edge)
    yield shape("circle", cx=middle, cy=top + 42, r=22, fill="var(--pic-steel-light)", **edge)
    yield shape("circle", cx=middle, cy=top + 42, r=6, fill="var(--pic-ink)")
    hook = f"M{middle} {top + 84}V{top + 106}C{middle + 34} {top + 112} {middle + 26} {top + 156} {middle} {top + 154}"
    yield path(f"{hook}C{middle - 16} {top + 153} {middle - 24} {top + 142} {middle - 22} {top + 130}", "ink", 11,
               stroke_linecap="round")  # fmt: skip
