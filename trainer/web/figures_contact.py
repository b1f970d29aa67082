"""What worn contact leaves of the safe load: from the imprint to the limit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import streamlit as st

from trainer.core.reckoned import Contact, contact, less_margin
from trainer.core.rig import Rig, SlipSet, drill_pipe_length, inspected_body, sections, worn_crush_limit
from trainer.core.units import number
from trainer.mechanics import hanging_load
from trainer.pictures.paper_test import paper_test
from trainer.web import figures_frame as frame
from trainer.web import figures_inputs as inputs
from trainer.web import figures_rig
from trainer.web.door import Here
from trainer.web.figures_axes import both_axis
from trainer.web.figures_turned import Span, Turn, turned
from trainer.web.figures_units import Both
from trainer.web.parts import Limit, Line, chart, picture

__all__ = ["draw"]

_THIRDS = ("top", "middle", "bottom")
_BEGIN = {"top": 0.9, "middle": 0.35, "bottom": 0.05}
_GRAIN = 7
_POINTS = 40


def draw(here: Here, rig: Rig, both: Both) -> None:
    """The whole figure."""
    if inspected_body(rig.pipe) is None:
        figures_rig.ask_for_wall(here)
    words = here.words
    top, left, right = frame.places()
    with left:
        _, slips = figures_rig.set_in_use(here, rig)
        at = turned(here, "contact", both, _turns())
    thirds = (at["top"] / 100, at["middle"] / 100, at["bottom"] / 100)
    load = hanging_load(sections(rig, drill_pipe_length(rig)), rig.mud)
    found = contact(rig, slips, thirds, load)
    with top:
        frame.point(*_point(here, found, both))
    with right:
        _draw_paper(here, slips, thirds, found)
    frame.readouts(_rows(here, found, both))
    if found.limit is not None:
        _draw_chart(here, rig, slips, found, both)
    frame.note(words.say("figures.contact-note"))
    frame.workings(here, "contact", _inputs(here, rig, slips, found, both))


def _turns() -> Sequence[Turn]:
    return tuple(Turn(each, 100 * _BEGIN[each], Span(0, 100, 5), unit="%") for each in _THIRDS)


def _point(here: Here, found: Contact, both: Both) -> tuple[str, str]:
    words = here.words
    if found.ratio is None:
        return words.say("figures.contact-point-none"), "late"
    values = {"part": number(found.reading.coverage * 100, 0), "lost": number((1 - found.kept) * 100, 0)}
    if found.limit is not None and found.load > found.limit:
        return words.say("figures.contact-point-crushed", load=both.line(found.load, "load"), **values), "late"
    if found.limit is not None and found.load > less_margin(found.limit):
        return words.say("figures.contact-point-over", load=both.line(found.load, "load"), **values), "soon"
    return words.say("figures.contact-point", **values), ""


def _rows(here: Here, found: Contact, both: Both) -> list[frame.Row]:
    words, ratio = here.words, found.ratio
    return [
        frame.rate(words, "verdict", words.say(f"figures.verdict-{found.reading.verdict.replace(' ', '-')}")),
        frame.row(words, "effective", found.reading.effective_length, "small", both),
        frame.rate(
            words,
            "ratio",
            f"{number(ratio, 2)} ×" if ratio else "–",
            words.say("figures.ratio-full", ratio=number(found.full_ratio, 2)),
        ),
        frame.row(words, "limit", found.limit, "load", both),
        frame.row(words, "safe", None if found.limit is None else less_margin(found.limit), "load", both),
        frame.row(words, "full-limit", found.full_limit, "load", both),
        frame.row(words, "hangs-now", found.load, "load", both),
    ]


def _draw_paper(here: Here, slips: SlipSet, thirds: tuple[float, float, float], found: Contact) -> None:
    words = here.words
    told: Mapping[str, str] = {name: number(100 * share, 0) for name, share in zip(_THIRDS, thirds, strict=True)}
    alt = words.say("figures.contact-alt", part=number(found.reading.coverage * 100, 0), **told)
    with st.container(key="figures-picture"):
        picture(paper_test([thirds] * slips.segments, _GRAIN), alt, words=words, key="pic-contact", width=520)


def _draw_chart(here: Here, rig: Rig, slips: SlipSet, found: Contact, both: Both) -> None:
    """The limit against the length that still holds, with the load that hangs now."""
    words, whole = here.words, slips.contact_length
    lengths = [whole * (0.05 + 0.95 * place / (_POINTS - 1)) for place in range(_POINTS)]
    limits = [(each, worn_crush_limit(rig.pipe, each, rig.friction) or 0.0) for each in lengths]
    high = 1.1 * max(found.full_limit or 0.0, found.load)
    effective, limit = found.reading.effective_length, found.limit or 0.0
    chart(
        both_axis(both, 0.0, whole, "small", words.say("figures.effective-in", unit=both.scales("small")[0].unit)),
        both_axis(both, 0.0, high, "load"),
        [
            Line(tuple(limits), "late", words.say("figures.line-limit")),
            Line(tuple((at, less_margin(each)) for at, each in limits), "soon", words.say("figures.line-safe")),
        ],
        [Limit(found.load, "calm", words.say("figures.hangs-now"))],
        words=words,
        key="chart-contact",
        alt=words.say("figures.contact-chart-alt", limit=both.line(limit, "load"), load=both.line(found.load, "load")),
        here=(effective, limit),
    )
    frame.note(words.say("figures.legend-limits"))


def _inputs(here: Here, rig: Rig, slips: SlipSet, found: Contact, both: Both) -> list[frame.Row]:
    words = here.words
    thirds = ", ".join(f"{number(100 * each, 0)} %" for each in found.reading.thirds)
    return [
        frame.rate(words, "in-thirds", thirds),
        frame.rate(words, "in-coverage", f"{number(100 * found.reading.coverage, 1)} %"),
        *inputs.slip_rows(words, slips, rig.friction, both),
        *inputs.pipe_rows(words, rig, both),
        *inputs.strength_rows(words, rig, both),
        frame.row(words, "hangs-now", found.load, "load", both),
    ]
