"""The three marks drawn over a part: each has its own shape, so none rests on colour alone."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

Shape = tuple[str, Mapping[str, str]]

_OCTAGON: Final = "M-11 -26 H11 L26 -11 V11 L11 26 H-11 L-26 11 V-11 Z"


def _shape(name: str, **attributes: str) -> Shape:
    return name, MappingProxyType({key.replace("_", "-"): value for key, value in attributes.items()})


MARKS: Mapping[str, tuple[Shape, ...]] = MappingProxyType(
    {
        "right": (
            _shape("circle", r="26", fill="var(--pic-paper)", stroke="var(--pic-right)", stroke_width="5"),
            _shape("path", d="M-12 1 L-4 10 L12 -9", stroke="var(--pic-right)", stroke_width="7"),
        ),
        "wrong": (
            _shape("path", d=_OCTAGON, fill="var(--pic-paper)", stroke="var(--pic-danger)", stroke_width="5"),
            _shape("path", d="M-10 -10 L10 10 M10 -10 L-10 10", stroke="var(--pic-danger)", stroke_width="7"),
        ),
        "look": (
            _shape("circle", r="33", stroke="var(--pic-paper)", stroke_width="13"),
            _shape("circle", r="33", stroke="var(--pic-look)", stroke_width="6"),
        ),
    }
)
"""Shapes round the point 0 0, from the back to the front, to be moved onto a spot."""
