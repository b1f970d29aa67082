"""One hand on and off the slips: how he stands in everything, and the ways off, back and around.

In the address: ``hand``; ``do`` (``off``, ``back``, ``allow``, and each with ``-done``), ``competency`` where it was
opened from a cell, ``titles`` and ``step`` on the way.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

import streamlit as st

from trainer.actions import dispensed, leaving_off, may, reinstating
from trainer.actions import look as looking
from trainer.core.firstdays import Subject
from trainer.core.matrix import STANDINGS, Cell
from trainer.errors import Refused
from trainer.web import (
    allowed_drawn,
    door,
    firstdays_drawn,
    look,
    matrix_rows,
    place,
    slips_agree,
    slips_allow,
    slips_back,
    slips_done,
    slips_off,
    titles,
)
from trainer.web.goto import go
from trainer.web.plain import plain
from trainer.web.press import press
from trainer.web.slips_way import back, go_home, go_on, name


def draw_marks(here: door.Here, hand: str) -> None:
    """What is said about him for this tour, and what he is allowed for a while."""
    mark = leaving_off.left_off(here.desk).get(hand)
    if mark:
        st.markdown(here.words.say("slips.left-off", name=name(here, mark.by)))
    for each in dispensed.shown(here.desk):
        if each.hand == hand:
            st.markdown(allowed_drawn.line(here, each))


def draw_allowance(here: door.Here, hand: str, subject: Subject) -> None:
    """Under what stays undone until then: that what is allowed for a while counts before it, where there is that."""
    if subject.until and (governs := allowed_drawn.governs(here, hand, subject.competency)):
        st.markdown(governs)


def draw_ways(here: door.Here, hand: str) -> None:
    """Back to the slips before off them: whoever is off waits for it."""
    offer = reinstating.offer(here.desk, hand)
    if offer is None:
        return
    with st.container(key="slips-ways", horizontal=True):
        if offer.back and press(here.words.say("slips.bring-back"), "slips-back", kind="primary", wide=False):
            go_on(hand, do="back")
        if offer.off and press(here.words.say("slips.take-off"), "slips-off", wide=False):
            go_on(hand, do="off")


def draw_cells(here: door.Here, cells: Sequence[Cell]) -> None:
    """Every competency with its standing, the worst first, each the way to its records."""
    if not cells:
        st.info(here.words.say("slips.nothing-asked"))
    with st.container(key="slips-cells"):
        for cell in sorted(cells, key=lambda each: STANDINGS.index(each.standing)):
            with st.container(key=f"slips-cell-{cell.competency}"):
                st.html(look.badge(cell.standing, matrix_rows.standing_word(cell.standing, here.words)))
                title = plain(titles.competency(here, cell.competency))
                if press(title, f"cell-{cell.competency}", kind="tertiary", wide=False):
                    go("evidence", hand=cell.hand, competency=cell.competency)
                st.markdown(plain(matrix_rows.note(here, here.desk.today, cell)))


def draw_hand(here: door.Here, hand: str) -> None:
    """The hand's own page."""
    back(here)
    card = looking.card(here.desk, hand)
    st.title(name(here, hand), anchor=False)
    if card.position:
        st.markdown(plain(titles.place(here, card.position, card.crew)))
    draw_marks(here, hand)
    draw_ways(here, hand)
    firstdays_drawn.draw(here, hand, beside=partial(draw_allowance, here, hand))
    draw_cells(here, card.cells)


def draw_for_observer(here: door.Here, hand: str) -> None:
    """For a hand whose position observes: the ways off and back alone, for what others hold is not his to see."""
    back(here)
    st.title(name(here, hand), anchor=False)
    draw_ways(here, hand)


def draw() -> None:
    """The whole page."""
    here = door.here()
    hand, step = place.at("hand"), place.at("do")
    if not hand:
        go_home(here)
    offer = reinstating.offer(here.desk, hand)
    if not may.sees_all(here.desk) and offer is None:
        raise Refused("not-yours")
    if step in slips_done.STEPS:
        slips_done.draw(here, hand)
    elif step == "off":
        slips_off.draw(here, hand, offer)
    elif step == "back":
        slips_back.draw(here, hand, offer)
    elif not may.sees_all(here.desk):
        draw_for_observer(here, hand)
    elif step == "agree":
        slips_agree.draw(here, hand)
    elif step == "allow":
        slips_allow.draw(here, hand)
    else:
        draw_hand(here, hand)


draw()
