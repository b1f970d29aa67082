"""Taking a record out: the reason first, then asked again, with a second person's PIN where a stand-down is lifted.

In the address: ``void``, the record; ``sure``, once the reason is written; ``second``, who agrees.
"""

from __future__ import annotations

import streamlit as st

from trainer.actions import voiding
from trainer.actions.look import Told
from trainer.actions.voiding import Offer, Second
from trainer.errors import TrainerError
from trainer.web import door, evidence_drawn, place, session
from trainer.web.parts import keypad
from trainer.web.plain import plain
from trainer.web.press import press, submit

__all__ = ["NOTICE", "begin", "draw"]

NOTICE = "evidence-notice"
"""Under this the words key of what has just been done is kept for the list of records."""

_REASON = "evidence-void-reason"
_PROBLEM = "evidence-void-problem"
_LONGEST = 500


def begin(record_id: str) -> None:
    """Go to the questions about this record."""
    session.keep(_REASON, "")
    session.keep(_PROBLEM, "")
    place.put(void=record_id, sure=None, second=None)


def draw(here: door.Here, told: Told, offer: Offer) -> None:
    """The step that this tab has come to."""
    words = here.words
    st.title(words.say("evidence.void-title"), anchor=False)
    with st.container(key="record-to-void", border=True):
        evidence_drawn.record(here, told, place.at("competency"))
    reason = session.kept(_REASON)
    if place.at("sure") and reason:
        _ask_again(here, told, offer, reason)
    else:
        _ask_reason(here, reason)
    if press(words.say("evidence.void-stop"), "void-stop", kind="tertiary", wide=False):
        _leave()


def _ask_reason(here: door.Here, reason: str) -> None:
    words = here.words
    with st.form("void-reason", border=False):
        typed = st.text_area(words.say("evidence.void-why"), reason, max_chars=_LONGEST, key="void-why")
        is_sent = submit(words.say("common.continue"), "void-go-on")
    if is_sent and typed.strip():
        session.keep(_REASON, typed)
        place.put(sure="yes")
        st.rerun()
    if is_sent:
        st.error(words.say("error.no-reason"))


def _ask_again(here: door.Here, told: Told, offer: Offer, reason: str) -> None:
    words = here.words
    st.markdown(words.say("evidence.void-reason", reason=plain(reason)))
    st.warning(words.say("evidence.void-sure"))
    if not offer.needs_second:
        if press(words.say("evidence.void-yes"), "void-yes", kind="primary"):
            _void(here, told, reason, None)
        if session.kept(_PROBLEM):
            st.error(session.kept(_PROBLEM))
        return
    second = dict(offer.seconds).get(place.at("second"))
    if second is None:
        _ask_second(here, offer)
    else:
        _ask_pin(here, told, reason, place.at("second"), second)


def _ask_second(here: door.Here, offer: Offer) -> None:
    """Who agrees, as tiles."""
    st.markdown(here.words.say("evidence.void-second"))
    if not offer.seconds:
        st.info(here.words.say("evidence.void-nobody"))
        return
    st.header(here.words.say("evidence.void-who"), anchor=False)
    with st.container(key="tiles"):
        for hand, name in offer.seconds:
            if press(plain(name), f"second-{hand}"):
                session.keep(_PROBLEM, "")
                place.put(second=hand)
                st.rerun()


def _ask_pin(here: door.Here, told: Told, reason: str, hand: str, name: str) -> None:
    """The keypad for whoever agrees."""
    words = here.words
    pin = keypad(
        words.say("evidence.void-pin", name=name), words=words, key=f"void-pin-{hand}",
        enter=words.say("evidence.void-enter"), problem=session.kept(_PROBLEM),
    )  # fmt: skip
    if pin is not None:
        _void(here, told, reason, Second(hand, pin, door.device()))
    if press(words.say("evidence.void-other"), "void-other", kind="tertiary", wide=False):
        place.put(second=None)
        st.rerun()


def _void(here: door.Here, told: Told, reason: str, second: Second | None) -> None:
    try:
        voiding.void(here.desk, told.record_id, reason, second)
    except TrainerError as error:
        session.keep(_PROBLEM, here.words.error(error))
        st.rerun()
    session.keep(NOTICE, "evidence.void-done")
    _leave()


def _leave() -> None:
    session.keep(_REASON, "")
    session.keep(_PROBLEM, "")
    place.put(void=None, sure=None, second=None)
    st.rerun()
