"""Bringing a hand back to the slips: who does it, to what, what was done about it, and a second person's PIN."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NoReturn

import streamlit as st

from trainer.actions import bringing, reinstating
from trainer.actions.bringing import Begun
from trainer.actions.reinstating import Offer
from trainer.actions.seconds import Second
from trainer.errors import TrainerError
from trainer.web import door, place, session, signoff_written, wording
from trainer.web.door import Here
from trainer.web.gaps import Gaps
from trainer.web.parts import keypad
from trainer.web.plain import plain
from trainer.web.press import press, submit
from trainer.web.slips_way import LONGEST, every, go_on, leave, name, pick, problem

__all__ = ["draw"]

_NOTHING = Begun((), "", "")


def draw(here: Here, hand: str, offer: Offer | None) -> None:
    """The step that it has come to, with what was typed before a reload; without the words it begins anew."""
    if offer is None or not offer.back:
        # Somebody else has brought him back meanwhile: what was typed is about nothing any more.
        bringing.drop(here.desk, hand)
        leave(hand)
    st.title(here.words.say("slips.back-title", name=name(here, hand)), anchor=False)
    was = bringing.begun(here.desk, hand) or _NOTHING
    chosen = [each for each in place.at("titles").split(",") if each in offer.back]
    if chosen and was.done and offer.alone.intersection(chosen):
        _second(here, hand, offer, replace(was, competencies=tuple(chosen)))
    else:
        _ask(here, hand, offer, was)
    if press(here.words.say("slips.stop"), "slips-stop", kind="tertiary", wide=False):
        bringing.drop(here.desk, hand)
        leave(hand)


def _ask(here: Here, hand: str, offer: Offer, was: Begun) -> None:
    words, gaps = here.words, Gaps(here.words)
    st.markdown(words.say("slips.back-text"))
    st.markdown("\n".join(_was_for(here, offer)))
    st.markdown(words.say("slips.back-by", by=f"**{name(here, here.actor.hand)}**"))
    with st.form("slips-back", border=False):
        chosen = pick(here, words.say("slips.back-what"), offer.back, "back-what", was.competencies)
        gaps.ask(words.say("slips.gap-back"), is_there=bool(chosen))
        done = st.text_area(
            words.say("slips.back-done-what"), was.done, max_chars=LONGEST, key="back-done",
            placeholder=words.say("slips.back-done-help"),
        )  # fmt: skip
        gaps.ask(words.say("slips.gap-done"), is_there=bool(done.strip()))
        is_sent = submit(words.say("common.continue" if offer.alone else "slips.back-go"), "back-go")
    now = Begun(tuple(chosen), done, was.second)
    if is_sent and not gaps.told():
        if offer.alone.intersection(chosen):
            _go_on(here, hand, now)
        _write(here, hand, now, None)
    elif not is_sent and problem():
        st.error(problem())


def _was_for(here: Here, offer: Offer) -> Iterator[str]:
    """Markdown of what he was taken off for: by competency the day, by whom, and what happened."""
    words = here.words
    for each in offer.downs:
        day, title = plain(wording.day(each.day, words)), every(here, (each.competency,))
        yield f"- {words.say('slips.back-off', title=title, day=day, by=plain(each.by))}"
        if each.why:
            yield f"    - {words.say('slips.back-why', why=plain(each.why))}"
        yield from (f"    - {signoff_written.step_line(here, step, seen)}" for step, seen in each.steps)


def _go_on(here: Here, hand: str, now: Begun, problem: str = "") -> NoReturn:
    """Keep what was typed, and show the step that follows from it. Call it last: nothing after it runs."""
    bringing.keep(here.desk, hand, now)
    go_on(hand, problem, do="back", titles=",".join(now.competencies), competency=place.at("competency"))


def _second(here: Here, hand: str, offer: Offer, now: Begun) -> None:
    """Who agrees, then his PIN."""
    words, second = here.words, now.second
    st.markdown(f"**{every(here, now.competencies)}**  \n{words.say('slips.back-reason', reason=plain(now.done))}")
    st.warning(words.say("slips.back-second", name=name(here, hand)))
    if second not in dict(offer.seconds):
        _ask_second(here, hand, offer, now)
        return
    pin = keypad(
        words.say("slips.back-pin", name=dict(offer.seconds)[second]), words=words, key=f"back-pin-{second}",
        enter=words.say("slips.back-enter"), problem=problem(),
    )  # fmt: skip
    if pin is not None:
        _write(here, hand, now, Second(second, pin, door.device()))
    if press(words.say("slips.back-other"), "back-other", kind="tertiary", wide=False):
        _go_on(here, hand, replace(now, second=""))


def _ask_second(here: Here, hand: str, offer: Offer, now: Begun) -> None:
    if not offer.seconds:
        st.info(here.words.say("slips.back-nobody"))
        return
    st.header(here.words.say("slips.back-who"), anchor=False)
    with st.container(key="tiles"):
        for each, called in offer.seconds:
            if press(plain(called), f"second-{each}"):
                _go_on(here, hand, replace(now, second=each))


def _write(here: Here, hand: str, now: Begun, second: Second | None) -> None:
    chosen = now.competencies
    ids: dict[str, str | None] = {each: session.form_id(f"back-{hand}-{each}", here.desk.new_id()) for each in chosen}
    try:
        reinstating.reinstate_all(here.desk, hand, ids, now.done, second)
    except TrainerError as error:
        _go_on(here, hand, now, here.words.error(error))
    for each in chosen:
        session.done(f"back-{hand}-{each}")
    go_on(hand, do="back-done", titles=",".join(chosen), competency=place.at("competency"))
