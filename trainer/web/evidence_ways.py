"""Beside a cell's standing: what is allowed for a while, the ways off and back, and sign-offs to look at again."""

from __future__ import annotations

from datetime import date

import streamlit as st

from trainer.actions import dispensed, dispensing, may, reinstating, signing_off
from trainer.actions.dispensed import RUNS
from trainer.web import allowed_drawn, marks_drawn
from trainer.web.door import Here
from trainer.web.goto import go
from trainer.web.press import press

__all__ = ["draw"]


def draw(here: Here, hand: str, competency: str, as_of: date) -> None:
    """All of it; what can be done is for today only, and for those who lead."""
    given = dispensed.of_cell(here.desk, hand, competency, as_of)
    for each in given:
        allowed_drawn.panel(here, each)
    if not may.sees_all(here.desk):
        return
    if as_of == here.desk.today:
        _ways(here, hand, competency, is_allowed=any(each.state == RUNS for each in given))
    marks = signing_off.marks_of(here.desk, hand, competency)
    if marks:
        with st.container(key="evidence-marks", border=True):
            st.markdown(f"**{here.words.say('slips.marks-title')}**")
            marks_drawn.lines(here, marks)


def _ways(here: Here, hand: str, competency: str, *, is_allowed: bool) -> None:
    offer, words = reinstating.offer(here.desk, hand), here.words
    with st.container(key="evidence-ways", horizontal=True):
        if offer and competency in offer.back:
            if press(words.say("slips.bring-back"), "to-back", kind="primary", wide=False):
                go("slips", hand=hand, competency=competency, do="back")
        elif offer and competency in offer.off and press(words.say("slips.take-off"), "to-off", wide=False):
            go("slips", hand=hand, competency=competency, do="off")
        can_allow = not is_allowed and dispensing.offer(here.desk, hand, competency) is not None
        if can_allow and press(words.say("slips.allow"), "to-allow", wide=False):
            go("slips", hand=hand, competency=competency, do="allow")
