"""Pictures: named drawings in, SVG text out. Pure: no files, no YAML, no words of its own.

A drawing is an SVG file in `assets/pictures/`. Each meaningful group has an `id` (a *part*); a part with
`data-spot="x y"` can be pointed at; one with `data-shown="no"` is left out unless asked for; `data-instead="a b"` says
which parts it takes the place of. What readers are told about parts stands in `content/pictures.yaml`.

Start at `drawing`: `parse` makes a `Drawing` of SVG text, `render` writes it with parts shown, left out or marked.
`checks` says what may stand in a drawing; `marks` holds the tick, the cross and the ring; `palette` the colours.
Imports nothing but the standard library.
"""

from __future__ import annotations

from trainer.pictures.checks import naming_problems, problems
from trainer.pictures.drawing import Drawing, left_out, parse, render
from trainer.pictures.marks import MARKS
from trainer.pictures.palette import DARK, LIGHT, css_variables

__all__ = [
    "DARK",
    "LIGHT",
    "MARKS",
    "Drawing",
    "css_variables",
    "left_out",
    "naming_problems",
    "parse",
    "problems",
    "render",
]
