"""The box face above the slips while the tongs pull: how high it stands, and what the height is measured from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from trainer.pictures.strokes import drawing, path, polygon, rect, words

__all__ = ["stick_up"]

WIDTH, HEIGHT = 600, 460
_FLOOR, _ROOM, _PIPE = 380.0, 250.0, 300.0


def stick_up(height: float, site: float, lines: Sequence[str]) -> str:
    """The box at ``height`` and a dashed line at the height of the ``site``; ``lines`` stand at the measure."""
    scale = _ROOM / max(height, site)
    top, line = _FLOOR - height * scale, _FLOOR - site * scale
    return drawing(WIDTH, HEIGHT, [*_floor(), *_pipe(top), *_tongs(top), *_site(line), *_measure(top, lines)])


def _floor() -> Iterator[str]:
    yield rect(0, _FLOOR, WIDTH, HEIGHT - _FLOOR, "floor")
    yield rect(_PIPE - 120, _FLOOR, 240, HEIGHT - _FLOOR, "bowl", stroke="var(--pic-ink)", stroke_width=3)
    for side in (-1, 1):
        wedge = [(20.0, -16.0), (74.0, -16.0), (52.0, 70.0), (20.0, 70.0)]
        points = [(_PIPE + side * x, _FLOOR + y) for x, y in wedge]
        yield polygon(points, "slip", stroke="var(--pic-ink)", stroke_width=3)


def _pipe(top: float) -> Iterator[str]:
    yield rect(_PIPE - 20, top, 40, HEIGHT - top, "pipe", stroke="var(--pic-ink)", stroke_width=3)
    yield rect(_PIPE - 32, top, 64, 62, "pipe-dark", stroke="var(--pic-ink)", stroke_width=3, rx=4)


def _tongs(top: float) -> Iterator[str]:
    yield rect(_PIPE - 190, top + 14, 168, 22, "steel", stroke="var(--pic-ink)", stroke_width=3, rx=8)
    yield rect(_PIPE - 44, top + 6, 88, 38, "steel-dark", stroke="var(--pic-ink)", stroke_width=3, rx=10)
    yield path(f"M{_PIPE - 176:.0f} {top + 25:.0f}h-64", "danger", 6)
    yield polygon([(_PIPE - 256, top + 25), (_PIPE - 232, top + 13), (_PIPE - 232, top + 37)], "danger")


def _site(line: float) -> Iterator[str]:
    yield path(f"M40 {line:.0f}H{WIDTH - 40}", "look", 3, stroke_dasharray="12 8")


def _measure(top: float, lines: Sequence[str]) -> Iterator[str]:
    x, foot = _PIPE + 96, _FLOOR - 16
    yield path(f"M{x:.0f} {top:.0f}V{foot:.0f}M{x - 14:.0f} {top:.0f}h28M{x - 14:.0f} {foot:.0f}h28", "ink", 4)
    for place, line in enumerate(lines):
        yield words(x + 22, (top + foot) / 2 + 8 + 34 * place, line, 34 if place == 0 else 27, anchor="start",
                    is_bold=place == 0)  # fmt: skip
