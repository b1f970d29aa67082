"""Axes of the page's charts: round figures in both systems, places in SI."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trainer.core.units import from_si, number
from trainer.web.figures_units import PAIRS, Both, Scale
from trainer.web.parts import Axis

__all__ = ["both_axis", "one_axis", "round_places"]

_ROUND = (1.0, 2.0, 2.5, 5.0, 10.0)


def round_places(low: float, high: float, about: int = 5) -> tuple[float, ...]:
    """Round figures from ``low`` to ``high``, about so many, both ends left out where they are not round.

    >>> round_places(0, 930, 4)
    (0.0, 200.0, 400.0, 600.0, 800.0)
    """
    step = _step((high - low) / about)
    first = math.ceil(low / step - 1e-9)
    last = math.floor(high / step + 1e-9)
    return tuple(round(place * step, 9) for place in range(first, last + 1))


def _step(wanted: float) -> float:
    size = 10.0 ** math.floor(math.log10(wanted))
    return next(each for each in _ROUND if each >= wanted / size * (1 - 1e-9)) * size


def both_axis(both: Both, low: float, high: float, name: str, title: str = "") -> Axis:
    """An axis from ``low`` to ``high`` [SI] in the units of the pair ``name``, the other one on its far side."""
    first, other = both.scales(name)
    return Axis(
        low,
        high,
        tuple(_ticks(low, high, name, first)),
        title or first.unit,
        tuple(_ticks(low, high, name, other)),
        other.unit,
    )


def _ticks(low: float, high: float, name: str, scale: Scale) -> Iterator[tuple[float, str]]:
    kind = PAIRS[name].kind
    one = 1 / from_si(1.0, scale.unit, kind)
    yield from ((place * one, _short(place)) for place in round_places(low / one, high / one))


def one_axis(low: float, high: float, title: str, about: int = 6) -> Axis:
    """An axis with one scale."""
    return Axis(low, high, tuple((place, _short(place)) for place in round_places(low, high, about)), title)


def _short(value: float) -> str:
    """As few decimals as the figure needs, three at most."""
    decimals = next(each for each in range(4) if round(value, each) == round(value, 3))
    return number(value, decimals)
