"""My card: what the signed-in person holds, what is missing, what is due when, and the one next thing on top.

Somebody new finds each subject once, on his way; below stands only what he holds.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from functools import partial

import streamlit as st

from trainer.actions import look as looking
from trainer.actions import studying
from trainer.actions.look import Card
from trainer.actions.studying import Study
from trainer.core.firstdays import State, Subject
from trainer.core.matrix import Cell, Standing
from trainer.core.progress import PartProgress
from trainer.web import card_words, door, firstdays_drawn, look, next_drawn, prints, titles, wording
from trainer.web.goto import go
from trainer.web.plain import plain
from trainer.web.press import press


def draw_on_way(here: door.Here, card: Card, mine: Mapping[str, Study], subject: Subject) -> None:
    """One subject of the way: why it stands so, its step of today, and the rest folded."""
    name = subject.competency
    cell = next((each for each in card.cells if each.competency == name), None)
    study, parts = mine.get(name, Study(name)), card.parts.get(name, ())
    if cell is None:
        return
    if said := card_words.standing_lines(here, cell, parts, study):
        st.markdown("  \n".join(said))
    draw_step(here, subject, study)
    with st.expander(here.words.say("card.more"), key=f"more-{name}"):
        draw_procedure(here, name)
        if told := card_words.rest(here, cell, parts):
            st.markdown("  \n".join(told))
        draw_ways(here, study, has_records=cell.standing is not Standing.NOT_STARTED or study.is_missed)


def draw_step(here: door.Here, subject: Subject, study: Study) -> None:
    """The button for what can be done in this subject now."""
    step = next((each.what for each in subject.steps if each.state is State.NEXT), "")
    what = studying.what_now(step, study)
    label = next_drawn.way_in(here, what)
    if label and press(label, f"step-{subject.competency}", wide=False):
        next_drawn.open_step(what, study)


def draw_cell(here: door.Here, cell: Cell, parts: tuple[PartProgress, ...], study: Study) -> None:
    """One competency: standing, due date, its parts, what is missing, and where it is learnt."""
    words = here.words
    with st.container(key=f"cell-{cell.competency}", border=True):
        with st.container(key=f"head-{cell.competency}", horizontal=True, vertical_alignment="center"):
            st.markdown(f"### {card_words.title(here, cell.competency)}")
            word = words.say(f"standing.{cell.standing.replace(' ', '-')}")
            st.html(look.badge(cell.standing, word), width="content")
        draw_procedure(here, cell.competency)
        st.markdown("  \n".join(card_words.lines(here, cell, parts, study)))
        draw_ways(here, study, has_records=cell.standing is not Standing.NOT_STARTED or study.is_missed)


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


def draw_card(here: door.Here, card: Card, mine: Mapping[str, Study], told: Collection[str]) -> None:
    """What is missing or due first, then what holds, in the catalogue's order; without what was ``told`` already."""
    left = [cell for cell in card.cells if cell.competency not in told]
    open_ones = [cell for cell in left if cell.standing is not Standing.CURRENT]
    held = [cell for cell in left if cell.standing is Standing.CURRENT]
    for heading, cells in (("card.missing", open_ones), ("card.held", held)):
        if cells:
            st.header(here.words.say(heading), anchor=False)
        for cell in cells:
            study = mine.get(cell.competency, Study(cell.competency))
            draw_cell(here, cell, card.parts[cell.competency], study)


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
    next_drawn.draw(here, card, mine)
if card.cells:
    way = partial(draw_on_way, here, card, mine)
    draw_card(here, card, mine, firstdays_drawn.draw(here, card.hand, mine=mine, beside=way))
    prints.record_card(here, card.hand)
else:
    st.info(here.words.say("card.no-cells"))
    draw_studies(here, mine)
