"""The first steps of a sign-off: an open sheet to go on with, else which hand, else what for."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from trainer.actions import may, reinstating, watched, watching
from trainer.actions.sheets import Sheet
from trainer.actions.watched import Candidate
from trainer.errors import Refused
from trainer.web import frame, prints, signoff_choice, titles, wording
from trainer.web.door import Here
from trainer.web.goto import go
from trainer.web.plain import plain
from trainer.web.press import press
from trainer.web.signoff_way import go_on, name, purpose

__all__ = ["ask_hand", "ask_purpose"]


def ask_hand(here: Here) -> None:
    """The observer's open sheets, then everybody he may watch: his own crew first."""
    words = here.words
    st.title(words.say("nav.signoff"), anchor=False)
    # Where the tablet stays, and that who watches has no other job.
    st.info(f"{words.say('signoff.doghouse')} **{words.say('signoff.no-other-job')}**")
    sheets = watching.sheets(here.desk)
    if sheets:
        st.header(words.say("signoff.go-on"), anchor=False)
        _open_sheets(here, sheets)
    st.header(words.say("signoff.who"), anchor=False)
    others = [each for each in watched.candidates(here.desk) if each.hand != here.actor.hand]
    if not others:
        st.info(words.say("signoff.nobody"))
    own = [each for each in others if each.crew == here.actor.crew]
    _hands(here, own, "own")
    for crew in dict.fromkeys(each.crew for each in others if each.crew != here.actor.crew):
        # A closed fold keeps another crew's names from being tapped by mistake, unless there is nobody else.
        with st.expander(plain(titles.crew(here, crew)), expanded=not own):
            _hands(here, [each for each in others if each.crew == crew], crew)
    prints.pocket_cards(here)


def _open_sheets(here: Here, sheets: Sequence[Sheet]) -> None:
    with st.container(key="tiles-open"):
        for sheet in sheets:
            line = here.words.say(
                "signoff.open-line",
                purpose=purpose(here, sheet.details.purpose),
                day=plain(wording.short_day(sheet.details.held, here.words)),
                done=len(sheet.steps),
                total=len(sheet.checklist.steps),
            )
            if press(f"{name(here, sheet.hand)} :small[{line}]", f"sheet-{sheet.sheet_id}"):
                go_on(sheet=sheet.sheet_id)


def _hands(here: Here, candidates: Sequence[Candidate], crew: str) -> None:
    with st.container(key=f"tiles-{crew}"):
        for each in candidates:
            label = f"{plain(each.name)} :small[{plain(titles.position(here, each.position))}]"
            if press(label, f"hand-{each.hand}"):
                go_on(hand=each.hand)


def ask_purpose(here: Here, hand: str) -> None:
    """Assessment or practice, for each sheet of the site; the press opens it, or goes on with the one left open."""
    words = here.words
    if here.desk.store.person(hand) is None:
        go_on()
    st.title(words.say("signoff.purpose-title", name=name(here, hand)), anchor=False)
    if hand == here.actor.hand:
        # Said before a sheet is chosen; the action refuses it as well.
        frame.shown(Refused("observer-is-hand"), words)
    elif not here.desk.catalogue.checklists:
        st.info(words.say("signoff.no-checklist"))
    else:
        signoff_choice.draw(here, hand)
    _slips(here, hand)
    if press(words.say("signoff.other-hand"), "other-hand", kind="tertiary", wide=False):
        go_on()


def _slips(here: Here, hand: str) -> None:
    """The ways off the slips and back, for whoever observes and has no page of everybody to begin them on."""
    offer = None if may.sees_all(here.desk) else reinstating.offer(here.desk, hand)
    if offer is None:
        return
    st.header(here.words.say("nav.slips"), anchor=False)
    with st.container(key="signoff-slips", horizontal=True):
        if offer.back and press(here.words.say("slips.bring-back"), "to-back", wide=False):
            go("slips", hand=hand, do="back")
        if offer.off and press(here.words.say("slips.take-off"), "to-off", wide=False):
            go("slips", hand=hand, do="off")
