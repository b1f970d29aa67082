"""What a sudden stop does to slips and pipe: a moving string beside the load against time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import streamlit as st

from trainer.core import stopping
from trainer.core.reckoned import less_margin
from trainer.core.rig import Rig, SlipSet, drill_pipe_length, inspected_body, sections, worn_crush_limit
from trainer.core.stopping import Motion, Stop
from trainer.core.units import number
from trainer.mechanics import Section, impedance, wave_speed
from trainer.web import figures_frame as frame
from trainer.web import figures_inputs as inputs
from trainer.web import figures_rig
from trainer.web.door import Here
from trainer.web.figures_axes import both_axis, one_axis
from trainer.web.figures_turned import Span, Turn, turned
from trainer.web.figures_units import Both
from trainer.web.parts import Limit, Line, Moving, chart

__all__ = ["draw"]

_FIRST_SPEED = {"SI": 1.0, "US": 0.9144}


@dataclass(frozen=True, slots=True)
class _Asked:
    """What is looked at: string, speed, time to stop, and the crush limit, if the wall is known."""

    string: tuple[Section, ...]
    speed: float
    stop_time: float
    limit: float | None

    @property
    def safe(self) -> float | None:
        return None if self.limit is None else less_margin(self.limit)


def draw(here: Here, rig: Rig, both: Both) -> None:
    """The whole figure."""
    if inspected_body(rig.pipe) is None:
        figures_rig.ask_for_wall(here)
    top = st.container()
    _, slips = figures_rig.set_in_use(here, rig)
    at = turned(here, "stop", both, _turns(rig, both))
    with_heavy = st.toggle(here.words.say("figures.with-heavy"), value=True, key="stop-heavy")
    string = sections(rig, at["length"], with_heavy=with_heavy)
    limit = worn_crush_limit(rig.pipe, slips.contact_length, rig.friction)
    asked = _Asked(string, at["speed"], at["stop-time"], limit)
    found = stopping.stop(string, rig.mud, asked.speed, asked.stop_time)
    with top:
        frame.point(*_point(here, asked, found, both))
    _draw_chart(here, rig, asked, found, both)
    frame.readouts(_rows(here, asked, found, both))
    _draw_notes(here, found, both)
    frame.workings(here, "stop", _inputs(here, rig, slips, asked, both))


def _turns(rig: Rig, both: Both) -> Sequence[Turn]:
    return (
        Turn("speed", _FIRST_SPEED[both.first], Span(0, 3, 0.1), Span(0, 10, 0.25), "speed"),
        Turn("length", drill_pipe_length(rig), Span(50, 6000, 50), Span(200, 20000, 200), "long"),
        Turn("stop-time", 0.0, Span(0, 3, 0.1), unit="s", decimals=1),
    )


def _point(here: Here, asked: _Asked, found: Stop, both: Both) -> tuple[str, str]:
    """The sentence and its tone: the worst that happens is said."""
    is_thrown = found.trough < 0
    key, tone = "stop-point", ""
    if asked.speed == 0:
        key = "stop-point-zero"
    elif asked.limit is not None and found.peak > asked.limit:
        key, tone = ("stop-point-both" if is_thrown else "stop-point-crushed"), "late"
    elif is_thrown:
        key, tone = "stop-point-thrown", "late"
    elif asked.safe is not None and found.peak > asked.safe:
        key, tone = "stop-point-over", "soon"
    values = {
        "speed": both.line(asked.speed, "speed"),
        "static": both.line(found.static, "load"),
        "peak": both.line(found.peak, "load"),
    }
    return here.words.say(f"figures.{key}", **values), tone


def _rows(here: Here, asked: _Asked, found: Stop, both: Both) -> list[frame.Row]:
    words = here.words
    rows = [
        frame.row(words, "static", found.static, "load", both),
        frame.row(words, "peak", found.peak, "load", both),
        frame.row(words, "trough", found.trough, "load", both),
        frame.row(words, "limit", asked.limit, "load", both),
        frame.row(words, "safe", asked.safe, "load", both),
        frame.row(words, "throws-above", found.throws_above, "speed", both),
    ]
    if found.lift:
        rows.append(frame.row(words, "lift", found.lift, "small", both))
    return rows


def _draw_chart(here: Here, rig: Rig, asked: _Asked, found: Stop, both: Both) -> None:
    words = here.words
    limits = [Limit(found.static, "calm", words.say("figures.line-static"))]
    if asked.limit is not None and asked.safe is not None:
        limits.append(Limit(asked.limit, "late", words.say("figures.line-limit")))
        limits.append(Limit(asked.safe, "soon", words.say("figures.line-safe")))
    limits.append(Limit(0.0, "loose", words.say("figures.line-loose"), shaded=True))
    high = 1.08 * max(found.peak, asked.limit or 0.0)
    low = min(1.1 * found.trough, -0.14 * high)
    moved = stopping.motion(asked.string, rig.mud, asked.speed, asked.stop_time)
    chart(
        one_axis(0.0, found.lasts, words.say("figures.time")),
        both_axis(both, low, high, "load"),
        [Line(found.line, "load", words.say("figures.line-load"), _first_below_zero(found))],
        limits,
        words=words,
        key="chart-stop",
        alt=_alt(here, asked, found, both),
        moving=_moving(here, moved, both),
    )


def _first_below_zero(found: Stop) -> float | None:
    """From when on the line is no longer what the slips carry: they are loose, and the pipe is not held."""
    return next((time for time, load in found.line if load < 0), None)


def _moving(here: Here, moved: Motion, both: Both) -> Moving:
    words = here.words
    told = tuple(
        words.say(
            "figures.moment-loose" if load < 0 else "figures.moment", time=number(time, 2), load=both.line(load, "load")
        )
        for time, load in zip(moved.times, moved.loads, strict=True)
    )
    loose = tuple(load < 0 for load in moved.loads)
    alt = words.say("figures.string-alt")
    return Moving(moved.times, moved.pull, moved.shift, loose, told, moved.highest, moved.lowest, alt)


def _alt(here: Here, asked: _Asked, found: Stop, both: Both) -> str:
    told = {"static": found.static, "peak": found.peak, "trough": found.trough}
    values = {name: both.line(load, "load") for name, load in told.items()}
    alt = here.words.say("figures.stop-alt", **values)
    if asked.limit is None or asked.safe is None:
        return alt
    lines = {"limit": both.line(asked.limit, "load"), "safe": both.line(asked.safe, "load")}
    return f"{alt} {here.words.say('figures.stop-alt-limit', **lines)}"


def _draw_notes(here: Here, found: Stop, both: Both) -> None:
    """No permitted speed; the tool joints; and, without a class, why there is no limit."""
    words = here.words
    higher = found.static + (found.peak - found.static) * stopping.TOOL_JOINTS
    frame.note(words.say("figures.stop-no-speed"))
    frame.note(words.say("figures.stop-joints", peak=both.line(higher, "load")))
    frame.note(words.say("figures.stop-picture"))
    if found.lift is None and found.trough < 0:
        frame.note(words.say("figures.stop-no-lift"))


def _inputs(here: Here, rig: Rig, slips: SlipSet, asked: _Asked, both: Both) -> list[frame.Row]:
    words = here.words
    z = impedance(asked.string[0].area)
    first, second = both.scales("speed")
    per_first, per_other = both.taken(1.0, "speed"), Both(both.other).taken(1.0, "speed")
    kick, other = both.split(z * per_first, "load")[0], both.split(z * per_other, "load")[1]
    return [
        *inputs.string_rows(words, rig, asked.string, both),
        *inputs.mud_rows(words, rig.mud, both),
        *inputs.strength_rows(words, rig, both),
        *inputs.slip_rows(words, slips, rig.friction, both),
        frame.row(words, "in-wave", wave_speed(), "speed", both),
        frame.rate(words, "in-impedance", f"{kick} / {first.unit}", f"{other} / {second.unit}"),
    ]
