"""One cell and the records behind it, newest first; where one may, a record is voided from here.

In the address: ``hand``, ``competency`` and ``day``; ``void``, ``sure`` and ``second`` while a record is being voided.
"""

from __future__ import annotations

import streamlit as st

from trainer.actions import look as looking
from trainer.actions import voiding
from trainer.actions.desk import HAND
from trainer.actions.look import Told
from trainer.core.matrix import Cell
from trainer.web import (
    door,
    evidence_drawn,
    evidence_void,
    evidence_ways,
    matrix_filters,
    place,
    prints,
    session,
    slips_way,
)
from trainer.web.evidence_void import NOTICE
from trainer.web.goto import go
from trainer.web.press import press


def back(here: door.Here) -> None:
    """The way back to where this was opened."""
    is_hand = here.actor.role == HAND
    label = here.words.say("evidence.to-card" if is_hand else "evidence.to-matrix")
    with st.container(key="evidence-out", horizontal=True):
        if press(label, "evidence-back", kind="tertiary", wide=False):
            go("card" if is_hand else "matrix")
        hand = place.at("hand")
        # Of an id that nobody has there is no page either.
        if not is_hand and _is_somebody(here, hand):
            to_hand = here.words.say("evidence.to-hand", name=slips_way.name(here, hand))
            if press(to_hand, "evidence-hand", kind="tertiary", wide=False):
                go("slips", hand=hand)


def _is_somebody(here: door.Here, hand: str) -> bool:
    """Whether anybody is or was here under that id; somebody erased still has a page."""
    store = here.desk.store
    return bool(hand) and (store.person(hand) is not None or bool(store.stay_rows(hands=(hand,))))


def draw_records(here: door.Here, told: list[Told], competency: str, cell: Cell | None) -> None:
    """The records, the one that decides marked, each with the way to void it where that is allowed."""
    st.header(here.words.say("evidence.records"), anchor=False)
    if not told:
        st.info(here.words.say("evidence.none"))
        return
    st.caption(here.words.say("evidence.for-auditor"))
    learning = evidence_drawn.begun(told, cell)
    for number, each in enumerate(told):
        decides = cell is not None and each.record_id == cell.reason.record_id
        kind = "voided" if each.voided else "decides" if decides else "record"
        with st.container(key=f"{kind}-{number}", border=True):
            evidence_drawn.record(here, each, competency, decides=decides, begins=each is learning)
            if each.kind == "observation":
                prints.watch_sheet(here, each.record_id, each.day)
            is_offered = voiding.offer(here.desk, each.record_id) is not None
            if is_offered and press(here.words.say("evidence.void"), f"void-{number}", kind="tertiary", wide=False):
                evidence_void.begin(each.record_id)
                st.rerun()


def draw() -> None:
    """The whole page."""
    here = door.here()
    hand, competency = place.at("hand", here.actor.hand), place.at("competency")
    if here.desk.catalogue.competency(competency) is None:
        go("card" if here.actor.role == HAND else "matrix")
    if not place.at("void"):
        back(here)
    as_of = matrix_filters.day_in(place.at("day")) or here.desk.today
    told = looking.evidence_of(here.desk, hand, competency, as_of)
    to_void = next((each for each in told if each.record_id == place.at("void")), None)
    offer = voiding.offer(here.desk, to_void.record_id) if to_void else None
    if to_void and offer:
        evidence_void.draw(here, to_void, offer)
        return
    if place.at("void"):
        place.put(void=None, sure=None, second=None)
        st.rerun()
    card = looking.card(here.desk, hand, as_of)
    cell = next((each for each in card.cells if each.competency == competency), None)
    evidence_drawn.head(here, card, competency)
    if notice := session.kept(NOTICE):
        st.success(here.words.say(notice))
        session.keep(NOTICE, "")
    evidence_drawn.standing(here, cell, card.parts.get(competency, ()), as_of)
    evidence_ways.draw(here, hand, competency, as_of)
    draw_records(here, told, competency, cell)
    prints.record_card(here, hand)


draw()
