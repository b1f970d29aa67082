"""Pictures: named drawings in, SVG text out. Pure: no files, no YAML, no words of its own.

A drawing is an SVG file in `assets/pictures/`. Each meaningful group has an `id` (a *part*); a part with
`data-spot="x y"` can be pointed at; one with `data-shown="no"` is left out unless asked for; `data-instead="a b"` says
which parts it takes the place of, `data-redraws` which ones it draws anew; `data-lasts="SECONDS"` makes it a motion.
What readers are told about parts stands in `content/pictures.yaml`.

Start at `drawing`: `parse` makes a `Drawing` of SVG text, `render` writes it with parts shown, left out or marked.
`checks` says what may stand in a drawing, `advice` what to write instead; `motions` how a part of it moves; `marks`
holds the tick, the cross and the ring; `palette` the colours.

Sketches made from figures, with the words that they are given beside: `hanging`, `hand_shares`, `stick_up`.

Sheets that are read have no file: `sheets` draws them from figures, `paper_test`, `die_column`, `straight_edge` and
`load_board` each their own, with what they share in `strokes` and the numbers, which are strokes too, in `digits`. Of
the project only `sheets` knows anything: the figures of the core.
"""

from __future__ import annotations

from trainer.pictures.checks import Flaw, flaws, problems
from trainer.pictures.drawing import Drawing, left_out, missing, parse, render
from trainer.pictures.marks import MARKS
from trainer.pictures.palette import DARK, LIGHT, css_variables
from trainer.pictures.sheets import sheet
from trainer.pictures.straight_edge import exaggeration

__all__ = [
    "DARK",
    "LIGHT",
    "MARKS",
    "Drawing",
    "Flaw",
    "css_variables",
    "exaggeration",
    "flaws",
    "left_out",
    "missing",
    "parse",
    "problems",
    "render",
    "sheet",
]
