"""For the coordinator on a screen of his own: what waits for his PIN, and the page on which he puts it."""

from __future__ import annotations

import streamlit as st

from trainer.actions import dispensing
from trainer.actions.desk import COORDINATOR
from trainer.actions.dispensing import Form
from trainer.errors import NotFound, TrainerError
from trainer.web import door, place, slips_open, titles, wording
from trainer.web.door import Here
from trainer.web.goto import go
from trainer.web.parts import keypad
from trainer.web.plain import plain
from trainer.web.press import press
from trainer.web.slips_way import go_on, name, problem

__all__ = ["draw", "waiting"]


def waiting(here: Here) -> None:
    """What a toolpusher has put his PIN to and the coordinator who is signed in has not; nothing for anybody else."""
    if here.actor.role != COORDINATOR:
        return
    for form in dispensing.waiting(here.desk):
        with st.container(key=f"agree-{form.form_id}", border=True):
            st.markdown(_asked(here, form))
            if press(here.words.say("slips.agree-open"), f"agree-open-{form.form_id}", kind="primary", wide=False):
                go("slips", hand=form.hand, competency=form.competency, do="agree", form=form.form_id)


def draw(here: Here, hand: str) -> None:
    """What is allowed, how long and on which conditions, and the coordinator's PIN."""
    words, form = here.words, _form(here)
    if form is None or form.hand != hand or form.coordinator != here.actor.hand or not form.is_signed(here.desk.now):
        st.info(words.say("slips.agree-gone"))
        _leave(here, hand)
        return
    title = plain(titles.competency(here, form.competency))
    st.title(words.say("slips.allow-title", name=name(here, hand), title=title), anchor=False)
    slips_open.draw(here, hand, form.competency)
    st.info("  \n".join([_asked(here, form), f"**{_how_long(here, form)}**", plain(form.conditions)]))
    who = here.desk.store.person(here.actor.hand)
    pin = keypad(
        words.say("slips.allow-coordinator-pin", name=who.name if who else here.actor.hand), words=words,
        key="agree-pin", enter=words.say("slips.allow-enter"), problem=problem(),
    )  # fmt: skip
    if pin is not None:
        _put(here, form, pin)
    _leave(here, hand)


def _form(here: Here) -> Form | None:
    try:
        return dispensing.form(here.desk, place.at("form"))
    except NotFound:
        return None


def _put(here: Here, form: Form, pin: str) -> None:
    steps = {"do": "agree", "competency": form.competency, "form": form.form_id}
    try:
        dispensing.commit(here.desk, form.form_id, pin, door.device())
    except TrainerError as error:
        go_on(form.hand, here.words.error(error), **steps)
    go_on(form.hand, do="allow-done", titles=form.competency, competency=form.competency)


def _asked(here: Here, form: Form) -> str:
    title = plain(titles.competency(here, form.competency))
    return here.words.say("slips.agree-asked", pusher=name(here, form.pusher), name=name(here, form.hand), title=title)


def _how_long(here: Here, form: Form) -> str:
    offer = dispensing.offer(here.desk, form.hand, form.competency)
    until = offer.until.get(form.lasts) if offer else None
    day = plain(wording.short_day(until or here.desk.today, here.words))
    return here.words.say(f"slips.allow-{form.lasts}", day=day)


def _leave(here: Here, hand: str) -> None:
    if press(here.words.say("slips.agree-not"), "agree-not", kind="tertiary", wide=False):
        go_on(hand)
