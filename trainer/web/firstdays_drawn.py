"""The way of a new hand on a page: what comes first, how far each subject is, and what stays undone until then."""

from __future__ import annotations

from html import escape

import streamlit as st

from trainer.actions import starting
from trainer.core.firstdays import STAGES, Stage, State, Step, Subject
from trainer.web import look, prints, titles, wording
from trainer.web.door import Here
from trainer.web.matrix_rows import standing_word
from trainer.web.plain import plain

__all__ = ["draw"]

_SHAPES = {State.DONE: ("tick", "good"), State.NEXT: ("half", "learn"), State.LATER: ("dash", "neutral")}


def draw(here: Here, hand: str, *, has_sheet: bool = True) -> None:
    """The way of ``hand`` while anything up to the end of the first hitch is open, with the sheet to print."""
    found = starting.newcomer(here.desk, hand)
    if found.way.is_over:
        return
    words, is_own = here.words, hand == here.actor.hand
    with st.container(key="first-days"):
        title = words.say("first_days.title") if is_own else words.say("first_days.title-of", name=plain(found.name))
        st.header(title, anchor=False)
        st.markdown(words.say("first_days.text" if is_own else "first_days.text-of"))
        for stage in STAGES:
            _stage(here, stage, found.way.of(stage))
        if has_sheet:
            prints.orientation_sheet(here, found)


def _stage(here: Here, stage: Stage, subjects: tuple[Subject, ...]) -> None:
    """One part of the way: what is open in its order, then what is held in one line."""
    if not subjects:
        return
    words, waiting = here.words, [each for each in subjects if not each.is_held]
    st.subheader(words.say(f"first_days.stage-{stage}"), anchor=False)
    if waiting and stage is Stage.TOUCH:
        st.markdown(words.say("first_days.rule-touch"))
    for subject in waiting:
        _subject(here, subject)
    held = [plain(titles.competency(here, each.competency)) for each in subjects if each.is_held]
    if held:
        st.markdown(words.say("first_days.held", titles=", ".join(held)))


def _subject(here: Here, subject: Subject) -> None:
    words = here.words
    with st.container(key=f"first-{subject.competency}", border=True):
        with st.container(key=f"first-head-{subject.competency}", horizontal=True, vertical_alignment="center"):
            st.markdown(f"**{plain(titles.competency(here, subject.competency))}**")
            st.html(look.badge(subject.standing, standing_word(subject.standing, words)), width="content")
        # What is all to come needs no three marks that say so: on a small screen the way would be twice as long.
        if any(each.state is not State.LATER for each in subject.steps):
            st.html(f'<div class="standings">{"".join(_step(here, each) for each in subject.steps)}</div>')
        st.markdown("  \n".join(_lines(here, subject)))


def _lines(here: Here, subject: Subject) -> list[str]:
    words = here.words
    said = [words.say("first_days.until", what=wording.line(subject.until, words))] if subject.until else []
    if subject.after:
        named = ", ".join(plain(titles.competency(here, each)) for each in subject.after)
        said.append(words.say("first_days.after", titles=named))
    if subject.due:
        said.append(words.say("first_days.by", day=plain(wording.day(subject.due, words))))
    return said


def _step(here: Here, step: Step) -> str:
    """HTML: what it is and how it is with it, as shape, word and colour."""
    words, (shape, tone) = here.words, _SHAPES[step.state]
    what = words.say(f"first_days.{step.what}", done=step.done, of=step.of)
    said = words.say("first_days.step", what=what, state=words.say(f"first_days.state-{step.state}"))
    return f'<span class="badge badge-{tone}"><i style="--shape: var(--shape-{shape})"></i>{escape(said)}</span>'
