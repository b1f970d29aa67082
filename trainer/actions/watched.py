"""Around a sheet: whom an observer can choose, what he does not hold himself, and what his signed sheet came to."""

from __future__ import annotations

from dataclasses import dataclass

from trainer.actions import may
from trainer.actions.desk import Desk
from trainer.actions.sheets import Sheet
from trainer.core.columns import evidence_columns
from trainer.core.crewlist import known_people
from trainer.core.holding import holds
from trainer.core.observation import ASSESSMENT
from trainer.core.records import Observation, Record, StoodDown
from trainer.errors import NotFound

__all__ = ["Candidate", "Signed", "candidates", "lacking", "observes", "signed"]


@dataclass(frozen=True, slots=True)
class Candidate:
    """Somebody here today who can be chosen on a sheet."""

    hand: str
    name: str
    position: str
    crew: str


@dataclass(frozen=True, slots=True)
class Signed:
    """A signed sheet: its record, the body in it, and the competencies that the hand was stood down for with it."""

    record: Record
    body: Observation
    stood_down: tuple[str, ...]


def observes(desk: Desk) -> bool:
    """Whether the actor's position lets him observe; it hides or shows a page, the actions ask for themselves."""
    position = desk.catalogue.site.position(desk.actor.position)
    return position is not None and position.observes


def candidates(desk: Desk) -> tuple[Candidate, ...]:
    """Everybody who works in a crew here today, the actor too, by crew, position as the site lists them, and name."""
    may.require(desk, "watched.candidates")
    people, positions = desk.store.people(), list(desk.catalogue.site.positions)
    places = known_people({}, (stay for stay in desk.store.stay_rows() if stay.day <= desk.today))
    found = [
        Candidate(hand, people[hand].name, place.position, place.crew)
        for hand, place in places.items()
        if hand in people and place.crew and place.is_here(desk.today)
    ]

    def order(each: Candidate) -> tuple[str, int, str, str]:
        rank = positions.index(each.position) if each.position in positions else len(positions)
        return each.crew, rank, each.name.casefold(), each.hand

    return tuple(sorted(found, key=order))


def lacking(desk: Desk, sheet: Sheet) -> tuple[str, ...]:
    """The competencies of an assessment sheet that its observer does not hold on that day: not his to judge."""
    may.require(desk, "watched.lacking")
    details = sheet.details
    if details.purpose != ASSESSMENT:
        return ()
    evidence = evidence_columns(desk.store.evidence_rows(hands=(details.observer,)))
    return tuple(
        each
        for each in sheet.checklist.competencies()
        if not holds(desk.catalogue, evidence, details.observer, each, details.held)
    )


def signed(desk: Desk, record_id: str) -> Signed:
    """What the actor signed with the sheet of that id. Raises ``NotFound("no-record")``, also for another's."""
    may.require(desk, "watched.signed")
    record = desk.store.record(record_id)
    if record is None or not isinstance(record.body, Observation) or record.by != desk.actor.hand:
        raise NotFound("no-record", record=record_id)
    downs = (each.body for each in desk.store.records(kinds=("stood-down",), hand=record.hand))
    stood_down = (each.competency for each in downs if isinstance(each, StoodDown) and each.observation == record_id)
    return Signed(record, record.body, tuple(stood_down))
