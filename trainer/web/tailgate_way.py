"""Around a tailgate on screen: which page a session may see, names, whose language, and the driller's PIN."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NoReturn

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from trainer.actions import tailgating
from trainer.actions.meetings import Meeting
from trainer.errors import TrainerError
from trainer.web import cached, door, place, session, wording
from trainer.web.goto import turn
from trainer.web.pages import View
from trainer.web.parts import keypad
from trainer.web.plain import plain
from trainer.web.press import press
from trainer.words import Words

__all__ = [
    "OUT",
    "PAGE",
    "ask_pin",
    "lay_down_link",
    "name",
    "narrow",
    "only_page",
    "onward",
    "other_languages",
    "sign_out",
    "stay",
    "throw_away",
    "topic",
    "words_of",
]

PAGE = "tailgate"
"""The address of the page."""

OUT = "out"
"""In the address while it is asked whether to sign out in the middle of a talk."""

_PROBLEM = "tailgate-problem"
_SPEAK = "speak"


def only_page(here: door.Here, allowed: Iterable[View]) -> str:
    """The address of the one page that this session may see now, empty where it may see all of its own.

    While the tablet goes round at a tailgate the driller is signed in and others hold it.
    """
    is_known = any(each.url == PAGE for each in allowed)
    return PAGE if is_known and tailgating.is_locked(here.desk, here.token) else ""


def onward(**steps: str | None) -> NoReturn:
    """Draw the next step from its top, with these in the address. Call it last."""
    turn()
    stay(**steps)


def stay(**steps: str | None) -> NoReturn:
    """Draw this step anew where it is, with these in the address. Call it last."""
    session.keep(_PROBLEM, "")
    # Whoever goes on with the talk does not want to sign out any more.
    place.put(**{OUT: None, **steps})
    st.rerun()


def narrow() -> DeltaGenerator:
    """A reader's width on this wide page."""
    return st.container(key="reading")


def name(here: door.Here, hand: str) -> str:
    """What that person is called, for Markdown."""
    person = here.desk.store.person(hand)
    return plain(person.name if person else hand)


def topic(here: door.Here, competency: str) -> str:
    """The topic's title, for Markdown."""
    known = here.desk.catalogue.competency(competency)
    return wording.line(known.title, here.words) if known else plain(competency)


def words_of(here: door.Here, hand: str) -> Words:
    """The language that a question is asked in: the one just chosen for this person, else the person's own."""
    there, person = cached.site_words(), here.desk.store.person(hand)
    whose, _, chosen = place.at(_SPEAK).partition(":")
    wanted = (chosen if whose == hand else "", person.language if person else "", here.language)
    return there[next(code for code in wanted if code in there)]


def other_languages(hand: str, spoken: Words) -> None:
    """One button a further language, for this person alone."""
    for code, other in cached.site_words().items():
        if code != spoken.language and press(
            other.say("common.language-name"), f"ask-in-{code}", kind="tertiary", wide=False
        ):
            stay(**{_SPEAK: f"{hand}:{code}"})


def ask_pin(here: door.Here, key: str, enter: str, act: Callable[[str], object]) -> bool:
    """Ask the driller's PIN and have ``act`` do with it; ``True`` in the run in which that went well."""
    person, words = here.desk.store.person(here.actor.hand), here.words
    called = person.name if person else here.actor.hand
    label = words.say("tailgate.pin", name=called)
    pin = keypad(label, words=words, key=key, enter=words.say(enter), problem=session.kept(_PROBLEM))
    if pin is None:
        return False
    try:
        act(pin)
    except TrainerError as error:
        # Nobody chose a name here, so the sentence of the sign-in page would say what is not so.
        is_wrong = error.code == "pin-wrong"
        session.keep(_PROBLEM, words.say("tailgate.pin-wrong", name=called) if is_wrong else words.error(error))
        st.rerun()
    return True


def throw_away(here: door.Here, meeting: Meeting, asked: str) -> None:
    """Whether it is to be thrown away after all: ``asked`` names the words that say what is lost with it."""
    st.warning(here.words.say(asked))
    if press(here.words.say("tailgate.throw-yes"), "throw-yes"):
        tailgating.drop(here.desk, meeting.tailgate_id)
        onward(sure=None)
    if press(here.words.say("tailgate.throw-no"), "throw-no", kind="tertiary", wide=False):
        stay(sure=None)


def sign_out(here: door.Here) -> None:
    """In the middle of a talk any hand may have touched the way out, so it is asked once whether that is meant."""
    if place.at(OUT) != "1":
        return
    with st.container(key="sign-out-sure"):
        st.warning(here.words.say("tailgate.out-sure", name=name(here, here.actor.hand)))
        with st.container(key="sign-out-ways", horizontal=True):
            if press(here.words.say("tailgate.out-no"), "sign-out-no", kind="primary", wide=False):
                stay()
            if press(here.words.say("tailgate.out-yes"), "sign-out-yes", wide=False):
                door.leave()
                st.rerun()


def lay_down_link(here: door.Here, meeting: Meeting) -> None:
    """The way to lay the tailgate down for now, which takes the driller's PIN."""
    if press(here.words.say("tailgate.lay-down"), f"lay-down-{meeting.step}", kind="tertiary", wide=False):
        onward(down="1")
