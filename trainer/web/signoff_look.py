"""Before signing: what it would write in words, what stands against it, and who puts a PIN to it."""

from __future__ import annotations

import streamlit as st

from trainer.actions import watching
from trainer.actions.sheets import Sheet
from trainer.actions.watching import DECLINED, NOT_PRESENT, SIGNED, Preview
from trainer.core.observation import ASSESSMENT, CLEAN, in_the_way
from trainer.errors import TrainerError
from trainer.web import look, titles, wording
from trainer.web.door import Here
from trainer.web.plain import plain
from trainer.web.press import press
from trainer.web.signoff_watch import brake
from trainer.web.signoff_way import every, go_on, name, problem

__all__ = ["draw", "outcome_stamp", "outcomes", "stand_down"]


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
    st.header(words.say("signoff.writes"), anchor=False)
    outcomes(here, sheet, found)
    _facts(here, sheet)
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


def outcomes(here: Here, sheet: Sheet, found: Preview) -> None:
    """Each competency with what it comes to, and under *not yet* the steps in the way."""
    words = here.words
    if sheet.details.purpose != ASSESSMENT:
        st.markdown(words.say("signoff.writes-practice"))
        return
    with st.container(key="outcomes"):
        for competency, outcome in found.outcomes.items():
            with st.container(key=f"outcome-{competency}"):
                _head(here, competency, outcome, is_down=competency in found.stand_down)
                _reasons(here, sheet, competency)
    unseen = tuple(each for each in sheet.checklist.competencies() if each not in found.outcomes)
    if unseen and found.outcomes:
        st.markdown(words.say("signoff.not-watched", titles=every(here, unseen)))


def outcome_stamp(here: Here, outcome: str, *, is_down: bool) -> str:
    """HTML of what a competency comes to: shape, word and colour."""
    if is_down:
        return look.badge("stood down", here.words.say("signoff.off"))
    verdict, key = ("passed", "clean") if outcome == CLEAN else ("not-yet", "not-yet")
    return wording.stamp(verdict, here.words.say(f"signoff.{key}"))


def _head(here: Here, competency: str, outcome: str, *, is_down: bool) -> None:
    with st.container(key=f"outcome-head-{competency}", horizontal=True, vertical_alignment="center"):
        st.html(outcome_stamp(here, outcome, is_down=is_down), width="content")
        st.markdown(f"**{plain(titles.competency(here, competency))}**")


def _reasons(here: Here, sheet: Sheet, competency: str) -> None:
    words = here.words
    lines = [
        words.say("signoff.in-the-way", step=wording.line(step.text, words), state=_state(here, state))
        for step, state in in_the_way(sheet.checklist, sheet.steps, competency)
    ]
    if lines:
        st.markdown("\n".join(f"- {line}" for line in lines))


def _state(here: Here, state: str) -> str:
    word = here.words.say(f"parts.state-{state.replace(' ', '-')}")
    return f"**{word}**"


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
    if error.code == "observer-not-holding":
        return words.say("error.observer-not-holding", competency=every(here, (str(values["competency"]),)))
    if error.code == "observer-not-then":
        return words.say("error.observer-not-then", day=plain(wording.day(sheet.details.held, words)))
    return words.error(error)


def _facts(here: Here, sheet: Sheet) -> None:
    words, details = here.words, sheet.details
    told = {"day": plain(wording.day(details.held, words)), "brake": brake(here, details.brake)}
    key = "signoff.facts" if details.tour else "signoff.facts-plain"
    lines = [words.say(key, tour=plain(details.tour), **told)]
    if details.stop_called:
        lines.append(words.say("signoff.stop-called", name=name(here, sheet.hand)))
    st.markdown("  \n".join(lines))


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
