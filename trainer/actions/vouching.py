"""The end of a tailgate: who was there and how, guests, the driller's PIN, and one record for each, all at once.

The same for a sheet of paper, on which the driller says who had all right.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date

from trainer.actions import may, signing_in
from trainer.actions.desk import Desk
from trainer.actions.meetings import (
    PAPER,
    SIGN,
    Attendee,
    Meeting,
    bank_of_meeting,
    items_of,
    load,
    people_on,
    put,
    right_of,
)
from trainer.actions.tailgating import LONGEST
from trainer.core.banks import Item
from trainer.core.progress import progress
from trainer.core.records import Part, Record, Tailgate
from trainer.core.rows import tidy
from trainer.core.tailgate import HOW_PRESENT, LED, THROUGHOUT, lesson_of
from trainer.errors import BadInput, NotFound, Refused
from trainer.store import NewRecord, Reading, Transaction

__all__ = ["Held", "HeldFor", "add_guest", "drop_guest", "held", "mark", "others_here", "outcomes", "vouch"]


@dataclass(frozen=True, slots=True)
class HeldFor:
    """What a tailgate came to for one person; ``through`` is how long his knowledge holds now, ``None`` for not.

    ``answered`` and ``right`` count questions: none of either on paper. ``record`` is his own record of it.
    """

    hand: str
    how: str
    passed: bool
    through: date | None
    answered: int
    right: int
    record: Record


@dataclass(frozen=True, slots=True)
class Held:
    """A tailgate vouched for, with its leader's own record.

    ``job`` and ``guests`` are in words, empty where these were erased.
    """

    record: Record
    body: Tailgate
    people: tuple[HeldFor, ...]
    guests: tuple[str, ...]
    job: str


def mark(desk: Desk, tailgate_id: str, hand: str, how: str, *, passed: bool = False) -> Meeting:
    """The tailgate with how ``hand`` was there (empty: not); of paper also whether he had all right.

    Raises ``BadInput("tailgate-how")``, ``NotFound("no-hand")``, ``Refused("tailgate-leader")``.
    """
    may.require(desk, "vouching.mark")
    if how not in ("", *HOW_PRESENT):
        raise BadInput("tailgate-how", how=how)
    with desk.store.transaction() as writing:
        was = load(writing, desk, tailgate_id)
        if was.step not in (SIGN, PAPER):
            return was
        person = was.attendee(hand) or _somebody_else(desk, writing, was, hand)
        on_paper = was.is_paper and passed and how == THROUGHOUT
        now = replace(was.having(replace(person, how=how, passed=on_paper)), touched=desk.at)
        put(writing, now)
        return now


def _somebody_else(desk: Desk, reading: Reading, meeting: Meeting, hand: str) -> Attendee:
    if hand == meeting.leader:
        raise Refused("tailgate-leader")
    if hand not in people_on(reading, date.fromisoformat(meeting.held)):
        raise NotFound("no-hand", hand=hand)
    return Attendee(hand, desk.new_id())


def others_here(desk: Desk, meeting: Meeting) -> tuple[tuple[str, str, str], ...]:
    """(hand_id, name, crew) of everybody here that day who is not on the list yet, by crew and name."""
    may.require(desk, "vouching.others_here")
    day, names = date.fromisoformat(meeting.held) if meeting.held else desk.today, desk.store.people()
    found = [
        (hand, names[hand].name, place.crew)
        for hand, place in people_on(desk.store, day).items()
        if hand != meeting.leader and meeting.attendee(hand) is None
    ]
    return tuple(sorted(found, key=lambda each: (not each[2], each[2], each[1].casefold(), each[0])))


def add_guest(desk: Desk, tailgate_id: str, name: str) -> Meeting:
    """The tailgate with a guest of no standing, by name and company. Raises ``BadInput("tailgate-guest")``."""
    may.require(desk, "vouching.add_guest")
    called = tidy(name)
    if not called or len(called) > LONGEST:
        raise BadInput("tailgate-guest", longest=LONGEST)
    return _with_guests(desk, tailgate_id, called, add=True)


def drop_guest(desk: Desk, tailgate_id: str, name: str) -> Meeting:
    """The tailgate without that guest."""
    may.require(desk, "vouching.drop_guest")
    return _with_guests(desk, tailgate_id, name, add=False)


def _with_guests(desk: Desk, tailgate_id: str, name: str, *, add: bool) -> Meeting:
    with desk.store.transaction() as writing:
        was = load(writing, desk, tailgate_id)
        others = tuple(each for each in was.guests if each != name)
        now = replace(was, guests=(*others, name) if add else others, touched=desk.at)
        put(writing, now)
        return now


def outcomes(desk: Desk, meeting: Meeting) -> dict[str, bool]:
    """For everybody there, by hand_id, whether vouching now would be a pass; else it is attendance."""
    may.require(desk, "vouching.outcomes")
    items = items_of(desk.catalogue, meeting) or ()
    return {each.hand: meeting.passes(each, len(right_of(items, each))) for each in meeting.present}


def vouch(desk: Desk, tailgate_id: str, pin: str, device: str) -> list[Record]:
    """The records of a tailgate that its driller vouches for with his PIN, his own first; the draft is gone.

    A second press returns the first records. Raises ``Refused``: ``tailgate-not-over`` before its last step,
    ``tailgate-nobody`` with nobody there, ``tailgate-changed`` when it changed meanwhile, and as
    ``signing_in.check_pin``; ``BadInput("tailgate-rewritten")``.
    """
    may.require(desk, "vouching.vouch")
    there = _written(desk.store, desk, tailgate_id)
    if there:
        return there
    seen = load(desk.store, desk, tailgate_id)
    _require_over(desk, seen)
    signing_in.check_pin(desk, desk.actor.hand, pin, device)
    # The PIN takes a while, and the tailgate may have changed meanwhile: what is written was looked at in here.
    with desk.store.transaction() as writing:
        there = _written(writing, desk, tailgate_id)
        if there:
            return there
        if load(writing, desk, tailgate_id) != seen:
            raise Refused("tailgate-changed")
        records = [writing.append(new) for new in _records(desk, writing, seen)]
        writing.drop_draft(tailgate_id)
        return records


def _written(reading: Reading, desk: Desk, tailgate_id: str) -> list[Record]:
    """The records of a tailgate that the actor vouched for, his own first; empty for none."""
    own = reading.record(tailgate_id)
    if own is None or own.by != desk.actor.hand or not isinstance(own.body, Tailgate):
        return []
    found = reading.records(kinds=("tailgate",), site=reading.site)
    return [each for each in found if isinstance(each.body, Tailgate) and each.body.tailgate == tailgate_id]


def _require_over(desk: Desk, meeting: Meeting) -> None:
    if meeting.step not in (SIGN, PAPER):
        raise Refused("tailgate-not-over")
    if not meeting.present and not meeting.guests:
        raise Refused("tailgate-nobody")
    if items_of(desk.catalogue, meeting) is None:
        raise BadInput("tailgate-rewritten")


def _records(desk: Desk, writing: Transaction, meeting: Meeting) -> Iterator[NewRecord]:
    items, day = items_of(desk.catalogue, meeting) or (), date.fromisoformat(meeting.held)
    for body, record_id in _bodies(desk, writing, meeting, items):
        yield desk.new_record(body, hand=_hand_of(meeting, record_id), day=day, record_id=record_id)


def _hand_of(meeting: Meeting, record_id: str) -> str:
    return next((each.hand for each in meeting.people if each.record_id == record_id), meeting.leader)


def _bodies(
    desk: Desk, writing: Transaction, meeting: Meeting, items: tuple[Item, ...]
) -> Iterator[tuple[Tailgate, str]]:
    """Each body with the id of its record. Guests stand on the leader's, because a guest has no record of his own."""
    lesson = lesson_of(desk.catalogue, bank_of_meeting(desk.catalogue, meeting))
    form = "\n".join((meeting.number, meeting.revision, meeting.header))
    common = Tailgate(
        tailgate=meeting.tailgate_id,
        competency=meeting.competency,
        topic=lesson.id if lesson else "",
        answers={},
        present=LED,
        passed=False,
        vouched=meeting.leader,
        job=writing.keep_text(meeting.job) if meeting.job else None,
        form=writing.keep_text(form) if form.strip() else None,
        items=meeting.items,
        content=meeting.content,
        paper=meeting.is_paper,
        tour=meeting.tour,
        entered=desk.today.isoformat(),
    )
    yield replace(common, guests=tuple(writing.keep_text(each) for each in meeting.guests)), meeting.tailgate_id
    for person in meeting.present:
        right = right_of(items, person)
        answers = {item.id: person.answers.get(item.id) for item in items}
        yield (
            replace(
                common, answers=answers, present=person.how, passed=meeting.passes(person, len(right)), right=right,
                language=person.language,
            ),
            person.record_id,
        )  # fmt: skip


def held(desk: Desk, tailgate_id: str) -> Held:
    """What the actor's tailgate of that id came to. Raises ``NotFound("no-record")``."""
    may.require(desk, "vouching.held")
    written = _written(desk.store, desk, tailgate_id)
    if not written or not isinstance(body := written[0].body, Tailgate):
        raise NotFound("no-record", record=tailgate_id)
    people = tuple(_held_for(desk, each) for each in written[1:])
    guests = tuple(desk.store.text(each) or "" for each in body.guests)
    job = desk.store.text(body.job) if body.job else ""
    return Held(written[0], body, people, guests, job or "")


def _held_for(desk: Desk, record: Record) -> HeldFor:
    assert isinstance(record.body, Tailgate)
    hand, body = record.hand or "", record.body
    rows = desk.store.evidence_rows(hands=(hand,))
    parts = progress(desk.catalogue, rows, hand, desk.today).get(body.competency, ())
    through = next((each.through for each in parts if each.part is Part.KNOWLEDGE and each.holds), None)
    answered = sum(each is not None for each in body.answers.values())
    return HeldFor(hand, body.present, body.passed, through, answered, len(body.right), record)
