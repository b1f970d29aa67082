"""After a step: what was written, in one line, and the one next thing."""

from __future__ import annotations

import streamlit as st

from trainer.web import place
from trainer.web.door import Here
from trainer.web.press import press
from trainer.web.slips_way import every, go_home, go_on, home, name

__all__ = ["STEPS", "draw"]

STEPS = ("off-done", "back-done", "allow-done")


def draw(here: Here, hand: str) -> None:
    """The result, the next thing, and the ways on."""
    words, step, person = here.words, place.at("do"), name(here, hand)
    known = [each.id for each in here.desk.catalogue.competencies]
    told = every(here, [each for each in known if each in place.at("titles").split(",")])
    st.title(words.say(f"slips.{step.replace('done', 'title')}", name=person, title=told), anchor=False)
    st.markdown(words.say(f"slips.{step}", name=person, titles=told, title=told))
    with st.container(key="next-thing"):
        st.markdown(f"**{words.say('signoff.next')}**")
        following = words.say(f"slips.{step.replace('done', 'next')}", name=person)
        if step == "off-done":
            st.error(f"**{words.say('signoff.first-safe')}**  \n{following}")
        else:
            st.markdown(following)
    if press(words.say(f"slips.to-{home(here)}"), "slips-home", kind="primary"):
        go_home(here)
    if press(words.say("slips.to-hand", name=person), "slips-hand", kind="tertiary", wide=False):
        go_on(hand)
