"""What grease on the backs does to squeeze and crush limit: for drillers and up."""

from __future__ import annotations

from collections.abc import Sequence

from trainer.actions import reckoning
from trainer.core.reckoned import Grease, less_margin
from trainer.core.rig import Rig, drill_pipe_length, inspected_body, sections, worn_crush_limit
from trainer.core.units import number
from trainer.mechanics import grip_needed, hanging_load
from trainer.mechanics.crush import SLOPE
from trainer.web import figures_frame as frame
from trainer.web import figures_inputs as inputs
from trainer.web import figures_rig
from trainer.web.door import Here
from trainer.web.figures_axes import both_axis, one_axis
from trainer.web.figures_turned import Span, Turn, turned
from trainer.web.figures_units import Both
from trainer.web.parts import Band, Limit, Line, chart

__all__ = ["draw"]

_MOST = 0.30
_POINTS = 31


def draw(here: Here, rig: Rig, both: Both) -> None:
    """The whole figure. Raises ``Refused("may-not")`` for a hand."""
    words = here.words
    fitting = figures_rig.fitting_sets(rig) or dict(rig.slips)
    # Asked before anything is drawn, so that who may not see it sees none of it.
    reckoning.grease(here.desk, rig, next(iter(fitting)), rig.friction)
    if inspected_body(rig.pipe) is None:
        figures_rig.ask_for_wall(here)
    top, left, right = frame.places()
    with left:
        name, slips = figures_rig.set_in_use(here, rig)
        at = turned(here, "grease", both, _turns(rig))
    found = reckoning.grease(here.desk, rig, name, at["friction"])
    hangs = hanging_load(sections(rig, drill_pipe_length(rig)), rig.mud)
    with top:
        frame.point(*_point(here, found, hangs, both))
    with right:
        _draw_chart(here, rig, slips.contact_length, at["friction"], found, hangs, both)
    frame.readouts(_rows(here, found, hangs, both))
    frame.note(words.say("figures.grease-note"))
    went_in = inputs.slip_rows(words, slips, at["friction"], both)
    went_in += [*inputs.pipe_rows(words, rig, both), *inputs.strength_rows(words, rig, both)]
    frame.workings(here, "grease", went_in)


def _turns(rig: Rig) -> Sequence[Turn]:
    return (Turn("friction", rig.friction, Span(0.0, _MOST, 0.01), decimals=2),)


def _point(here: Here, found: Grease, hangs: float, both: Both) -> tuple[str, str]:
    words = here.words
    if found.sticks:
        return words.say("figures.grease-point-sticks"), "soon"
    squeeze = number(found.squeeze, 1)
    if found.limit is not None and hangs > less_margin(found.limit):
        return words.say("figures.grease-point-over", squeeze=squeeze, load=both.line(hangs, "load")), "late"
    return words.say("figures.grease-point", squeeze=squeeze), ""


def _rows(here: Here, found: Grease, hangs: float, both: Both) -> list[frame.Row]:
    words = here.words
    return [
        frame.rate(words, "squeeze", f"{number(found.squeeze, 2)} ×", both.line(hangs * found.squeeze, "load")),
        frame.row(words, "limit", found.limit, "load", both),
        frame.row(words, "safe", None if found.limit is None else less_margin(found.limit), "load", both),
        frame.row(words, "hangs-now", hangs, "load", both),
        frame.rate(words, "grip", number(found.grip, 2)),
        frame.rate(
            words, "keeps", words.say("figures.keeps-all") if found.sticks else f"{number(100 * found.keeps, 0)} %"
        ),
    ]


def _draw_chart(here: Here, rig: Rig, length: float, friction: float, found: Grease, hangs: float, both: Both) -> None:
    """The limit against friction; before the wall is known, the grip that the teeth need instead."""
    words = here.words
    places = [_MOST * place / (_POINTS - 1) for place in range(_POINTS)]
    most = max(_MOST, friction)
    across = one_axis(0.0, most, words.say("figures.dial-friction"))
    sticking = [Band(SLOPE, most, "loose", words.say("figures.backs-stick"))]
    if found.limit is None:
        grips = tuple((each, float(grip_needed(each))) for each in places)
        alt = words.say("figures.grip-chart-alt", grip=number(found.grip, 2))
        up = one_axis(0.0, 0.6, words.say("figures.grip"))
        chart(
            across,
            up,
            [Line(grips)],
            [],
            words=words,
            key="chart-grip",
            alt=alt,
            here=(friction, found.grip),
            bands=sticking,
        )
        return
    limits = tuple((each, worn_crush_limit(rig.pipe, length, each) or 0.0) for each in places)
    chart(
        across,
        both_axis(both, 0.0, 1.15 * max(limits[-1][1], hangs), "load"),
        [Line(limits, "late"), Line(tuple((at, less_margin(each)) for at, each in limits), "soon")],
        [Limit(hangs, "calm", words.say("figures.hangs-now"))],
        words=words,
        key="chart-grease",
        alt=words.say("figures.grease-chart-alt", limit=both.line(found.limit, "load"), load=both.line(hangs, "load")),
        here=(friction, found.limit),
        bands=sticking,
    )
    frame.note(words.say("figures.legend-limits"))
