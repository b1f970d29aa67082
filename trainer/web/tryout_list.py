"""What there is to play, what is wrong with the newest files, and what is not translated yet."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from trainer.actions import trying
from trainer.actions.trying import Subject
from trainer.curriculum.checks.translations import lacking
from trainer.errors import Problem
from trainer.web import door, people_told, place, wording
from trainer.web.newest import Newest
from trainer.web.plain import plain
from trainer.web.press import press

__all__ = ["draw", "problems"]

_MOST_LINES = 200


def problems(here: door.Here, found: Newest) -> None:
    """Why the newest files are not shown, if they are not, and what was noted besides, each with what to do."""
    if found.errors:
        st.error(here.words.count("tryout.refused", len(found.errors)))
        st.markdown(_lines(here, found.errors))
    elif found.warnings:
        with st.expander(here.words.count("tryout.noted", len(found.warnings)), key="tryout-noted"):
            st.markdown(_lines(here, found.warnings))


def _lines(here: door.Here, told: Sequence[Problem]) -> str:
    """One line a problem, the files' own names and all; ``check`` says them in English."""
    return "\n".join(f"- {_line(here, each)}" for each in told[:_MOST_LINES])


def _line(here: door.Here, told: Problem) -> str:
    names = {name: plain(str(getattr(told, name))) for name in ("file", "line", "where", "what", "todo")}
    return here.words.say("tryout.problem", **names)


def draw(here: door.Here, found: Newest) -> None:
    """The list of what can be played, and below it what is not translated."""
    st.title(here.words.say("tryout.title"), anchor=False)
    st.markdown(here.words.say("tryout.text"))
    problems(here, found)
    press(here.words.say("tryout.read-again"), "tryout-again", stays=True, wide=False)
    for subject in trying.subjects(here.desk):
        _subject(here, subject)
    _untranslated(here, found)


def _subject(here: door.Here, subject: Subject) -> None:
    with st.container(key=f"tryout-{subject.competency}", border=True):
        title = wording.line(subject.title, here.words) if subject.title else plain(subject.competency)
        st.markdown(f"**{title}**")
        with st.container(key=f"tryout-ways-{subject.competency}", horizontal=True):
            for lesson in subject.lessons:
                label = here.words.count("tryout.lesson", len(lesson.scenes), minutes=lesson.minutes)
                if press(label, f"tryout-lesson-{lesson.id}", wide=False):
                    place.put(lesson=lesson.id)
                    st.rerun()
            for bank in subject.banks:
                if press(here.words.count("tryout.quiz", len(bank.items)), f"tryout-quiz-{bank.id}", wide=False):
                    place.put(quiz=bank.id)
                    st.rerun()


def _untranslated(here: door.Here, found: Newest) -> None:
    """Each sentence that a language of the site lacks, with its place; nothing where there is none."""
    site = here.desk.catalogue.site
    missing = {language: lacking(found.loaded, language) for language in site.languages}
    if not any(missing.values()):
        return
    st.header(here.words.say("tryout.untranslated"), anchor=False)
    st.markdown(here.words.say("tryout.untranslated-text"))
    for language, sentences in missing.items():
        if sentences:
            title = here.words.count("tryout.lacking", len(sentences), language=plain(people_told.language(language)))
            with st.expander(title, key=f"tryout-lacking-{language}"):
                lines = [f"- {plain(f'{each.file}:{each.line}')}: {plain(each.english)}" for each in sentences]
                st.markdown("\n".join(lines[:_MOST_LINES]))
                if len(lines) > _MOST_LINES:
                    st.caption(here.words.say("tryout.and-more", count=len(lines) - _MOST_LINES))
