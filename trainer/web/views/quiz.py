"""A quiz: what it is and whether it may be started, one question a page, and what came of it.

In the address: ``quiz``, or only ``lesson`` where one comes back from there by the browser's own button; ``seen``, the
number of answers whose outcome was looked at; ``taken``, the record of a quiz that is over.
"""

from __future__ import annotations

import streamlit as st

from trainer.actions import look as looking
from trainer.actions import quizzing, studying
from trainer.actions.quizzing import Review
from trainer.actions.sittings import Sitting
from trainer.core.banks import Bank
from trainer.web import door, next_drawn, place, quiz_drawn
from trainer.web.goto import go
from trainer.web.press import press
from trainer.web.tasks_drawn import draw, draw_picture, ready


def begin(here: door.Here, bank: Bank) -> None:
    """What this quiz is, and the way in, or why not now and from when."""
    allowed = quizzing.may_start(here.desk, bank.id)
    quiz_drawn.introduction(here, bank)
    if allowed.ok:
        if press(here.words.say("quiz.start"), "start", kind="primary"):
            quizzing.start(here.desk, bank.id)
            place.put(seen=None)
            st.rerun()
    else:
        quiz_drawn.not_now(here, allowed)
    last = studying.last_review(here.desk, bank.id)
    if last and press(quiz_drawn.last_label(here, last), "last", kind="secondary"):
        place.put(taken=last.record.record_id)
        st.rerun()
    with st.container(key="ways-out", horizontal=True):
        to_lesson(here, bank.lesson)
        if press(here.words.say("quiz.to-card"), "to-card", kind="tertiary", wide=False):
            go("card")


def to_lesson(here: door.Here, lesson: str) -> None:
    """The way to the lesson, where there is one."""
    if lesson in here.desk.catalogue.lessons and press(
        here.words.say("quiz.to-lesson"), "to-lesson", kind="tertiary", wide=False
    ):
        go("lesson", lesson=lesson)


def sit(here: door.Here, sitting: Sitting) -> None:
    """The critical miss that was not looked at yet, else the next question, else the end."""
    answered = str(sitting.answered)
    missed = quizzing.just_missed(sitting)
    if missed is not None and place.at("seen") != answered:
        quiz_drawn.critical_miss(here, sitting, missed)
        label = "quiz.see-result" if sitting.position is None else "quiz.next"
        if press(here.words.say(label), f"next-{sitting.draft_id}-{answered}", kind="primary"):
            place.put(seen=answered)
            st.rerun()
        if missed.item.scene and press(here.words.say("quiz.see-scene"), "see-scene"):
            go("lesson", lesson=sitting.bank.lesson, scene=missed.item.scene, quiz=sitting.bank.id)
    elif sitting.position is None:
        record, _ = quizzing.finish(here.desk, sitting.draft_id)
        place.put(seen=None, taken=record.record_id)
        st.rerun()
    else:
        ask(here, sitting, sitting.position)


def ask(here: door.Here, sitting: Sitting, position: int) -> None:
    """One question; each tap is kept, and pressing makes it final."""
    shown, words = sitting.shown(position, here.language), here.words
    key = f"{sitting.draft_id}-{position}"
    quiz_drawn.where(here, sitting, position)
    quiz_drawn.question(shown)
    draw_picture(shown.picture, words, key=f"picture-{key}")
    kept = sitting.kept(position)
    moved = draw(shown.task, kept, ask=shown.text, words=words, key=f"task-{key}")
    if moved is not None:
        quizzing.keep(here.desk, sitting.draft_id, position, moved)
    given = ready(shown.task, kept if moved is None else moved)
    label = "quiz.save" if given else "quiz.choose-first"
    if press(words.say(label), f"save-{key}", kind="primary", disabled=not given) and given:
        quizzing.answer(here.desk, sitting.draft_id, position, given)
        place.put(seen=None)
        st.rerun()
    st.markdown(words.say("quiz.saved", saved=sitting.answered, items=len(sitting.form.items)))
    if press(words.say("quiz.later"), f"later-{key}", kind="tertiary", wide=False):
        go("card")


def over(here: door.Here, record_id: str) -> None:
    """What came of a quiz: passed or not yet, what to fix and where it is taught, and what is next."""
    review = quizzing.review(here.desk, record_id)
    scene = quiz_drawn.outcome(here, review)
    if scene:
        go("lesson", lesson=review.lesson, scene=scene, quiz=review.body.quiz, taken=record_id)
    is_on_way = goes_on(here, review)
    label = here.words.say("quiz.to-card")
    if press(label, "to-card", kind="tertiary" if is_on_way else "primary", wide=not is_on_way):
        go("card")


def goes_on(here: door.Here, review: Review) -> bool:
    """Draw what comes next by the card of who has passed; whether there was anything to draw."""
    if not review.body.passed or review.record.hand != here.actor.hand:
        return False
    card = looking.card(here.desk, here.actor.hand)
    if card.cells:
        next_drawn.draw(here, card, studying.studies(here.desk))
    return bool(card.cells)


def asked_for(here: door.Here) -> Bank | None:
    """The quiz of the address. Going to its lesson leaves a step in which only the lesson is named."""
    banks, lesson = here.desk.catalogue.banks, place.at("lesson")
    if place.at("quiz") or not lesson:
        return banks.get(place.at("quiz"))
    return next((bank for bank in banks.values() if bank.lesson == lesson), None)


here = door.here()
bank = asked_for(here)
if place.at("taken"):
    over(here, place.at("taken"))
elif bank is None:
    go("card")
elif (sitting := quizzing.open_sitting(here.desk, bank.id)) is not None:
    sit(here, sitting)
else:
    begin(here, bank)
