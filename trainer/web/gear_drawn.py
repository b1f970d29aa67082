"""A slip set or bowl on screen: how it stands as word, shape and colour, its dates, and what was done to it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from html import escape

import streamlit as st

from trainer.actions import gearing
from trainer.core.gear import BOWL, Event, Fitness, GearState, What
from trainer.core.units import SI
from trainer.web import place, wording
from trainer.web.door import Here
from trainer.web.figures_units import Both
from trainer.web.goto import go
from trainer.web.plain import plain
from trainer.web.press import press

__all__ = ["badge", "history", "not_ready", "state", "title", "units", "worst_first"]

_LOOKS = {
    Fitness.OUT: ("octagon", "stop"),
    Fitness.NOT_PROVEN: ("diamond", "late"),
    Fitness.PAST: ("diamond", "late"),
    Fitness.SOON: ("triangle", "soon"),
    Fitness.IN_SERVICE: ("tick-disc", "good"),
}
_ORDER = tuple(_LOOKS)
_SHOWN = 10
_WHY_SHOWN = 120
_KILO = 1000.0


def worst_first(states: Sequence[GearState]) -> list[GearState]:
    """Those that may not be used first; slip sets before bowls, then by name."""
    return sorted(states, key=lambda each: (_ORDER.index(each.fitness), each.item.kind == BOWL, each.gear))


def title(here: Here, state: GearState) -> str:
    """The site's name for it, for ``st`` calls that take Markdown."""
    return wording.line(state.item.title, here.words)


def units(here: Here) -> Both:
    """Figures in the unit that the rig's own figures put first, the other beside it."""
    rig = here.desk.catalogue.site.rig
    return Both(rig.units if rig else SI)


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
    words, is_ended = here.words, state.since is None and state.ended is not None
    told = _out(here, state.since) if state.since else [_not_proven(here, state)]
    # What is out of service is not proven to anybody, however good its last test was.
    if state.test_due is not None and state.since is None:
        told.append(words.say("gear.test-due", day=_day(here, state.test_due)))
    dates = (("checked", state.checked), ("dies", state.dies), ("tested", None if is_ended else state.tested))
    last = [words.say(f"gear.last-{name}", day=_day(here, day)) for name, day in dates if day]
    return [each for each in (*told, *last) if each] or [words.say("gear.nothing-yet")]


def _out(here: Here, since: Event) -> list[str]:
    """What took it out of service, when and by whom, and why, as far as somebody wrote it."""
    said = here.words.say("gear.since", what=_done(here, since), day=_day(here, since.day), by=_by(here, since))
    written = next((told for each, told in gearing.events(here.desk, since.gear) if each == since), "")
    why = f"{written[:_WHY_SHOWN].rstrip()}…" if len(written) > _WHY_SHOWN else written
    return [said, here.words.say("gear.why", why=plain(why)) if why else ""]


def _not_proven(here: Here, state: GearState) -> str:
    """That no test stands for it, and what ended the last one; empty for what is proven or was until a day."""
    words, ended = here.words, state.ended
    if ended is not None and state.tested is not None:
        days = {"day": _day(here, ended.day), "tested": _day(here, state.tested)}
        return words.say("gear.test-ended", what=_done(here, ended), **days)
    return words.say("gear.stays-out") if state.fitness is Fitness.NOT_PROVEN else ""


def history(here: Here, gear: str, events: Sequence[tuple[Event, str]]) -> None:
    """What was done to ``gear``, the latest first, with the figures that were noted."""
    if not events:
        return
    st.header(here.words.say("gear.history"), anchor=False)
    for event, told in events[:_SHOWN]:
        line = here.words.say("gear.line", day=_day(here, event.day), what=_done(here, event), by=_by(here, event))
        facts = " · ".join(_facts(here, gear, event))
        st.markdown("  \n".join(each for each in (line, facts, plain(told)) if each))


def _facts(here: Here, gear: str, event: Event) -> list[str]:
    """The counts of a die change; of a paper test the load and what stood with ``gear`` in the table."""
    words, said = here.words, []
    if event.dies is not None:
        said.append(words.say("gear.fact-dies", out=event.dies[0], put=event.dies[1]))
    if event.load_kn is not None:
        said.append(words.say("gear.fact-load", load=units(here).line(event.load_kn * _KILO, "load")))
    other = event.gear if gear == event.bowl else event.bowl
    if other:
        item = here.desk.catalogue.site.gear.get(other)
        said.append(wording.line(item.title, words) if item else plain(other))
    return said


def _by(here: Here, event: Event) -> str:
    person = here.desk.store.person(event.by)
    return plain(person.name if person else here.words.say("export.erased"))


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
