"""A line chart with both units on its sides, light enough to be drawn anew at every turn of a slider.

With a ``Moving`` a picture of the string stands beside it, and a cursor in the chart follows that; it plays on request,
pauses, goes to its highest and lowest moment, and stands still where the browser asks for reduced motion.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Literal

from trainer.web.parts.mounting import mount, said
from trainer.words import Words

__all__ = ["Axis", "Band", "Limit", "Line", "Moving", "chart"]

Tone = Literal["load", "calm", "soon", "late", "loose", "site"]
"""What a line is about, told by its colour, its dashes and its name."""


@dataclass(frozen=True, slots=True)
class Axis:
    """From ``low`` to ``high``; ``ticks`` are (place, text) in the first unit, ``far`` those of the other one."""

    low: float
    high: float
    ticks: tuple[tuple[float, str], ...]
    title: str = ""
    far: tuple[tuple[float, str], ...] = ()
    far_title: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """A line through ``points``; from ``doubtful`` on, where given, it is only dotted."""

    points: tuple[tuple[float, float], ...]
    tone: Tone = "load"
    name: str = ""
    doubtful: float | None = None


@dataclass(frozen=True, slots=True)
class Limit:
    """A level line with its name on it; ``shaded`` greys whatever lies below."""

    at: float
    tone: Tone
    name: str
    shaded: bool = False


@dataclass(frozen=True, slots=True)
class Band:
    """A strip from ``low`` to ``high`` of the axis across, shaded, with its name at the top."""

    low: float
    high: float
    tone: Tone
    name: str


@dataclass(frozen=True, slots=True)
class Moving:
    """The string in frames at ``times`` (the chart's own unit): ``pull`` and ``shift`` in percent a slice.

    ``loose`` says in which frames the slips carry nothing, ``told`` a line for each, ``highest`` and ``lowest`` are
    the frames to go to.
    """

    times: tuple[float, ...]
    pull: tuple[tuple[int, ...], ...]
    shift: tuple[tuple[int, ...], ...]
    loose: tuple[bool, ...]
    told: tuple[str, ...]
    highest: int
    lowest: int
    alt: str


def chart(
    across: Axis,
    up: Axis,
    lines: Sequence[Line],
    limits: Sequence[Limit],
    *,
    words: Words,
    key: str,
    alt: str,
    here: tuple[float, float] | None = None,
    moving: Moving | None = None,
    bands: Sequence[Band] = (),
) -> None:
    """Draw it as one image called ``alt``; ``here`` is the point where somebody stands."""
    data = {
        "across": asdict(across),
        "up": asdict(up),
        "lines": [asdict(line) for line in lines],
        "limits": [asdict(limit) for limit in limits],
        "bands": [asdict(band) for band in bands],
        "here": here,
        "alt": alt,
        "moving": asdict(moving) if moving else None,
        "words": said(words, "play", "pause", "chart-moment", "chart-highest", "chart-lowest", "chart-start"),
    }
    mount("chart", key, data)
