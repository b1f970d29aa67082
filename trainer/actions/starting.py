"""The way of a new hand, as he, his driller and the office see it: what comes first, how far it is, what waits."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from trainer.actions import look, may
from trainer.actions.desk import Desk
from trainer.core.columns import stay_columns
from trainer.core.durations import NO_DAY
from trainer.core.firstdays import FirstDays, first_days
from trainer.core.records import LessonTaken
from trainer.core.roster import roster

__all__ = ["Newcomer", "newcomer"]


@dataclass(frozen=True, slots=True)
class Newcomer:
    """One hand on the way; ``joined`` is the first day of the last stay, ``None`` without any.

    ``name`` is the id where the name was erased, ``as_of`` the day on which it stands so: today, or the first day.
    """

    hand: str
    name: str
    position: str
    crew: str
    joined: date | None
    language: str
    as_of: date
    way: FirstDays


def newcomer(desk: Desk, hand: str) -> Newcomer:
    """How far ``hand`` is on the way; nothing is asked of the office. Raises ``Refused``, ``NotFound``."""
    may.require(desk, "starting.newcomer")
    may.require_rows_of(desk, hand)
    stays = desk.store.stay_rows(hands=(hand,))
    joined = next((stay.day for stay in reversed(stays) if stay.kind == "joined"), None)
    day = max(desk.today, joined) if joined else desk.today
    card = look.card(desk, hand, day)
    person = desk.store.person(hand)
    taken = (record.body for record in desk.store.records(kinds=("lesson",), hand=hand))
    played = frozenset(body.lesson for body in taken if isinstance(body, LessonTaken))
    return Newcomer(
        hand=hand,
        name=_name(desk, hand, card.name),
        position=card.position,
        crew=card.crew,
        joined=joined,
        language=person.language if person else desk.actor.language,
        as_of=day,
        way=first_days(desk.catalogue, card.cells, card.parts, _starts(desk, hand, day), played),
    )


def _name(desk: Desk, hand: str, own: str | None) -> str:
    """The name as the actor may see it."""
    return look.names(desk).get(hand, hand) if may.sees_all(desk) else own or hand


def _starts(desk: Desk, hand: str, day: date) -> Mapping[str, date]:
    """For each competency the day from which its ``within`` counts; empty for who is not on the matrix."""
    known = desk.catalogue.competencies
    on = roster(desk.catalogue.site, known, stay_columns(desk.store.stay_rows(hands=(hand,))), day)
    if not on.hands:
        return {}
    days = {each.id: int(on.start[line, 0]) for line, each in enumerate(known)}
    return {name: date.fromordinal(each) for name, each in days.items() if each != NO_DAY}
