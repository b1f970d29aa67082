"""Forms for what is done to a slip set or bowl: a check, a die change, out of service, and back."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import streamlit as st

from trainer.actions import gearing
from trainer.core.gear import OUTCOMES, GearState, What
from trainer.errors import TrainerError
from trainer.web import frame, gear_drawn, place, session
from trainer.web.door import Here
from trainer.web.press import submit

__all__ = ["NOTICE", "RECORD", "begin", "draw", "heading"]

NOTICE = "gear-notice"
"""Under this the sentence on what was just recorded is kept for the page of that set or bowl."""

RECORD = "gear-record"
"""Under this the id of the record that the open form will write: a second press writes nothing."""

_LONGEST = 500


def begin(here: Here, what: What) -> None:
    """Go to the form for ``what``, and draw the id of its record with it."""
    session.keep(RECORD, here.desk.new_id())
    place.put(do=what.value, told=None)


def heading(here: Here, state: GearState, what: What) -> None:
    """What is being recorded about which set or bowl, and what must be so before hands go near it."""
    if not session.kept(RECORD):
        # The page was opened by its address: nobody came by the button that draws the id.
        session.keep(RECORD, here.desk.new_id())
    st.title(here.words.say(f"gear.do-{what.value}"), anchor=False)
    st.markdown(f"**{gear_drawn.title(here, state)}**")
    st.warning(here.words.say(f"gear.before-{what.value}"))


def draw(here: Here, state: GearState, what: What) -> None:
    """The form; once it is sent, the page of the set or bowl with a word that it is on record."""
    words = here.words
    heading(here, state, what)
    with st.form(f"gear-{what.value}", border=False):
        outcome = _outcome(here, what)
        figures = _counts(here) if what is What.DIES else {}
        day = st.date_input(words.say("gear.day"), here.desk.today, format="YYYY-MM-DD", key="gear-day")
        told = st.text_area(words.say(f"gear.told-{what.value}"), max_chars=_LONGEST, key="gear-told")
        is_sent = submit(words.say("gear.save"), f"gear-save-{what.value}")
    if is_sent:
        _send(here, state, what, outcome or "", told, day, figures)


def _outcome(here: Here, what: What) -> str | None:
    """How it came out, as tiles; the only one there is needs no asking."""
    outcomes = OUTCOMES[what]
    if len(outcomes) == 1:
        return outcomes[0]
    return st.radio(
        here.words.say("gear.outcome"), outcomes, index=None, key=f"gear-outcome-{what.value}",
        format_func=lambda each: here.words.say(f"gear.did-{what.value}-{each.replace(' ', '-')}"),
    )  # fmt: skip


def _counts(here: Here) -> Mapping[str, str]:
    typed = {
        name: st.number_input(here.words.say(f"gear.{name.replace('_', '-')}"), 0, 999, None, 1, key=f"gear-{name}")
        for name in ("dies_out", "dies_in")
    }
    return {name: str(value) for name, value in typed.items() if value is not None}


def _send(
    here: Here, state: GearState, what: What, outcome: str, told: str, day: date | None, figures: Mapping[str, str]
) -> None:
    words = here.words
    if not outcome or day is None:
        st.error(words.say("gear.choose-outcome"))
        return
    if what is What.DIES and len(figures) < 2:
        st.error(words.say("error.gear-count"))
        return
    try:
        gearing.note(here.desk, state.gear, what.value, outcome, told, day, figures, session.kept(RECORD))
    except TrainerError as error:
        frame.shown(error, words)
        return
    session.keep(RECORD, "")
    session.keep(NOTICE, words.say("gear.saved"))
    place.put(do=None)
    st.rerun()
