"""Everybody by crew: who is here today, who is to come, who has left."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

import streamlit as st

from trainer.actions.people import Listed
from trainer.web import people_told, place, titles, wording
from trainer.web.door import Here
from trainer.web.plain import plain
from trainer.web.press import press

__all__ = ["draw"]

_MOST = 60
"""So many people are listed at once; beyond it one crew at a time."""


def draw(here: Here, people: Sequence[Listed]) -> None:
    """The list, each name leading to that person's page."""
    today = here.desk.today
    crews = list(here.desk.catalogue.site.crews)
    present = sorted(
        (each for each in people if each.is_here(today)),
        key=lambda each: (crews.index(each.crew) if each.crew in crews else len(crews), each.crew),
    )
    by_crew = {crew: list(found) for crew, found in groupby(present, key=lambda each: each.crew)}
    without_pin = sum(not each.has_pin for each in present)
    counts = [here.words.count("people.total", len(present)), here.words.count("people.total-no-pin", without_pin)]
    st.markdown(" · ".join(counts if without_pin else counts[:1]))
    for crew in _shown(here, list(by_crew), len(present)):
        _group(here, titles.crew(here, crew) if crew else here.words.say("people.no-crew"), by_crew[crew])
    _group(here, here.words.say("people.to-come"), [each for each in people if each.joined and each.joined > today])
    gone = [each for each in people if each.left is not None and each.left < today]
    if gone:
        with st.expander(here.words.count("people.left", len(gone))):
            _rows(here, gone)


def _shown(here: Here, crews: list[str], people: int) -> list[str]:
    """The crews to be listed: all, or the one chosen where they are too many."""
    if people <= _MOST or not crews:
        return crews
    now = place.at("crew", crews[0])
    chosen = st.pills(
        here.words.say("matrix.choose-crew"), crews, default=now if now in crews else crews[0], required=True,
        format_func=lambda crew: titles.crew(here, crew), key="people-crew",
    )  # fmt: skip
    place.put(crew=chosen)
    return [chosen or crews[0]]


def _group(here: Here, title: str, people: Sequence[Listed]) -> None:
    if people:
        st.header(plain(title), anchor=False)
        _rows(here, people)


def _rows(here: Here, people: Iterable[Listed]) -> None:
    for each in people:
        with st.container(key=f"person-{each.hand}", horizontal=True, vertical_alignment="center"):
            if press(plain(each.name), f"open-{each.hand}", kind="tertiary", wide=False):
                place.put(hand=each.hand, do=None)
                st.rerun()
            st.markdown(plain(_told(here, each)))
            people_told.pin(here, each)


def _told(here: Here, person: Listed) -> str:
    """Position and language, with the day of coming or leaving where one is to come or gone by."""
    said, today = people_told.place_of(here, person), here.desk.today
    if person.joined is not None and person.joined > today:
        return f"{said}, {here.words.say('people.comes', day=wording.day(person.joined, here.words))}"
    if person.left is not None:
        key = "people.goes" if person.left >= today else "people.went"
        return f"{said}, {here.words.say(key, day=wording.day(person.left, here.words))}"
    return said
