"""How high a joint may stand while it is made up: the pipe's limit, never above the site's own height."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from trainer.core.reckoned import StickUp, stick_up
from trainer.core.rig import Rig, drill_pipe_length, inspected_body, sections
from trainer.core.units import number
from trainer.errors import MechanicsRangeError
from trainer.mechanics import hanging_load
from trainer.pictures.stick_up import stick_up as picture_of
from trainer.web import figures_frame as frame
from trainer.web import figures_inputs as inputs
from trainer.web import figures_rig
from trainer.web.door import Here
from trainer.web.figures_axes import both_axis
from trainer.web.figures_turned import Span, Turn, turned
from trainer.web.figures_units import Both
from trainer.web.parts import Limit, Line, chart, picture

__all__ = ["draw"]

_POINTS = 40


def draw(here: Here, rig: Rig, both: Both) -> None:
    """The whole figure."""
    if inspected_body(rig.pipe) is None:
        figures_rig.ask_for_wall(here)
        return
    words = here.words
    top, left, right = frame.places()
    hangs = hanging_load(sections(rig, drill_pipe_length(rig)), rig.mud)
    with left:
        at = turned(here, "stickup", both, _turns(rig, hangs))
    try:
        found = stick_up(rig, at["torque"], at["load"])
    except MechanicsRangeError as error:
        with top:
            frame.refused(words, error)
        return
    if found is None:
        return
    with top:
        frame.point(*_point(here, found, both))
    with right:
        _draw_picture(here, found, both)
    frame.readouts(_rows(here, rig, found, both))
    _draw_chart(here, rig, at["torque"], at["load"], found, both)
    frame.note(words.say("figures.stickup-note"))
    frame.workings(here, "stickup", _inputs(here, rig, at["torque"], at["load"], both))


def _turns(rig: Rig, hangs: float) -> Sequence[Turn]:
    return (
        Turn("torque", rig.tongs.torque, Span(5, 90, 1), Span(4000, 66000, 500), "torque"),
        Turn("load", hangs, Span(0, 2500, 25), Span(0, 560, 5), "load"),
    )


def _point(here: Here, found: StickUp, both: Both) -> tuple[str, str]:
    height = both.line(found.height, "height")
    if found.limit < found.site:
        return here.words.say("figures.stickup-point-limit", height=height), "late"
    return here.words.say("figures.stickup-point", height=height), ""


def _rows(here: Here, rig: Rig, found: StickUp, both: Both) -> list[frame.Row]:
    words = here.words
    return [
        frame.row(words, "height", found.height, "height", both),
        frame.row(words, "site-height", found.site, "height", both),
        # The pipe's own limit is shown as a share: a height above the site's is no answer to anybody.
        frame.rate(words, "bend-used", f"{number(100 * found.used, 0)} %"),
        frame.rate(words, "pulls", words.say(f"figures.layout-{rig.tongs.layout}")),
    ]


def _draw_picture(here: Here, found: StickUp, both: Both) -> None:
    words = here.words
    values = {"height": both.line(found.height, "height"), "site": both.line(found.site, "height")}
    svg = picture_of(found.height, found.site, both.split(found.height, "height"))
    with st.container(key="figures-picture"):
        alt = words.say("figures.stickup-alt", **values)
        picture(svg, alt, words=words, key="pic-stickup", width=520, caption=words.say("figures.stickup-caption"))


def _draw_chart(here: Here, rig: Rig, torque: float, load: float, found: StickUp, both: Both) -> None:
    words = here.words
    most = max(1.6 * rig.tongs.torque, 1.1 * torque)
    points = []
    for place in range(1, _POINTS + 1):
        at = most * place / _POINTS
        each = stick_up(rig, at, load)
        if each is not None:
            points.append((at, each.height))
    chart(
        both_axis(both, 0.0, most, "torque", words.say("figures.torque-in", unit=both.scales("torque")[0].unit)),
        both_axis(both, 0.0, 1.25 * found.site, "height"),
        [Line(tuple(points), "load", words.say("figures.height"))],
        [Limit(found.site, "site", words.say("figures.site-height"))],
        words=words,
        key="chart-stickup",
        alt=words.say("figures.stickup-chart-alt", height=both.line(found.height, "height")),
        here=(torque, found.height),
    )


def _inputs(here: Here, rig: Rig, torque: float, load: float, both: Both) -> list[frame.Row]:
    words = here.words
    return [
        frame.row(words, "dial-torque", torque, "torque", both),
        frame.row(words, "in-arm", rig.tongs.arm, "arm", both),
        frame.rate(words, "pulls", words.say(f"figures.layout-{rig.tongs.layout}")),
        frame.row(words, "dial-load", load, "load", both),
        *inputs.pipe_rows(words, rig, both),
        *inputs.strength_rows(words, rig, both),
    ]
