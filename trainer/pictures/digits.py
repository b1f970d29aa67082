"""Figures in a drawing that holds no words: each digit as strokes, the same in every language and on every computer."""

from __future__ import annotations

from collections.abc import Iterator

from trainer.pictures.strokes import path

__all__ = ["number"]

_TALL = 16.0
_SPACE = 5.0
_THICK = 2.4

_DIGITS = {
    "0": (10, "M5 0C1.5 0 0 3.6 0 8S1.5 16 5 16S10 12.4 10 8S8.5 0 5 0Z"),
    "1": (5, "M0 3.6L4.6 0V16"),
    "2": (10, "M.4 4C.8 1.5 2.6 0 5 0C7.7 0 9.6 1.8 9.6 4.3C9.6 6.3 8.5 7.8 6.8 9.4L0 16H10"),
    "3": (10, ("M.5 2.8C1.3 1 3 0 5 0C7.6 0 9.3 1.6 9.3 3.8S7.6 7.4 5 7.4H3.4M5 7.4C8 7.4 10 9.1 10 11.7S8 16 5 16"
              "C2.6 16 .8 14.8 0 12.8")),
    "4": (10, "M7.4 16V0L0 11.6H10"),
    "5": (10, "M9.2 0H1.8L1 7.2C2 6.3 3.3 5.8 4.8 5.8C7.9 5.8 10 7.9 10 10.9S7.9 16 4.8 16C2.6 16 .8 14.9 0 13"),
    "6": (10, "M8.8 1.3C7.8 .4 6.7 0 5.4 0C2 0 0 3.2 0 8.4V11C0 14 2 16 5 16S10 14 10 11S8 6 5 6C2.5 6 .5 7.5 0 9.8"),
    "7": (10, "M0 0H10L3.6 16"),
    "8": (10, ("M5 7.4C2.6 7.4 .8 5.9 .8 3.7S2.6 0 5 0S9.2 1.5 9.2 3.7S7.4 7.4 5 7.4C2 7.4 0 9.1 0 11.7S2 16 5 16"
              "S10 14.3 10 11.7S8 7.4 5 7.4Z")),
    "9": (10, ("M1.2 14.7C2.2 15.6 3.3 16 4.6 16C8 16 10 12.8 10 7.6V5C10 2 8 0 5 0S0 2 0 5S2 10 5 10"
              "C7.5 10 9.5 8.5 10 6.2")),
}  # fmt: skip
"""Width and strokes of each digit, 16 tall, from its upper left corner."""


def number(value: int, x: float, y: float, tall: float) -> Iterator[str]:
    """The digits of ``value``, 0 or more, ``tall`` high, with their middle at ``x``, ``y``."""
    digits = [_DIGITS[each] for each in str(value)]
    scale = tall / _TALL
    left = x - scale * (sum(wide for wide, _ in digits) + _SPACE * (len(digits) - 1)) / 2
    for wide, d in digits:
        place = f"translate({left:.1f} {y - tall / 2:.1f}) scale({scale:.3f})"
        yield path(d, "ink", _THICK, transform=place, stroke_linecap="round", stroke_linejoin="round")
        left += scale * (wide + _SPACE)
