"""The two sets of colours that the drawings are painted with: names are what a thing is, values are `#rrggbb`.

A drawing says `var(--pic-NAME)` and nothing else, so one file serves a bright doghouse, a dark cabin and paper.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

LIGHT: Mapping[str, str] = MappingProxyType(
    {
        "paper": "#fbf8f1",
        "ink": "#1c2126",
        "line": "#5a5f63",
        "void": "#33383d",
        "floor": "#e6dfd1",
        "floor-mark": "#cbc1ad",
        "steel": "#bdb9b0",
        "steel-light": "#dcd8cf",
        "steel-dark": "#98938a",
        "bowl": "#cfc3a8",
        "slip": "#c79a63",
        "slip-dark": "#9f7440",
        "pipe": "#b4c0c9",
        "pipe-dark": "#8898a5",
        "handle": "#e2702a",
        "handle-dark": "#b9521a",
        "glove": "#f5c843",
        "glove-dark": "#cf9b1c",
        "skin": "#d3a076",
        "skin-dark": "#a5714a",
        "coverall": "#5c86ad",
        "coverall-dark": "#4a7096",
        "hat": "#fffdf7",
        "hat-b": "#4fae8d",
        "hat-c": "#b486c9",
        "danger": "#b3261e",
        "right": "#176b35",
        "look": "#0b57a4",
    }
)

DARK: Mapping[str, str] = MappingProxyType(
    {
        "paper": "#181b1e",
        "ink": "#f4efe4",
        "line": "#cdc8bc",
        "void": "#07090a",
        "floor": "#2a2b2a",
        "floor-mark": "#43433f",
        "steel": "#5d5d5a",
        "steel-light": "#757470",
        "steel-dark": "#434341",
        "bowl": "#6a6250",
        "slip": "#8a6535",
        "slip-dark": "#5f4522",
        "pipe": "#5a6b78",
        "pipe-dark": "#3f4d58",
        "handle": "#c65a17",
        "handle-dark": "#8d3f0f",
        "glove": "#a97a0a",
        "glove-dark": "#775506",
        "skin": "#96684a",
        "skin-dark": "#6e4a32",
        "coverall": "#37618a",
        "coverall-dark": "#264766",
        "hat": "#84827c",
        "hat-b": "#26795c",
        "hat-c": "#7d4f95",
        "danger": "#ff8a80",
        "right": "#7edb9c",
        "look": "#8ec5ff",
    }
)


def css_variables(palette: Mapping[str, str]) -> str:
    """Declarations `--pic-NAME: VALUE;` one a line, to put between the braces of a rule."""
    return "\n".join(f"--pic-{name}: {value};" for name, value in palette.items())
