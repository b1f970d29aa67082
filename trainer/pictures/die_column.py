"""A column of dies in its segment, seen from the side beside the pipe that they are to hold."""

from __future__ import annotations

from collections.abc import Iterator

from trainer.pictures.strokes import Point, drawing, path, polygon, rect, scatter

__all__ = ["die_column"]

WIDTH, HEIGHT = 620, 640
_TOP, _BOTTOM = 60.0, 600.0
_ROOT, _DEPTH = 270.0, 84.0
"""Where the teeth stand on the die, and how far a sharp one reaches."""
_TEETH = 3
_PIPE = 420.0
_KEEPER = 22.0


def die_column(count: int, wear: float, packed: float, missing: int, reversed_die: int, grain: int) -> str:
    """``count`` dies, worn and packed to a share; the numbers, from the top, of one gone and one turned over, or 0."""
    parts = [*_segment(), *_pipe()]
    height = (_BOTTOM - _TOP) / count
    for number in range(1, count + 1):
        top = _TOP + (number - 1) * height
        if number == missing:
            parts.append(rect(_ROOT - 96, top + 3, 96, height - 6, "void", rx=3))
        else:
            parts += _die(top, height, wear, packed, number == reversed_die, f"{grain}-{number}")
    return drawing(WIDTH, HEIGHT, parts)


def _segment() -> Iterator[str]:
    yield rect(0, 0, WIDTH, HEIGHT, "paper")
    yield polygon([(60, 20), (_ROOT - 14, 20), (_ROOT - 14, 620), (168, 620)], "slip")
    yield rect(_ROOT - 104, _TOP - _KEEPER, 104, _BOTTOM - _TOP + 2 * _KEEPER, "slip-dark", rx=4)
    for y in (_TOP - _KEEPER, _BOTTOM):
        yield rect(_ROOT - 96, y + 3, 100, _KEEPER - 6, "steel-dark", rx=3)


def _pipe() -> Iterator[str]:
    """The pipe with the arrow of its load."""
    yield rect(_PIPE, 0, WIDTH - _PIPE - 20, HEIGHT, "pipe")
    yield rect(_PIPE, 0, 10, HEIGHT, "pipe-dark")
    middle = (_PIPE + WIDTH - 10) / 2
    yield path(f"M{middle} 250V360", "ink", 14)
    yield polygon([(middle - 30, 350), (middle + 30, 350), (middle, 405)], "ink")


def _die(top: float, height: float, wear: float, packed: float, is_reversed: bool, seed: str) -> Iterator[str]:
    yield rect(_ROOT - 96, top + 3, 96, height - 6, "steel", rx=3)
    if packed > 0:
        filling = _filling(top + 1, height - 2, packed, seed)
        yield polygon(filling, "slip-dark", stroke="var(--pic-line)", stroke_width=2)
    pitch = (height - 10) / _TEETH
    for tooth in range(_TEETH):
        start = top + 5 + tooth * pitch
        worn = min(1.0, wear + (0.06 * scatter(seed, tooth) if wear > 0 else 0.0))
        yield polygon(_tooth(start, pitch, worn, is_reversed), "steel-light", stroke="var(--pic-ink)", stroke_width=2)


def _tooth(start: float, pitch: float, wear: float, is_reversed: bool) -> list[Point]:
    """A tooth from its upper root to its lower one: it points up against the load, its tip worn to a flat."""
    reach = _DEPTH * (1 - 0.8 * wear)
    tip = -0.08
    # Along the steep flank the tip loses nothing in height; along the long one it recedes as it wears.
    upper = (reach, pitch * tip * reach / _DEPTH)
    lower = (reach, pitch * (1 - (1 - tip) * reach / _DEPTH))
    profile = [(0.0, 0.0), upper, lower, (0.0, pitch)]
    if is_reversed:
        profile = [(x, pitch - y) for x, y in profile]
    return [(_ROOT + x, start + y) for x, y in profile]


def _filling(top: float, height: float, packed: float, seed: str) -> list[Point]:
    """What is packed into the grooves of one die, its surface lumpy."""
    steps = 16
    edge = [
        (_ROOT + _DEPTH * packed * (0.9 + 0.2 * scatter(seed, step, "lump")), top + height * step / steps)
        for step in range(steps + 1)
    ]
    return [(_ROOT, top), *edge, (_ROOT, top + height)]
