"""How the guideline for one lift falls with reach, height, twist and pace; and why the set is lifted all the same."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape

import streamlit as st

from trainer.core.reckoned import Ladder, ladder
from trainer.core.rig import Rig
from trainer.core.units import number
from trainer.web import figures_frame as frame
from trainer.web import figures_rig, wording
from trainer.web.door import Here
from trainer.web.figures_turned import Span, Turn, turned
from trainer.web.figures_units import Both
from trainer.web.plain import plain

__all__ = ["draw"]

_TRAVEL, _GRIP = 0.5, "fair"
_HOURS = (1, 2, 8)
_TEAMS = (3, 2)
_TURNS = (
    Turn("reach", 0.40, Span(20, 80, 1), Span(8, 32, 1), "reach"),
    Turn("lift-height", 0.45, Span(0, 180, 5), Span(0, 72, 2), "reach"),
    Turn("twist", 30.0, Span(0, 140, 5), unit="°"),
    Turn("pace", 1.0, Span(0.2, 16, 0.2), decimals=1),
)


def draw(here: Here, rig: Rig, both: Both) -> None:
    """The whole figure."""
    words = here.words
    top, left, right = frame.places()
    with left:
        _, slips = figures_rig.set_in_use(here, rig)
        at = turned(here, "lift", both, _TURNS)
        hours = _one_of(here, "hours", _HOURS, 8)
        team = _one_of(here, "team", _TEAMS, 3)
    share = slips.mass / team
    found = ladder(share, at["reach"], at["lift-height"], _TRAVEL, at["twist"], at["pace"], float(hours), _GRIP)
    with top:
        frame.point(*_point(here, found, share, both))
    with right:
        _draw_ladder(here, found, share, both)
    frame.readouts(_rows(here, found, share, both))
    frame.note(words.say("figures.lift-honest"))
    _draw_why(here, rig)
    frame.workings(here, "lift", _inputs(here, share, at, hours, both))


def _one_of(here: Here, name: str, options: Sequence[int], first: int) -> int:
    words = here.words
    told = {each: words.say(f"figures.{name}-{each}") for each in options}
    chosen = st.segmented_control(
        words.say(f"figures.{name}"), options, default=first, required=True, format_func=told.__getitem__,
        key=f"lift-{name}",
    )  # fmt: skip
    return int(chosen)


def _point(here: Here, found: Ladder, share: float, both: Both) -> tuple[str, str]:
    words, mine = here.words, both.line(share, "lift")
    if found.index is None:
        return words.say("figures.lift-point-none", share=mine), "late"
    values = {"limit": both.line(found.limit, "lift"), "share": mine, "index": number(found.index, 1)}
    if found.index <= 1:
        return words.say("figures.lift-point-within", **values), ""
    return words.say("figures.lift-point", **values), "soon" if found.index <= 3 else "late"


def _draw_ladder(here: Here, found: Ladder, share: float, both: Both) -> None:
    """A bar for the best lift, one for what each step leaves, and one for the share of the set."""
    words = here.words
    widest = max(found.best, share)
    rows = [(words.say("figures.rung-best"), "", found.best, "")]
    rows += [
        (words.say(f"figures.rung-{each.about}"), f"× {number(each.factor, 3)}", each.left, "") for each in found.rungs
    ]
    rows.append((words.say("figures.rung-share"), "", share, "mine"))
    bars = "".join(
        f'<tr class="{kind}"><th scope="row">{escape(name)}</th><td>{escape(factor)}</td>'
        f'<td><i style="--part: {100 * left / widest:.1f}%"></i><b>{escape(both.split(left, "lift")[0])}</b> '
        f"<span>{escape(both.split(left, 'lift')[1])}</span></td></tr>"
        for name, factor, left, kind in rows
    )
    heads = "".join(
        f'<th scope="col">{escape(words.say(f"figures.rung-{each}"))}</th>' for each in ("what", "by", "left")
    )
    st.html(f'<table class="ladder"><thead><tr>{heads}</tr></thead><tbody>{bars}</tbody></table>')


def _rows(here: Here, found: Ladder, share: float, both: Both) -> list[frame.Row]:
    words = here.words
    return [
        frame.row(words, "guideline", found.limit, "lift", both),
        frame.row(words, "my-share", share, "lift", both),
        frame.rate(words, "index", number(found.index, 1) if found.index is not None else "–"),
    ]


def _draw_why(here: Here, rig: Rig) -> None:
    """Then why is it lifted: what helps anywhere, and what this site does."""
    words = here.words
    with st.container(key="figures-why", border=True):
        st.subheader(words.say("figures.why"), anchor=False)
        st.markdown(words.say("figures.why-text"))
        st.markdown(f"**{words.say('figures.why-site')}**")
        st.markdown(plain(words.pick(rig.lifting)) if rig.lifting else words.say("figures.why-none"))
        if rig.lifting:
            wording.mark_untranslated(words, rig.lifting)


def _inputs(here: Here, share: float, at: Mapping[str, float], hours: int, both: Both) -> list[frame.Row]:
    words = here.words
    return [
        frame.row(words, "my-share", share, "lift", both),
        frame.row(words, "dial-reach", at["reach"], "reach", both),
        frame.row(words, "dial-lift-height", at["lift-height"], "reach", both),
        frame.row(words, "in-travel", _TRAVEL, "reach", both),
        frame.rate(words, "dial-twist", f"{number(at['twist'], 0)}°"),
        frame.rate(words, "dial-pace", number(at["pace"], 1)),
        frame.rate(words, "hours", words.say(f"figures.hours-{hours}")),
        frame.rate(words, "in-grip", words.say(f"figures.grip-{_GRIP}")),
    ]
