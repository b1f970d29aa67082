"""The PINs: the observer's, then the hand's. None of them outlives the run in which it was entered."""

from __future__ import annotations

import streamlit as st

from trainer.actions import watching
from trainer.actions.sheets import Sheet, is_signed
from trainer.actions.watching import HAND_PRESENT, NOT_PRESENT, SIGNED
from trainer.errors import TrainerError
from trainer.web import door, place, signoff_look, signoff_written
from trainer.web.door import Here
from trainer.web.parts import keypad
from trainer.web.press import press
from trainer.web.signoff_way import go_on, name, problem

__all__ = ["draw"]


def draw(here: Here, sheet: Sheet) -> None:
    """The PIN that comes next."""
    present = place.at("hand", SIGNED)
    if present not in HAND_PRESENT:
        go_on(sheet=sheet.sheet_id, step="look")
    if present == SIGNED and is_signed(sheet, here.desk.now):
        _hand(here, sheet)
    else:
        _observer(here, sheet, present)
    if press(here.words.say("signoff.to-sheet"), "to-sheet", kind="tertiary", wide=False):
        # Any filling takes the observer's PIN off again: whoever goes back signs anew.
        watching.fill(here.desk, sheet.sheet_id, sheet.details)
        go_on(sheet=sheet.sheet_id)


def _observer(here: Here, sheet: Sheet, present: str) -> None:
    """The observer's PIN, which signs alone where the hand puts none."""
    words, person, is_last = here.words, name(here, sheet.hand), present != SIGNED
    st.title(words.say("signoff.sign-title", name=person), anchor=False)
    if is_last:
        key = "alone-not-here" if present == NOT_PRESENT else "alone-declined"
        st.markdown(words.say(f"signoff.{key}", name=person))
    signoff_look.stand_down(here, sheet, watching.preview(here.desk, sheet.sheet_id))
    st.markdown(words.say("signoff.observer-means"))
    person_here = here.desk.store.person(sheet.details.observer)
    label = words.say("signoff.observer-pin", name=person_here.name if person_here else sheet.details.observer)
    enter = words.say("signoff.enter" if is_last else "signoff.enter-next")
    pin = keypad(label, words=words, key="observer-pin", enter=enter, problem=problem())
    if pin is None:
        return
    try:
        if is_last:
            watching.commit(here.desk, sheet.sheet_id, pin, None, present, door.device())
        else:
            watching.sign(here.desk, sheet.sheet_id, pin, door.device())
    except TrainerError as error:
        go_on(words.error(error), sheet=sheet.sheet_id, step="sign", hand=present)
    if is_last:
        go_on(done=sheet.sheet_id)
    go_on(sheet=sheet.sheet_id, step="sign", hand=present)


def _hand(here: Here, sheet: Sheet) -> None:
    """The hand sees all that is written about him and puts his PIN to it."""
    words, person = here.words, name(here, sheet.hand)
    st.title(words.say("signoff.hand-title", name=person), anchor=False)
    st.info(words.say("signoff.hand-means", name=person))
    found = watching.preview(here.desk, sheet.sheet_id)
    signoff_look.stand_down(here, sheet, found)
    signoff_written.draw(here, sheet, found)
    known = here.desk.store.person(sheet.hand)
    label = words.say("signoff.hand-pin", name=known.name if known else sheet.hand)
    pin = keypad(label, words=words, key="hand-pin", enter=words.say("signoff.enter"), problem=problem())
    if pin is None:
        return
    try:
        watching.commit(here.desk, sheet.sheet_id, None, pin, SIGNED, door.device())
    except TrainerError as error:
        go_on(words.error(error), sheet=sheet.sheet_id, step="sign", hand=SIGNED)
    go_on(done=sheet.sheet_id)
