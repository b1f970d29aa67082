"""Who other site figures concern, and how: by person, each standing as it is and as it would be."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

import streamlit as st

from trainer.actions.siting import Preview
from trainer.core.matrix import Cell
from trainer.core.sitechanges import Moved
from trainer.web import titles, wording
from trainer.web.door import Here
from trainer.web.matrix_rows import standing_word
from trainer.web.plain import plain

__all__ = ["draw"]

_MANY = 12
"""More people than that are folded away."""


def draw(here: Here, found: Preview) -> None:
    """One line a person: from which standing to which, and in what; folded where there are many."""
    if not found.moved:
        return
    people = lines(here, found)
    with st.expander(here.words.say("site_page.who"), expanded=len(people) <= _MANY, key="site-who"):
        st.markdown("\n".join(f"- {line}" for line in people))


def lines(here: Here, found: Preview) -> list[str]:
    """Each person in one line of Markdown, by name."""
    by_hand: dict[str, list[Moved]] = {}
    for each in found.moved:
        by_hand.setdefault(each.hand, []).append(each)
    named = sorted((found.names.get(hand, hand), cells) for hand, cells in by_hand.items())
    return [f"**{plain(name)}**: {'; '.join(_groups(here, cells))}" for name, cells in named]


def _groups(here: Here, cells: Sequence[Moved]) -> list[str]:
    """What becomes of his cells, those together that go the same way."""
    ordered = sorted(cells, key=lambda each: _way(here, each))
    return [
        f"{plain(way)}: {', '.join(plain(titles.competency(here, each.competency)) for each in same)}"
        for way, same in groupby(ordered, key=lambda each: _way(here, each))
    ]


def _way(here: Here, each: Moved) -> str:
    words = here.words
    if each.was is None or each.now is None:
        return words.say("site_page.comes" if each.was is None else "site_page.goes")
    was, now = (standing_word(cell.standing, words) for cell in (each.was, each.now))
    return f"{was}, {_days(here, each.was, each.now)}" if was == now else f"{was} → {now}"


def _days(here: Here, was: Cell, now: Cell) -> str:
    """Which day moves, from when to when: the due date, else the last working day before it."""
    name = "due" if was.due != now.due else "do_by"
    return here.words.say(f"site_page.{name}", was=_day(here, was, name), now=_day(here, now, name))


def _day(here: Here, cell: Cell, name: str) -> str:
    day = getattr(cell, name)
    if day is None:
        return here.words.say("site_page.no-day")
    return here.words.say("site_page.arrange") if day == "arrange" else wording.day(day, here.words)
