"""Forms for what is done to a slip set or bowl: a check, a die change, out of service, and back."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import streamlit as st

from trainer.actions import gearing
from trainer.core.gear import OUTCOMES, GearState, What, needs_word
from trainer.errors import TrainerError
from trainer.web import frame, gear_drawn, place, session
from trainer.web.door import Here
from trainer.web.gaps import Gaps
from trainer.web.press import submit

__all__ = ["NOTICE", "RECORD", "asked_day", "begin", "draw", "heading"]

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
    words, gaps = here.words, Gaps(here.words)
    heading(here, state, what)
    with st.form(f"gear-{what.value}", border=False):
        outcome = _outcome(here, what, gaps)
        figures = _counts(here, gaps) if what is What.DIES else {}
        day = asked_day(here, gaps)
        told = st.text_area(words.say(f"gear.told-{what.value}"), max_chars=_LONGEST, key="gear-told")
        gaps.ask(words.say(f"gear.gap-told-{what.value}"), is_there=bool(told.strip()) or not needs_word(what, outcome))
        is_sent = submit(words.say("gear.save"), f"gear-save-{what.value}")
    if is_sent and not gaps.told() and day is not None:
        _send(here, state, what, outcome, told, day, figures)


def asked_day(here: Here, gaps: Gaps) -> date | None:
    """The day on which it was done, today at first."""
    day = st.date_input(here.words.say("gear.day"), here.desk.today, format="YYYY-MM-DD", key="gear-day")
    gaps.ask(here.words.say("gear.gap-day"), is_there=day is not None)
    return day


def _outcome(here: Here, what: What, gaps: Gaps) -> str:
    """How it came out, as tiles, empty before one is tapped; the only one there is needs no asking."""
    outcomes = OUTCOMES[what]
    if len(outcomes) == 1:
        return outcomes[0]
    chosen = st.radio(
        here.words.say("gear.outcome"), outcomes, index=None, key=f"gear-outcome-{what.value}",
        format_func=lambda each: here.words.say(f"gear.did-{what.value}-{each.replace(' ', '-')}"),
    )  # fmt: skip
    gaps.ask(here.words.say("gear.gap-outcome"), is_there=chosen is not None)
    return chosen or ""


def _counts(here: Here, gaps: Gaps) -> Mapping[str, str]:
    """The two counts as typed. The fields have no limits of their own: theirs would be told in English alone."""
    counts = {}
    for name in ("dies-out", "dies-in"):
        key = name.replace("-", "_")
        typed = st.number_input(here.words.say(f"gear.{name}"), None, None, None, 1, key=f"gear-{key}")
        gaps.ask(here.words.say(f"gear.gap-{name}"), is_there=typed is not None)
        counts[key] = f"{typed}"
    return counts


def _send(
    here: Here, state: GearState, what: What, outcome: str, told: str, day: date, figures: Mapping[str, str]
) -> None:
    words = here.words
    try:
        gearing.note(here.desk, state.gear, what.value, outcome, told, day, figures, session.kept(RECORD))
    except TrainerError as error:
        frame.shown(error, words)
        return
    session.keep(RECORD, "")
    session.keep(NOTICE, words.say("gear.saved"))
    place.put(do=None)
    st.rerun()
