"""A lesson: one scene a page, a decision, what follows from it and why; or one scene looked at again.

In the address: ``lesson``, or only ``quiz`` where one comes back from there by the browser's own button, and ``seen``,
the number of tries whose outcome was looked at; ``scene`` looks back at one scene and changes nothing, ``taken`` is
then the quiz to go back to; ``done`` is the page after the end.
"""

from __future__ import annotations

import streamlit as st

from trainer.actions import learning, studying
from trainer.actions import look as looking
from trainer.actions.learning import Playing
from trainer.actions.look import Card
from trainer.core.lessons import Lesson
from trainer.core.playing import ONWARD
from trainer.core.records import Part
from trainer.core.tasks import Answer
from trainer.web import aloud, card_words, door, next_drawn, place, scenes_drawn, wording
from trainer.web.goto import go
from trainer.web.press import press
from trainer.web.tasks_drawn import draw, ready


def to_quiz(here: door.Here, lesson: Lesson, label: str, *, is_main: bool = False) -> None:
    """The way to the quiz of this lesson, where there is one."""
    quiz = next((bank.id for bank in here.desk.catalogue.banks.values() if bank.lesson == lesson.id), "")
    if quiz and press(here.words.say(label), "to-quiz", kind="primary" if is_main else "tertiary", wide=is_main):
        go("quiz", quiz=quiz)


def to_card(here: door.Here, label: str) -> None:
    """The way back to the card."""
    if press(here.words.say(label), "to-card", kind="tertiary", wide=False):
        go("card")


def play(here: door.Here, playing: Playing) -> None:
    """The outcome of the last choice until it was looked at, else the scene that the player stands in."""
    tries = str(len(playing.path))
    has_outcome = scenes_drawn.has_outcome(playing)
    if has_outcome and place.at("seen") != tries:
        scenes_drawn.outcome(here, playing)
        label = "lesson.go-on" if playing.last and playing.last.right else "lesson.try-again"
        if press(here.words.say(label), f"on-{playing.draft_id}-{tries}", kind="primary"):
            place.put(seen=tries)
            st.rerun()
    elif playing.scene is None:
        learning.finish(here.desk, playing.draft_id)
        place.put(seen=None, done="1")
        st.rerun()
    else:
        decide(here, playing)
        if has_outcome and press(here.words.say("lesson.last-step"), "last-step", kind="tertiary", wide=False):
            place.put(seen=None)
            st.rerun()


def decide(here: door.Here, playing: Playing) -> None:
    """The scene with its task; what is tapped is kept, and counts once it is pressed."""
    scene, draft = playing.scene, playing.draft_id
    assert scene is not None
    scenes_drawn.situation(here, playing.play, scene)
    shown = learning.shown_scene(playing, here.language)
    answer: Answer = ONWARD
    label = "lesson.go-on"
    key = f"{draft}-{scene.id}-{len(playing.path)}"
    if shown is not None:
        moved = draw(shown, playing.kept, ask=scenes_drawn.ask_of(here, scene), words=here.words, key=key)
        if moved is not None:
            learning.keep(here.desk, draft, scene.id, moved)
        given = ready(shown, playing.kept if moved is None else moved)
        label = "lesson.decide" if given else "lesson.choose-first"
        answer = given or ONWARD
    is_open = shown is not None and not answer
    if press(here.words.say(label), f"decide-{key}", kind="primary", disabled=is_open, stays=True):
        learning.choose(here.desk, draft, scene.id, answer)
        place.put(seen=None)
        st.rerun()


def end(here: door.Here, lesson: Lesson) -> None:
    """The page after the last scene: what was learnt, and what comes next for whoever learnt it."""
    named(here, lesson)
    st.title(here.words.say("lesson.end-title"), anchor=False)
    st.markdown(wording.line(lesson.objective, here.words))
    card = looking.card(here.desk, here.actor.hand)
    parts = card.parts.get(lesson.competency, ())
    is_known = any(each.part is Part.KNOWLEDGE and each.holds for each in parts)
    st.markdown(card_words.knowledge(here, parts) if is_known else here.words.say("lesson.end-text"))
    is_quiz_next = not card.cells or leads_to_quiz(here, lesson, card)
    if not card.cells:
        to_quiz(here, lesson, "lesson.end-quiz", is_main=True)
    if press(here.words.say("lesson.again"), "again"):
        place.put(lesson=lesson.id, quiz=None, done=None)
        st.rerun()
    with st.container(key="ways-out", horizontal=True):
        if not is_quiz_next:
            to_quiz(here, lesson, "lesson.end-quiz")
        to_card(here, "lesson.to-card")


def leads_to_quiz(here: door.Here, lesson: Lesson, card: Card) -> bool:
    """Draw what comes next by the card; whether it is the quiz of this lesson."""
    step = next_drawn.draw(here, card, studying.studies(here.desk))
    return step.competency == lesson.competency and step.what in ("quiz", "go-on-quiz")


def asked_for(here: door.Here) -> Lesson | None:
    """The lesson of the address. Going to its quiz leaves a step in which only the quiz is named."""
    lessons, bank = here.desk.catalogue.lessons, here.desk.catalogue.banks.get(place.at("quiz"))
    return lessons.get(place.at("lesson") or (bank.lesson if bank else ""))


def is_over(here: door.Here, lesson: Lesson) -> bool:
    """Whether the page after the end is to be shown: by the address, or on the way back from the quiz."""
    if place.at("lesson"):
        return bool(place.at("done"))
    study = studying.studies(here.desk).get(lesson.competency)
    return study is not None and study.lesson == lesson.id and study.is_played and not study.scene


def named(here: door.Here, lesson: Lesson) -> None:
    """Which lesson this is."""
    aloud.unsaid(here.words.say("lesson.name", title=wording.line(lesson.title, here.words)))


def look_back(here: door.Here, lesson: Lesson) -> None:
    """One scene with its right answer and the reasons, and the way back to the quiz that led here."""
    scene = lesson.scene(place.at("scene"))
    if scene is None:
        place.put(scene=None)
        st.rerun()
    scenes_drawn.look_back(here, lesson, scene)
    back = {name: place.at(name) for name in ("quiz", "taken") if place.at(name)}
    if back and press(here.words.say("lesson.back-to-quiz"), "back", kind="primary"):
        go("quiz", **back)
    if press(here.words.say("lesson.whole"), "whole", kind="secondary"):
        place.put(scene=None, quiz=None, taken=None)
        st.rerun()


here = door.here()
lesson = asked_for(here)
if lesson is None:
    go("card")
elif place.at("scene"):
    look_back(here, lesson)
elif is_over(here, lesson):
    end(here, lesson)
else:
    named(here, lesson)
    play(here, learning.open_lesson(here.desk, lesson.id))
    with st.container(key="ways-out", horizontal=True):
        to_quiz(here, lesson, "lesson.skip")
        to_card(here, "lesson.later")
