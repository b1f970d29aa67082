"""Before signing: what it would write in words, what stands against it, and who puts a PIN to it."""

from __future__ import annotations

import streamlit as st

from trainer.actions import watching
from trainer.actions.sheets import Sheet
from trainer.actions.watching import DECLINED, NOT_PRESENT, SIGNED, Preview
from trainer.errors import TrainerError
from trainer.web import signoff_short, signoff_written, wording
from trainer.web.door import Here
from trainer.web.plain import plain
from trainer.web.press import press
from trainer.web.signoff_watch import range_said
from trainer.web.signoff_way import every, go_on, name, problem

__all__ = ["draw", "stand_down"]


def draw(here: Here, sheet: Sheet) -> None:
    """The whole step."""
    words, found = here.words, watching.preview(here.desk, sheet.sheet_id)
    st.title(words.say("signoff.look-title", name=name(here, sheet.hand)), anchor=False)
    if problem():
        st.error(problem())
    if found.problems:
        _problems(here, sheet, found)
    stand_down(here, sheet, found)
    for notice in found.notices:
        st.warning(words.say(f"signoff.{notice}", name=name(here, sheet.hand)))
    signoff_short.draw(here, sheet)
    st.header(words.say("signoff.writes"), anchor=False)
    signoff_written.draw(here, sheet, found)
    if not found.problems:
        _sign(here, sheet, found)
        if press(words.say("signoff.to-sheet"), "to-sheet", kind="tertiary", wide=False):
            go_on(sheet=sheet.sheet_id)
    elif press(words.say("signoff.to-sheet"), "to-sheet", kind="primary"):
        go_on(sheet=sheet.sheet_id)


def stand_down(here: Here, sheet: Sheet, found: Preview) -> None:
    """That signing takes the hand off the slips, and what comes before anything else then."""
    if not found.stand_down:
        return
    words = here.words
    told = words.say("signoff.stand-down", name=name(here, sheet.hand), titles=every(here, found.stand_down))
    st.error(f"**{words.say('signoff.first-safe')}**  \n{told}")


def _problems(here: Here, sheet: Sheet, found: Preview) -> None:
    said = "\n".join(f"- {_said(here, sheet, each)}" for each in found.problems)
    st.error(f"**{here.words.say('signoff.problems')}**\n\n{said}")


def _said(here: Here, sheet: Sheet, error: TrainerError) -> str:
    """The problem in words; what it is about by its name instead of its id."""
    words, values = here.words, error.values
    if error.code == "step-needs-reason":
        step = next((each for each in sheet.checklist.steps if each.id == values["step"]), None)
        if step is not None:
            return words.say("signoff.step-needs-reason", step=wording.line(step.text, words))
    if error.code == "sheet-range":
        return range_said(here, sheet, error)
    if error.code == "observer-not-holding":
        return words.say("error.observer-not-holding", competency=every(here, (str(values["competency"]),)))
    if error.code == "observer-not-then":
        return words.say("error.observer-not-then", day=plain(wording.day(sheet.details.held, words)))
    return words.error(error)


def _sign(here: Here, sheet: Sheet, found: Preview) -> None:
    """Both PINs first; alone only where that writes anything."""
    words, person = here.words, name(here, sheet.hand)
    if press(words.say("signoff.sign-both", name=person), "sign-both", kind="primary"):
        go_on(sheet=sheet.sheet_id, step="sign", hand=SIGNED)
    if found.needs_hand_pin and not found.without_hand:
        return
    if press(words.say("signoff.sign-alone", name=person), "sign-alone"):
        go_on(sheet=sheet.sheet_id, step="sign", hand=NOT_PRESENT)
    if press(words.say("signoff.sign-declined", name=person), "sign-declined"):
        go_on(sheet=sheet.sheet_id, step="sign", hand=DECLINED)
    if found.needs_hand_pin:
        st.caption(words.say("signoff.alone-text", name=person))
