"""Slip sets and bowls: how each stands today, what was done to it, and the forms to record more.

In the address: ``gear`` for one of them; ``do`` with it for what is to be recorded; ``told`` once a test is on record.
"""

from __future__ import annotations

import streamlit as st

from trainer.actions import gearing
from trainer.core.gear import BOWL, GearState, What
from trainer.web import door, gear_drawn, gear_forms, gear_test, place, session
from trainer.web.press import press


def draw_list(here: door.Here, states: tuple[GearState, ...]) -> None:
    """All of them, the worst first, each a way in."""
    st.title(here.words.say("gear.title"), anchor=False)
    st.markdown(here.words.say("gear.text"))
    if not states:
        st.info(here.words.say("gear.none"))
    with st.container(key="gear-list"):
        for state in gear_drawn.worst_first(states):
            with st.container(key=f"gear-{state.gear}", border=True):
                gear_drawn.state(here, state)
                if press(here.words.say("gear.open"), f"gear-open-{state.gear}", wide=False):
                    place.put(gear=state.gear)
                    st.rerun()


def draw_one(here: door.Here, state: GearState) -> None:
    """One of them: how it stands, what can be recorded, and what was."""
    st.title(gear_drawn.title(here, state), anchor=False)
    if session.kept(gear_forms.NOTICE):
        st.success(session.kept(gear_forms.NOTICE))
        session.keep(gear_forms.NOTICE, "")
    gear_test.told(here)
    gear_drawn.state(here, state, named=False)
    st.header(here.words.say("gear.record"), anchor=False)
    st.markdown(here.words.say("gear.caution"))
    with st.container(key="tiles"):
        for what in ways(state):
            if press(here.words.say(f"gear.do-{what.value}"), f"gear-do-{what.value}"):
                gear_forms.begin(here, what)
                st.rerun()
    gear_drawn.history(here, state.gear, gearing.events(here.desk, state.gear))


def ways(state: GearState) -> list[What]:
    """What can be recorded about it: dies and paper tests are a set's, coming back is for what is out."""
    own = [What.CHECK] if state.item.kind == BOWL else [What.CHECK, What.DIES, What.TEST]
    return [*own, What.OUT if state.since is None else What.BACK]


def draw() -> None:
    """The whole page."""
    here = door.here()
    states = gearing.states(here.desk)
    state = next((each for each in states if each.gear == place.at("gear")), None)
    if state is None:
        draw_list(here, states)
        return
    is_doing = place.at("do") in [each.value for each in ways(state)]
    if press(here.words.say("common.back"), "gear-back", kind="tertiary", wide=False):
        place.put(do=None, told=None, gear=state.gear if is_doing else None)
        st.rerun()
    if not is_doing:
        draw_one(here, state)
    elif place.at("do") == What.TEST:
        gear_test.draw(here, state)
    else:
        gear_forms.draw(here, state, What(place.at("do")))


draw()
