"""My card: what the signed-in person holds, what is missing, what is due when, and the one next thing on top."""

from __future__ import annotations

from collections.abc import Mapping

import streamlit as st

from trainer.actions import look as looking
from trainer.actions import studying
from trainer.actions.look import Card
from trainer.actions.studying import NextStep, Study
from trainer.core.matrix import Cell, Standing
from trainer.core.progress import PartProgress
from trainer.web import card_words, door, firstdays_drawn, look, prints, titles, wording
from trainer.web.goto import go
from trainer.web.plain import plain
from trainer.web.press import press


def draw_next(here: door.Here, card: Card, mine: Mapping[str, Study]) -> None:
    """The one next thing, with the button that leads to it where there is one."""
    words, step = here.words, studying.next_step(card, mine)
    study = mine.get(step.competency, Study(step.competency))
    with st.container(key="next-thing"):
        st.markdown(f"**{words.say('card.next')}**")
        st.subheader(card_words.next_title(here, card, step, study), anchor=False)
        if text := card_words.next_text(here, card, step, study):
            st.markdown(text)
        label = words.say(f"card.press-{step.what}") if words.has(f"card.press-{step.what}") else ""
        if label and press(label, "next-press", kind="primary"):
            open_step(step, study)


def open_step(step: NextStep, study: Study) -> None:
    """Go where the next thing is done."""
    if step.what in ("lesson", "go-on-lesson", "quiz-too-soon", "quiz-talk-first"):
        go("lesson", lesson=study.lesson)
    go("quiz", quiz=study.quiz)


def draw_cell(here: door.Here, cell: Cell, parts: tuple[PartProgress, ...], study: Study | None) -> None:
    """One competency: standing, due date, its parts, what is missing, and where it is learnt."""
    words = here.words
    with st.container(key=f"cell-{cell.competency}", border=True):
        with st.container(key=f"head-{cell.competency}", horizontal=True, vertical_alignment="center"):
            st.markdown(f"### {card_words.title(here, cell.competency)}")
            word = words.say(f"standing.{cell.standing.replace(' ', '-')}")
            st.html(look.badge(cell.standing, word), width="content")
        draw_procedure(here, cell.competency)
        st.markdown("  \n".join(card_words.lines(here, cell, parts)))
        has_records = cell.standing is not Standing.NOT_STARTED
        draw_ways(here, study or Study(cell.competency), has_records=has_records)


def draw_procedure(here: door.Here, competency: str) -> None:
    """The site's procedure behind it, where there is one."""
    if said := titles.procedure(here, competency):
        st.caption(plain(said))


def draw_ways(here: door.Here, study: Study, *, has_records: bool) -> None:
    """To the lesson, the quiz and the records behind, where there are any."""
    words, name = here.words, study.competency
    with st.container(key=f"ways-{name}", horizontal=True):
        if study.lesson and press(words.say("card.to-lesson"), f"lesson-{name}", wide=False):
            go("lesson", lesson=study.lesson)
        if study.quiz and press(words.say("card.to-quiz"), f"quiz-{name}", wide=False):
            go("quiz", quiz=study.quiz)
        if has_records and press(words.say("card.to-records"), f"records-{name}", kind="tertiary", wide=False):
            go("evidence", hand=here.actor.hand, competency=name)


def draw_card(here: door.Here, card: Card, mine: Mapping[str, Study]) -> None:
    """What is missing or due first, then what holds; each in the order of the catalogue."""
    open_ones = [cell for cell in card.cells if cell.standing is not Standing.CURRENT]
    held = [cell for cell in card.cells if cell.standing is Standing.CURRENT]
    for heading, cells in (("card.missing", open_ones), ("card.held", held)):
        if cells:
            st.header(here.words.say(heading), anchor=False)
        for cell in cells:
            draw_cell(here, cell, card.parts[cell.competency], mine.get(cell.competency))


def draw_studies(here: door.Here, mine: Mapping[str, Study]) -> None:
    """Every lesson and quiz, for somebody of whom none is asked."""
    if mine:
        st.header(here.words.say("card.to-look-at"), anchor=False)
    for study in mine.values():
        with st.container(key=f"cell-{study.competency}", border=True):
            st.markdown(f"### {card_words.title(here, study.competency)}")
            draw_procedure(here, study.competency)
            draw_ways(here, study, has_records=False)


here = door.here()
mine = studying.studies(here.desk)
card = looking.card(here.desk, here.actor.hand)
st.title(here.words.say("nav.card"), anchor=False)
st.markdown(here.words.say("card.as-of", day=wording.day(card.as_of, here.words)))
if card.cells or any(study.saved is not None for study in mine.values()):
    draw_next(here, card, mine)
if card.cells:
    firstdays_drawn.draw(here, card.hand)
    draw_card(here, card, mine)
    prints.record_card(here, card.hand)
else:
    st.info(here.words.say("card.no-cells"))
    draw_studies(here, mine)
