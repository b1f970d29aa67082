"""Buttons that save a sheet to print. Each makes its sheet only when it is pressed, as things stand then."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime
from typing import Literal, Protocol

import streamlit as st

from trainer import clock
from trainer.actions.desk import COORDINATOR, Desk
from trainer.core.checklists import Checklist
from trainer.export.printed import orientation, pocket, record, tailgate, talk, wall, watch
from trainer.web import language, prints_made, wording
from trainer.web.door import Here
from trainer.web.plain import plain
from trainer.words import Words

__all__ = [
    "Person",
    "crew_wall",
    "held_talk",
    "orientation_sheet",
    "pocket_card",
    "pocket_cards",
    "record_card",
    "tailgate_sheet",
    "watch_sheet",
]


class Person(Protocol):
    """Somebody as far as a button needs to know."""

    @property
    def hand(self) -> str:
        """The hand_id."""

    @property
    def position(self) -> str:
        """The position's id."""


Made = Callable[[Desk, Words, datetime], bytes]
Kind = Literal["secondary", "tertiary"]


def _offer(here: Here, label: str, key: str, name: str, made: Made, kind: Kind = "secondary") -> None:
    """The button: ``name`` becomes ``NAME-SITE.pdf``."""

    def sheet() -> io.BytesIO:
        # A page may stand open for hours: what is printed is as of now.
        desk = replace(here.desk, now=clock.now())
        return io.BytesIO(made(desk, here.words, desk.now))

    st.download_button(
        label,
        sheet,
        file_name=f"{name}-{here.desk.store.site}.pdf",
        mime="application/pdf",
        key=f"print-{key}",
        on_click="ignore",
        type=kind,
        width="content",
    )


def pocket_cards(here: Here) -> None:
    """A blank card of each sheet, for the floor."""
    checklists = here.desk.catalogue.checklists.values()
    if not checklists:
        return
    st.header(here.words.say("prints.cards"), anchor=False)
    with st.container(key="print-cards", horizontal=True):
        for checklist in checklists:
            label = here.words.say("prints.to-card-of", title=wording.line(checklist.title, here.words))
            _card(here, label, checklist, "")


def pocket_card(here: Here, checklist: Checklist, hand: str) -> None:
    """The card of that sheet with the hand's name on it."""
    _card(here, here.words.say("prints.to-card"), checklist, hand)


def _card(here: Here, label: str, checklist: Checklist, hand: str) -> None:
    def made(desk: Desk, words: Words, now: datetime) -> bytes:
        return pocket.render(prints_made.pocket_card(desk, words, checklist.id, hand), words, now)

    _offer(here, label, f"card-{checklist.id}", f"card-{checklist.id}", made, "secondary" if not hand else "tertiary")


def tailgate_sheet(here: Here, competency: str, crew: str, tailgate_id: str = "", tour: str = "") -> None:
    """The sheet for a talk on that topic with that crew, on that tour or else the crew's own."""

    def made(desk: Desk, words: Words, now: datetime) -> bytes:
        report = prints_made.tailgate_sheet(desk, words, competency, crew, tailgate_id, tour)
        return tailgate.render(report, words, now)

    _offer(here, here.words.say("prints.to-tailgate"), "tailgate", f"tailgate-{competency}", made, "tertiary")


def held_talk(here: Here, tailgate_id: str, competency: str, day: date) -> None:
    """The sheet of a talk that is on record."""

    def made(desk: Desk, words: Words, now: datetime) -> bytes:
        return talk.render(prints_made.held_talk(desk, words, tailgate_id), words, now)

    name = f"tailgate-{competency}-{day.isoformat()}"
    _offer(here, here.words.say("prints.to-talk"), f"talk-{tailgate_id}", name, made)


def crew_wall(here: Here, crew: str) -> None:
    """The crew for the doghouse wall."""

    def made(desk: Desk, words: Words, now: datetime) -> bytes:
        return wall.render(prints_made.crew_wall(desk, words, crew), words, now)

    _offer(here, here.words.say("prints.to-wall"), "wall", f"crew-{crew}", made)


def record_card(here: Here, hand: str) -> None:
    """The hand's card: one's own, or anybody's for those who see all."""

    def made(desk: Desk, words: Words, now: datetime) -> bytes:
        return record.render(prints_made.record_card(desk, words, hand), words, now)

    key = "to-own-record" if hand == here.actor.hand else "to-record"
    _offer(here, here.words.say(f"prints.{key}"), "record", f"record-{hand}", made)


def watch_sheet(here: Here, record_id: str, day: date) -> None:
    """The signed sheet of one watch, of that day."""

    def made(desk: Desk, words: Words, now: datetime) -> bytes:
        return watch.render(prints_made.watch_sheet(desk, words, record_id), words, now)

    label = here.words.say("prints.to-watch", day=plain(wording.day(day, here.words)))
    _offer(here, label, f"watch-{record_id}", f"watch-{record_id}", made, "tertiary")


def orientation_sheet(here: Here, person: Person) -> None:
    """The sheet for somebody's first day, in the language of whoever signs it; none for the office."""
    position = here.desk.catalogue.site.position(person.position)
    if position is not None and position.role == COORDINATOR:
        return

    def made(desk: Desk, words: Words, now: datetime) -> bytes:
        own = desk.store.person(person.hand)
        spoken = language.words_in(own.language if own else "") or words
        return orientation.render(prints_made.orientation(desk, spoken, person.hand), spoken, now)

    _offer(here, here.words.say("prints.to-orientation"), "orientation", f"orientation-{person.hand}", made)
