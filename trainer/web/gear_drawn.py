"""A slip set or bowl on screen: how it stands as word, shape and colour, its dates, and what was done to it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from html import escape

import streamlit as st

from trainer.core.gear import BOWL, Event, Fitness, GearState, What
from trainer.web import place, wording
from trainer.web.door import Here
from trainer.web.goto import go
from trainer.web.plain import plain
from trainer.web.press import press

__all__ = ["badge", "history", "not_ready", "state", "title", "worst_first"]

_LOOKS = {
    Fitness.OUT: ("octagon", "stop"),
    Fitness.NOT_PROVEN: ("diamond", "late"),
    Fitness.PAST: ("diamond", "late"),
    Fitness.SOON: ("triangle", "soon"),
    Fitness.IN_SERVICE: ("tick-disc", "good"),
}
_ORDER = tuple(_LOOKS)
_SHOWN = 10


def worst_first(states: Sequence[GearState]) -> list[GearState]:
    """Those that may not be used first; slip sets before bowls, then by name."""
    return sorted(states, key=lambda each: (_ORDER.index(each.fitness), each.item.kind == BOWL, each.gear))


def title(here: Here, state: GearState) -> str:
    """The site's name for it, for ``st`` calls that take Markdown."""
    return wording.line(state.item.title, here.words)


def badge(here: Here, fitness: Fitness) -> str:
    """HTML: how it stands, as shape, word and colour."""
    shape, tone = _LOOKS[fitness]
    word = here.words.say(f"gear.is-{fitness.value.replace(' ', '-')}")
    return f'<span class="badge badge-{tone}"><i style="--shape: var(--shape-{shape})"></i>{escape(word)}</span>'


def state(here: Here, state: GearState, *, named: bool = True) -> None:
    """Its name, how it stands, and what that rests on."""
    with st.container(key=f"gear-head-{state.gear}", horizontal=True, vertical_alignment="center"):
        if named:
            st.markdown(f"**{title(here, state)}**", width="content")
        st.html(badge(here, state.fitness), width="content")
    st.markdown("\n".join(f"- {each}" for each in _lines(here, state)))


def _lines(here: Here, state: GearState) -> list[str]:
    words = here.words
    told = []
    if state.since is not None:
        told.append(words.say("gear.since", what=_done(here, state.since), day=_day(here, state.since.day)))
    elif state.fitness is Fitness.NOT_PROVEN:
        told.append(words.say("gear.stays-out"))
    if state.test_due is not None:
        told.append(words.say("gear.test-due", day=_day(here, state.test_due)))
    dates = (("checked", state.checked), ("dies", state.dies), ("tested", state.tested))
    last = [words.say(f"gear.last-{name}", day=_day(here, day)) for name, day in dates if day]
    return [*told, *last] if told or last else [words.say("gear.nothing-yet")]


def history(here: Here, events: Sequence[tuple[Event, str]]) -> None:
    """What was done, the latest first."""
    if not events:
        return
    st.header(here.words.say("gear.history"), anchor=False)
    names = here.desk.store.people()
    for event, told in events[:_SHOWN]:
        by = names[event.by].name if event.by in names else here.words.say("export.erased")
        line = here.words.say("gear.line", day=_day(here, event.day), what=_done(here, event), by=plain(by))
        st.markdown(f"{line}  \n{plain(told)}" if told else line)


def not_ready(here: Here, states: Sequence[GearState]) -> None:
    """On the driller's first page: what may not stand in the table today, and the way to it; nothing when all may."""
    out = [each for each in worst_first(states) if each.fitness is not Fitness.IN_SERVICE]
    if not out:
        return
    with st.container(key="today-gear", border=True):
        st.subheader(here.words.say("gear.today"), anchor=False)
        for each in out:
            with st.container(key=f"today-gear-{each.gear}", horizontal=True, vertical_alignment="center"):
                st.markdown(title(here, each), width="content")
                st.html(badge(here, each.fitness), width="content")
        if press(here.words.say("gear.to-gear"), "today-to-gear", kind="tertiary", wide=False):
            place.clear()
            go("gear")


def _done(here: Here, event: Event) -> str:
    """What was done and how it came out, in words."""
    if event.what in (What.OUT, What.BACK):
        return here.words.say(f"gear.did-{event.what.value}")
    return here.words.say(f"gear.did-{event.what.value}-{event.outcome.replace(' ', '-')}")


def _day(here: Here, value: date) -> str:
    return plain(wording.day(value, here.words))
