"""What drawings made from figures have in common: elements as text, and marks scattered by a hash."""

from __future__ import annotations

from collections.abc import Iterable
from hashlib import sha256
from html import escape

__all__ = ["Point", "drawing", "path", "polygon", "rect", "scatter", "shape", "words"]

Point = tuple[float, float]


def scatter(*names: object) -> float:
    """A number from 0 up to, not including, 1 that depends on nothing but ``names``."""
    first = sha256("|".join(map(str, names)).encode()).digest()[:8]
    return int.from_bytes(first, "big") / 2**64


def shape(name: str, **attributes: object) -> str:
    """One element; ``stroke_width`` is written ``stroke-width``, numbers to one place."""
    written = (f'{key.replace("_", "-")}="{_text(value)}"' for key, value in attributes.items())
    return f"<{name} {' '.join(written)}/>"


def _text(value: object) -> str:
    return f"{value:.1f}".rstrip("0").rstrip(".") if isinstance(value, float) else str(value)


def rect(x: float, y: float, width: float, height: float, fill: str, **more: object) -> str:
    """A rectangle in the colour called ``fill``."""
    return shape("rect", x=x, y=y, width=width, height=height, fill=f"var(--pic-{fill})", **more)


def polygon(points: Iterable[Point], fill: str, **more: object) -> str:
    """A closed shape in the colour called ``fill``."""
    text = " ".join(f"{_text(float(x))},{_text(float(y))}" for x, y in points)
    return shape("polygon", points=text, fill=f"var(--pic-{fill})", **more)


def path(d: str, stroke: str, width: float, **more: object) -> str:
    """Strokes in the colour called ``stroke``."""
    return shape("path", d=d, stroke=f"var(--pic-{stroke})", stroke_width=width, **more)


def words(x: float, y: float, text: str, size: int, *, anchor: str = "middle", is_bold: bool = False) -> str:
    """One line of words or figures that whoever draws was given, its base line at ``y``."""
    weight = 700 if is_bold else 500
    place = f'x="{x:.0f}" y="{y:.0f}" text-anchor="{anchor}" font-size="{size}" font-weight="{weight}"'
    return f'<text {place} fill="var(--pic-ink)">{escape(text)}</text>'


def drawing(width: int, height: int, parts: Iterable[str]) -> str:
    """The drawing of these parts, from the back to the front."""
    inside = "".join(parts)
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" fill="none">{inside}</svg>'
