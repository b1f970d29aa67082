"""The way of a new hand on a page: what comes first, how far each subject is, and how one works until then."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from html import escape
from types import MappingProxyType

import streamlit as st

from trainer.actions import starting
from trainer.actions.studying import Study
from trainer.core.firstdays import STAGES, Stage, State, Step, Subject
from trainer.core.standing import Standing
from trainer.web import look, prints, titles, wording
from trainer.web.door import Here
from trainer.web.matrix_rows import standing_word
from trainer.web.plain import plain

__all__ = ["draw"]

_SHAPES = {
    "done": ("tick", "good"),
    "next": ("half", "learn"),
    "begun": ("half", "learn"),
    "not-yet": ("half", "learn"),
    "later": ("dash", "neutral"),
}
_NONE: Mapping[str, Study] = MappingProxyType({})

Beside = Callable[[Subject], None]


def draw(
    here: Here, hand: str, *, has_sheet: bool = True, mine: Mapping[str, Study] = _NONE, beside: Beside | None = None
) -> frozenset[str]:
    """The way of ``hand`` while anything up to the end of the first hitch is open, with the sheet to print.

    ``mine`` is how the hand himself stands with each lesson and quiz, ``beside`` draws what else belongs to a subject
    on his own card. What comes back are the competencies of the subjects that were drawn.
    """
    found = starting.newcomer(here.desk, hand)
    if found.way.is_over:
        return frozenset()
    words, is_own = here.words, hand == here.actor.hand
    with st.container(key="first-days"):
        title = words.say("first_days.title") if is_own else words.say("first_days.title-of", name=plain(found.name))
        st.header(title, anchor=False)
        st.markdown(words.say("first_days.text" if is_own else "first_days.text-of"))
        for stage in STAGES:
            subjects = found.way.of(stage)
            _stage(here, stage, subjects)
            for each in subjects:
                if not each.is_held:
                    _subject(here, each, found.as_of, mine.get(each.competency), beside)
            _held(here, subjects)
        if has_sheet:
            prints.orientation_sheet(here, found)
    return frozenset(each.competency for each in found.way.waiting)


def _stage(here: Here, stage: Stage, subjects: tuple[Subject, ...]) -> None:
    """The heading of one part of the way."""
    if subjects:
        st.subheader(here.words.say(f"first_days.stage-{stage}"), anchor=False)
    if stage is Stage.TOUCH and not all(each.is_held for each in subjects):
        st.markdown(here.words.say("first_days.rule-touch"))


def _held(here: Here, subjects: tuple[Subject, ...]) -> None:
    """What is held already, in one line."""
    held = [plain(titles.competency(here, each.competency)) for each in subjects if each.is_held]
    if held:
        st.markdown(here.words.say("first_days.held", titles=", ".join(held)))


def _subject(here: Here, subject: Subject, as_of: date, study: Study | None, beside: Beside | None) -> None:
    states = [(each, _state(each, study)) for each in subject.steps]
    with st.container(key=f"path-{subject.competency}", border=True):
        with st.container(key=f"path-head-{subject.competency}", horizontal=True, vertical_alignment="center"):
            st.markdown(f"**{plain(titles.competency(here, subject.competency))}**")
            st.html(look.badge(subject.standing, _standing(here, subject, is_own=beside is not None)), width="content")
        # What is all to come needs no three marks that say so: on a small screen the way would be twice as long.
        if any(state != State.LATER for _, state in states):
            st.html(f'<div class="steps">{"".join(_step(here, each, state) for each, state in states)}</div>')
        st.markdown("  \n".join(_lines(here, subject, as_of)))
        if beside is not None:
            beside(subject)


def _standing(here: Here, subject: Subject, *, is_own: bool) -> str:
    """The standing in words; whoever is off the slips reads on his own card whom to see."""
    if is_own and subject.standing is Standing.STOOD_DOWN:
        return here.words.say("standing.stood-down")
    return standing_word(subject.standing, here.words)


def _lines(here: Here, subject: Subject, as_of: date) -> list[str]:
    words, after = here.words, []
    if subject.after:
        named = ", ".join(plain(titles.competency(here, each)) for each in subject.after)
        after.append(words.say("first_days.after", titles=named))
    if subject.due:
        # Only what was held can run out.
        key = "by" if subject.is_new else "due"
        key = f"was-{key}" if subject.due < as_of else key
        after.append(words.say(f"first_days.{key}", day=plain(wording.day(subject.due, words))))
    until = [words.say("first_days.until", what=wording.line(subject.until, words))] if subject.until else []
    return [*until, *([" ".join(after)] if after else [])]


def _state(step: Step, study: Study | None) -> str:
    """How it is with it: a lesson or quiz of one's own that was begun or tried says more than next or later."""
    if study is None or step.state is State.DONE:
        return step.state
    if step.what == "quiz" and (study.saved is not None or study.is_missed):
        return "begun" if study.saved is not None else "not-yet"
    if step.what == "lesson" and study.saved is not None:
        # Who is in the middle of the quiz goes on with that.
        return State.LATER
    return "begun" if step.what == "lesson" and study.scene else step.state


def _step(here: Here, step: Step, state: str) -> str:
    """HTML: what it is and how it is with it, as shape, word and colour; no ground, which would look like a button."""
    words, (shape, tone) = here.words, _SHAPES[state]
    what = words.say(f"first_days.{step.what}", done=step.done, of=step.of)
    said = words.say("first_days.step", what=what, state=words.say(f"first_days.state-{state}"))
    return f'<span class="step step-{tone}"><i style="--shape: var(--shape-{shape})"></i>{escape(said)}</span>'
