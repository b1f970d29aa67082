"""Figures to turn: a slider each, with a button for less and one for more, and the figure in both units beside it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass

from trainer.web.parts.mounting import mount, newest, said
from trainer.words import Words

__all__ = ["Dial", "dials"]


@dataclass(frozen=True, slots=True)
class Dial:
    """One figure from ``low`` to ``high`` in ``unit``, turned in steps of ``step``.

    ``other`` is the unit shown beside it, ``times`` of it to one ``unit``; empty where there is none. ``decimals`` and
    ``other_decimals`` are how exactly each is written.
    """

    id: str
    label: str
    low: float
    high: float
    step: float
    unit: str
    decimals: int = 0
    other: str = ""
    times: float = 1.0
    other_decimals: int = 0


def dials(
    shown: Sequence[Dial], values: Mapping[str, float], *, words: Words, key: str, ask: str
) -> Mapping[str, float] | None:
    """The figures, each in its dial's unit, when one was turned since the last run; ``None`` otherwise.

    ``values`` holds what each stands at; ``ask`` is said to a screen reader as the group's name.
    """
    data = {
        "dials": [asdict(dial) for dial in shown],
        "values": {dial.id: values[dial.id] for dial in shown},
        "ask": ask,
        "words": said(words, "dial-less", "dial-more"),
    }
    return checked(newest(key, mount("dials", key, data)), shown)


def checked(value: object, shown: Sequence[Dial]) -> Mapping[str, float] | None:
    """``value`` as one figure a dial, each within its dial's range; ``None`` otherwise: a browser is not trusted."""
    if not isinstance(value, Mapping) or set(value) != {dial.id for dial in shown}:
        return None
    figures: dict[str, float] = {}
    for dial in shown:
        figure = value[dial.id]
        if isinstance(figure, bool) or not isinstance(figure, int | float) or not math.isfinite(figure):
            return None
        figures[dial.id] = min(max(float(figure), dial.low), dial.high)
    return figures
