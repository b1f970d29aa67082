"""The one next thing, with the button that leads to it: on the card, and at the end of a lesson."""

from __future__ import annotations

from collections.abc import Mapping

import streamlit as st

from trainer.actions import studying
from trainer.actions.look import Card
from trainer.actions.studying import NextStep, Study
from trainer.web import card_words, door
from trainer.web.goto import go
from trainer.web.press import press

__all__ = ["draw", "open_step", "way_in"]


def draw(here: door.Here, card: Card, mine: Mapping[str, Study]) -> NextStep:
    """Draw it; what it is."""
    words, step = here.words, studying.next_step(card, mine)
    study = mine.get(step.competency, Study(step.competency))
    with st.container(key="next-thing"):
        st.markdown(f"**{words.say('card.next')}**")
        st.subheader(card_words.next_title(here, card, step, study), anchor=False)
        if text := card_words.next_text(here, card, step, study):
            st.markdown(text)
        label = way_in(here, step.what)
        if label and press(label, "next-press", kind="primary"):
            open_step(step.what, study)
    return step


def way_in(here: door.Here, what: str) -> str:
    """What stands on the button that leads to it; empty where nothing leads there."""
    key = f"card.press-{what}"
    return here.words.say(key) if here.words.has(key) else ""


def open_step(what: str, study: Study) -> None:
    """Go where the next thing is done."""
    if what in ("lesson", "go-on-lesson", "quiz-too-soon", "quiz-talk-first"):
        go("lesson", lesson=study.lesson)
    go("quiz", quiz=study.quiz)
