"""What hangs in the slips, and what the indicator carries besides."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from trainer.core.reckoned import Hanging, hanging
from trainer.core.rig import Rig, drill_pipe_length, new_body, sections
from trainer.core.units import number
from trainer.mechanics import Section
from trainer.pictures.hanging import hanging as picture_of
from trainer.web import figures_frame as frame
from trainer.web import figures_inputs as inputs
from trainer.web.door import Here
from trainer.web.figures_turned import Span, Turn, turned
from trainer.web.figures_units import Both
from trainer.web.parts import picture

__all__ = ["draw"]


def draw(here: Here, rig: Rig, both: Both) -> None:
    """The whole figure."""
    top, left, right = frame.places()
    with left:
        at = turned(here, "hanging", both, _turns(rig))
    string = sections(rig, at["length"])
    found = hanging(string, at["mud"], at["block"])
    values = {"slips": both.line(found.on_slips, "load"), "indicator": both.line(found.indicator, "load")}
    with top:
        frame.point(here.words.say("figures.hanging-point", **values))
    with right:
        _draw_picture(here, rig, string, found, both)
    frame.readouts(_rows(here, found, both))
    frame.note(here.words.say("figures.hanging-note"))
    went_in = [*inputs.string_rows(here.words, rig, string, both), *inputs.mud_rows(here.words, at["mud"], both)]
    frame.workings(here, "hanging", [*went_in, frame.row(here.words, "in-block", at["block"], "heavy", both)])


def _turns(rig: Rig) -> Sequence[Turn]:
    return (
        Turn("length", drill_pipe_length(rig), Span(50, 6000, 50), Span(200, 20000, 200), "long"),
        Turn("mud", rig.mud, Span(0, 2200, 20), Span(0, 19, 0.5), "density"),
        Turn("block", rig.block, Span(0, 80, 1), Span(0, 180, 5), "heavy"),
    )


def _rows(here: Here, found: Hanging, both: Both) -> list[frame.Row]:
    words = here.words
    return [
        frame.row(words, "on-slips", found.on_slips, "load", both),
        frame.row(words, "on-block", found.block, "load", both),
        frame.row(words, "on-indicator", found.indicator, "load", both),
        frame.rate(words, "mud-carries", f"{number((1 - found.buoyancy) * 100, 1)} %"),
    ]


def _draw_picture(here: Here, rig: Rig, string: Sequence[Section], found: Hanging, both: Both) -> None:
    """The hook, the table and the string, each with what it weighs."""
    words = here.words
    rows = inputs.string_rows(words, rig, string, both)
    labels = [(name, _beside(both, load)) for (name, _, _), load in zip(rows, found.parts, strict=True)]
    own = new_body(rig.pipe).od
    rest = list(rig.string)
    rest.remove(next(each for each in rest if each.part == "drill-pipe"))
    svg = picture_of(
        (words.say("figures.pic-block"), _beside(both, found.block)),
        (words.say("figures.pic-slips"), _beside(both, found.on_slips)),
        [each.length for each in string],
        [own, *(each.od or own for each in rest)],
        labels,
    )
    told = "; ".join(f"{name} {load}" for name, load in labels)
    alt = words.say("figures.hanging-alt", slips=both.line(found.on_slips, "load"), parts=told)
    with st.container(key="figures-picture"):
        picture(svg, alt, words=words, key="pic-hanging", width=520)


def _beside(both: Both, load: float) -> str:
    return " · ".join(both.split(load, "load"))
