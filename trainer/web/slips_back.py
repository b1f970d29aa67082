"""Bringing a hand back to the slips: who does it, to what, what was done about it, and a second person's PIN."""

from __future__ import annotations

import streamlit as st

from trainer.actions import reinstating
from trainer.actions.reinstating import Offer
from trainer.actions.seconds import Second
from trainer.errors import TrainerError
from trainer.web import door, place, session
from trainer.web.door import Here
from trainer.web.parts import keypad
from trainer.web.plain import plain
from trainer.web.press import press, submit
from trainer.web.slips_way import LONGEST, every, go_on, leave, name, pick, problem, stop

__all__ = ["draw"]

_REASON = "slips-back-reason"


def draw(here: Here, hand: str, offer: Offer | None) -> None:
    """The step that this tab has come to; without the words it begins anew."""
    if offer is None or not offer.back:
        leave(hand)
    st.title(here.words.say("slips.back-title", name=name(here, hand)), anchor=False)
    chosen = [each for each in place.at("titles").split(",") if each in offer.back]
    reason = session.kept(_REASON)
    if chosen and reason and offer.alone.intersection(chosen):
        _second(here, hand, offer, chosen, reason)
    else:
        _ask(here, hand, offer)
    stop(here, hand)


def _ask(here: Here, hand: str, offer: Offer) -> None:
    words = here.words
    st.markdown(words.say("slips.back-text"))
    st.markdown(words.say("slips.back-by", by=f"**{name(here, here.actor.hand)}**"))
    with st.form("slips-back", border=False):
        chosen = pick(here, words.say("slips.back-what"), offer.back, "back-what")
        done = st.text_area(
            words.say("slips.back-done-what"), session.kept(_REASON), max_chars=LONGEST, key="back-done",
            placeholder=words.say("slips.back-done-help"),
        )  # fmt: skip
        is_sent = submit(words.say("common.continue" if offer.alone else "slips.back-go"), "back-go")
    if is_sent and chosen and done.strip() and offer.alone.intersection(chosen):
        session.keep(_REASON, done)
        go_on(hand, do="back", titles=",".join(chosen), competency=place.at("competency"))
    elif is_sent:
        _write(here, hand, chosen, done, None)
    elif problem():
        st.error(problem())


def _second(here: Here, hand: str, offer: Offer, chosen: list[str], reason: str) -> None:
    """Who agrees, then his PIN."""
    words = here.words
    st.markdown(f"**{every(here, chosen)}**  \n{words.say('slips.back-reason', reason=plain(reason))}")
    st.warning(words.say("slips.back-second", name=name(here, hand)))
    second = place.at("second")
    if second not in dict(offer.seconds):
        _ask_second(here, hand, offer, chosen)
        return
    pin = keypad(
        words.say("slips.back-pin", name=dict(offer.seconds)[second]), words=words, key=f"back-pin-{second}",
        enter=words.say("slips.back-enter"), problem=problem(),
    )  # fmt: skip
    if pin is not None:
        _write(here, hand, chosen, reason, Second(second, pin, door.device()))
    if press(words.say("slips.back-other"), "back-other", kind="tertiary", wide=False):
        go_on(hand, do="back", titles=",".join(chosen), competency=place.at("competency"))


def _ask_second(here: Here, hand: str, offer: Offer, chosen: list[str]) -> None:
    if not offer.seconds:
        st.info(here.words.say("slips.back-nobody"))
        return
    st.header(here.words.say("slips.back-who"), anchor=False)
    with st.container(key="tiles"):
        for each, called in offer.seconds:
            if press(plain(called), f"second-{each}"):
                steps = {"titles": ",".join(chosen), "competency": place.at("competency"), "second": each}
                go_on(hand, do="back", **steps)


def _write(here: Here, hand: str, chosen: list[str], done: str, second: Second | None) -> None:
    ids: dict[str, str | None] = {each: session.form_id(f"back-{hand}-{each}", here.desk.new_id()) for each in chosen}
    try:
        reinstating.reinstate_all(here.desk, hand, ids, done, second)
    except TrainerError as error:
        session.keep(_REASON, done)
        steps = {"titles": ",".join(chosen), "competency": place.at("competency")}
        go_on(hand, here.words.error(error), do="back", **steps, second=second.hand if second else "")
    session.keep(_REASON, "")
    for each in chosen:
        session.done(f"back-{hand}-{each}")
    go_on(hand, do="back-done", titles=",".join(chosen), competency=place.at("competency"))
