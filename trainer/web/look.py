"""How things look, in one place: the shape and colour of each standing, step state and verdict.

A standing is told by word, shape *and* colour, so that none rests on colour alone. Shapes are path data in a square of
24; colours are pairs (light, dark), written as custom properties that every part and ``assets/style.css`` use.
"""

from __future__ import annotations

from collections.abc import Mapping
from html import escape
from urllib.parse import quote

from trainer.pictures import DARK, LIGHT

__all__ = ["SHAPES", "STANDING_LOOKS", "STATE_LOOKS", "TONES", "badge", "mark", "variables"]

_DISC = "M12 2a10 10 0 1 1 0 20a10 10 0 0 1 0-20z"
_HOLE = "M12 5a7 7 0 1 0 0 14a7 7 0 0 0 0-14z"

SHAPES: Mapping[str, str] = {
    "ring": f"{_DISC}{_HOLE}",
    "half": f"{_DISC}M12 5v14a7 7 0 0 0 0-14z",
    "tick-disc": f"{_DISC}M10.6 17.2l-5-5 2-2 3 3 6-6 2 2z",
    "triangle": "M12 2L23 21.5H1zM12 7.6L5.7 18.6h12.6zM11 10.6h2v4h-2zM11 15.6h2v1.8h-2z",
    "diamond": "M12 .8L23.2 12 12 23.2.8 12zM10.7 6.4h2.6v7h-2.6zM10.7 15.2h2.6v2.6h-2.6z",
    "octagon": "M8 1.5h8L22.5 8v8L16 22.5H8L1.5 16V8zM6 10.4h12v3.2H6z",
    "tick": "M9 20.4l-7-7 2.7-2.7L9 15 19.3 4.6 22 7.3z",
    "bubble": "M3 2.5h18v14.5H10.5L5.5 22v-5H3zM10.6 14.6l6.8-6.8-1.8-1.8-5 5-2.2-2.2-1.8 1.8z",
    "cross": "M5.6 2.9L12 9.3l6.4-6.4 2.7 2.7-6.4 6.4 6.4 6.4-2.7 2.7-6.4-6.4-6.4 6.4-2.7-2.7L9.3 12 2.9 5.6z",
    "unseen": f"{_DISC}M7.3 5.6l11.1 11.1A8 8 0 0 0 7.3 5.6zM5.6 7.3a8 8 0 0 0 11.1 11.1z",
    "dash": "M4 10.4h16v3.2H4z",
}
"""Path data in a view box of ``0 0 24 24``, filled by the even-odd rule."""

TONES: Mapping[str, tuple[tuple[str, str], tuple[str, str]]] = {
    "neutral": (("#434b50", "#e7eae7"), ("#c9d0d2", "#2b3439")),
    "learn": (("#1a4a87", "#dbe7f5"), ("#a5cbf7", "#17314e")),
    "good": (("#12593a", "#d6ecdd"), ("#93dfb4", "#12392a")),
    "soon": (("#6f4300", "#fae6c0"), ("#f5ca80", "#45320c")),
    "late": (("#93190f", "#fbdcd5"), ("#ffb4a8", "#561d19")),
    "stop": (("#ffffff", "#5a1031"), ("#ffffff", "#8a1c4a")),
}
"""Colour name -> (ink, ground) in light, (ink, ground) in dark; every pair reads at 4.5 to 1 or better."""

STANDING_LOOKS: Mapping[str, tuple[str, str]] = {
    "not started": ("ring", "neutral"),
    "learning": ("half", "learn"),
    "current": ("tick-disc", "good"),
    "due": ("triangle", "soon"),
    "overdue": ("diamond", "late"),
    "stood down": ("octagon", "stop"),
}
"""Standing -> (shape, colour)."""

STATE_LOOKS: tuple[tuple[str, str, str], ...] = (
    ("met", "tick", "good"),
    ("met after prompt", "bubble", "soon"),
    ("not met", "cross", "late"),
    ("not observed", "unseen", "neutral"),
    ("not applicable", "dash", "neutral"),
)
"""Step state, shape and colour, in the order of the sheet."""


def badge(standing: str, word: str) -> str:
    """HTML of a standing's shape and ``word`` (one of our own sentences), for ``st.html``."""
    shape, tone = STANDING_LOOKS[standing]
    # Streamlit takes drawings out of its HTML, so the shape is a mask that the style sheet has.
    return f'<span class="badge badge-{tone}"><i style="--shape: var(--shape-{shape})"></i>{escape(word)}</span>'


def mark(shape: str, word: str) -> str:
    """HTML of a plain mark that is no standing: ``shape`` and ``word``, for ``st.html``."""
    return f'<span class="badge badge-neutral"><i style="--shape: var(--shape-{shape})"></i>{escape(word)}</span>'


def variables() -> str:
    """The style sheet's first rule: shapes, and colours that follow the light or dark theme, as custom properties."""
    lines = [f"--shape-{name}: {_picture(path)};" for name, path in SHAPES.items()]
    lines += [f"--pic-{name}: light-dark({LIGHT[name]}, {DARK[name]});" for name in LIGHT]
    for tone, (light, dark) in TONES.items():
        lines.append(f"--{tone}-ink: light-dark({light[0]}, {dark[0]});")
        lines.append(f"--{tone}-ground: light-dark({light[1]}, {dark[1]});")
    return ":root {\n" + "\n".join(lines) + "\n}\n"


def _picture(path: str) -> str:
    """A shape as a picture that a style sheet can hold."""
    svg = f"<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 24 24'><path fill-rule='evenodd' d='{path}'/></svg>"
    return f'url("data:image/svg+xml,{quote(svg)}")'
