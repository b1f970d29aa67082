"""A tailgate being held, as a draft keeps it: where it is, who is there, and what each has answered so far."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, replace
from datetime import date, datetime, timedelta
from typing import Any, cast
from zoneinfo import ZoneInfo

from trainer.actions.desk import Desk
from trainer.core.banks import Bank, Item
from trainer.core.catalogue import Catalogue
from trainer.core.crewlist import Known, known_people
from trainer.core.records import Json
from trainer.core.tailgate import QUESTIONS, bank_of, drawn_for, has_passed, questions
from trainer.core.tasks import ChooseOne, JudgeDrawing
from trainer.core.tours import at_hand, began, start_of
from trainer.errors import BadInput, NotFound
from trainer.store import Draft, Reading, Transaction

__all__ = [
    "ANSWERS",
    "ASK",
    "KIND",
    "PAPER",
    "READY",
    "SIGN",
    "TALK",
    "Attendee",
    "Meeting",
    "bank_of_meeting",
    "day_at_hand",
    "items_of",
    "last_begun",
    "listed",
    "load",
    "people_on",
    "put",
    "require_begun",
    "right_of",
]

KIND = "tailgate"

READY, TALK, ASK, ANSWERS, SIGN, PAPER = "ready", "talk", "ask", "answers", "sign", "paper"
"""The steps in their order; a sheet of paper has one step only."""

_BEFORE_TOUR = timedelta(hours=1)


@dataclass(frozen=True, slots=True)
class Attendee:
    """Somebody of this site at the talk. ``record_id`` is the id of the record that vouching writes for him.

    ``how`` is one of ``core.tailgate.HOW_PRESENT``, empty while he was not seen there. ``answers`` maps items to the
    options chosen, in the order asked. ``passed`` is what a sheet of paper says.
    """

    hand: str
    record_id: str
    how: str = ""
    answers: Mapping[str, str] = field(default_factory=dict)
    language: str = ""
    passed: bool = False


@dataclass(frozen=True, slots=True)
class Meeting:
    """One tailgate. ``tailgate_id`` is also the id of its leader's record and the seed of all that is drawn.

    ``page`` counts points and questions within a step. ``now`` is who has the tablet, ``last`` who had it before.
    ``session`` is a hash of the sign-in session that it is held on, empty while it is on none. ``held`` and ``tour``
    are the day and the hours of the talk; of a live one ``held`` is empty until it begins.
    """

    tailgate_id: str
    leader: str
    competency: str
    crew: str
    step: str = READY
    page: int = 0
    items: tuple[str, ...] = ()
    content: str = ""
    people: tuple[Attendee, ...] = ()
    guests: tuple[str, ...] = ()
    job: str = ""
    number: str = ""
    revision: str = ""
    header: str = ""
    now: str = ""
    last: str = ""
    session: str = ""
    held: str = ""
    tour: str = ""
    opened: str = ""
    touched: str = ""

    @property
    def is_paper(self) -> bool:
        """Whether it was held on paper and is only entered here."""
        return self.step == PAPER

    @property
    def is_running(self) -> bool:
        """Whether the tablet goes round: from the first point of the talk until it is vouched for."""
        return self.step not in (READY, PAPER)

    @property
    def present(self) -> tuple[Attendee, ...]:
        """Everybody who was there in any way, but for its leader."""
        return tuple(each for each in self.people if each.how)

    def attendee(self, hand: str) -> Attendee | None:
        """That person, seen there or only expected; ``None`` for anybody else."""
        return next((each for each in self.people if each.hand == hand), None)

    def has_answered(self, hand: str) -> bool:
        """Whether that person has answered all questions."""
        found = self.attendee(hand)
        return found is not None and len(found.answers) == QUESTIONS

    def having(self, changed: Attendee) -> Meeting:
        """The same with that person as given, at his place, or at the end when he is new."""
        if self.attendee(changed.hand) is None:
            return replace(self, people=(*self.people, changed))
        return replace(self, people=tuple(changed if each.hand == changed.hand else each for each in self.people))

    def passes(self, attendee: Attendee, right: int) -> bool:
        """Whether that person, with so many answers right, has passed as things stand."""
        return has_passed(attendee.how, QUESTIONS if attendee.passed else right)


def _body(meeting: Meeting) -> dict[str, Json]:
    kept = asdict(meeting)
    for name in ("tailgate_id", "leader", "competency", "opened", "touched"):
        del kept[name]
    return cast("dict[str, Json]", kept)


def _meeting(draft: Draft) -> Meeting:
    body = cast("dict[str, Any]", dict(draft.body))
    people = tuple(Attendee(**each) for each in body.pop("people"))
    items, guests = tuple(body.pop("items")), tuple(body.pop("guests"))
    return Meeting(
        tailgate_id=draft.draft_id, leader=draft.owner, competency=draft.subject, items=items, people=people,
        guests=guests, opened=draft.opened, touched=draft.touched, **body,
    )  # fmt: skip


def load(reading: Reading, desk: Desk, tailgate_id: str) -> Meeting:
    """The actor's open tailgate of that id. Raises ``NotFound("no-draft")``."""
    draft = reading.draft(tailgate_id)
    if draft is None or draft.owner != desk.actor.hand or draft.kind != KIND:
        raise NotFound("no-draft")
    return _meeting(draft)


def listed(reading: Reading, desk: Desk) -> tuple[Meeting, ...]:
    """The actor's open tailgates, the oldest first."""
    return tuple(_meeting(each) for each in reading.drafts(owner=desk.actor.hand, kind=KIND))


def put(writing: Transaction, meeting: Meeting) -> None:
    """Write ``meeting`` into its draft."""
    draft = Draft(
        meeting.tailgate_id, meeting.leader, KIND, meeting.competency, _body(meeting), meeting.opened, meeting.touched
    )
    writing.put_draft(draft)


def people_on(reading: Reading, day: date) -> dict[str, Known]:
    """Everybody with a name who is here on ``day``, by hand_id, with crew and position."""
    names = reading.people()
    places = known_people({}, (stay for stay in reading.stay_rows() if stay.day <= day))
    return {hand: place for hand, place in places.items() if hand in names and place.is_here(day)}


def bank_of_meeting(catalogue: Catalogue, meeting: Meeting) -> Bank:
    """The bank of its topic. Raises ``NotFound("no-competency")``."""
    bank = bank_of(catalogue, meeting.competency)
    if bank is None:
        raise NotFound("no-competency", competency=meeting.competency)
    return bank


def items_of(catalogue: Catalogue, meeting: Meeting) -> tuple[Item, ...] | None:
    """Its three questions; ``None`` when they were rewritten since they were drawn."""
    found = questions(bank_of_meeting(catalogue, meeting), meeting.items)
    if found is None or not all(_is_offered(item, meeting) for item in found):
        return None
    return found


def _is_offered(item: Item, meeting: Meeting) -> bool:
    offered = set(drawn_for(item, meeting.tailgate_id, "").options)
    return {each.answers[item.id] for each in meeting.people if item.id in each.answers} <= offered


def right_of(items: tuple[Item, ...], attendee: Attendee) -> tuple[str, ...]:
    """The ids of the items that the person has right."""
    return tuple(item.id for item in items if attendee.answers.get(item.id) in _keys(item))


def _keys(item: Item) -> frozenset[str]:
    if not isinstance(item.task, ChooseOne | JudgeDrawing):
        return frozenset()
    return frozenset(option.id for option in item.task.options if option.right)


def day_at_hand(desk: Desk, tour: str) -> date:
    """The day on which a talk that is held now counts: the day on which its tour began, or is about to begin.

    Never later than the site's today.
    """
    return min(at_hand(tour, _site_time(desk)), desk.today)


def last_begun(desk: Desk, tour: str) -> date:
    """The day on which the last such tour began, by the site's own clock; today without a tour."""
    return began(tour, _site_time(desk))


def require_begun(desk: Desk, held: date, tour: str) -> None:
    """Raise ``BadInput`` for a sheet of paper that nobody can have yet.

    ``sheet-future`` for a day to come, ``sheet-form`` for text that is no tour, ``tailgate-tour-ahead`` for a tour that
    has not begun.
    """
    if held > desk.today:
        raise BadInput("sheet-future", day=held)
    start = start_of(tour)
    if start is None:
        if tour:
            raise BadInput("sheet-form", field="tour")
        return
    # A talk comes before its tour: its sheet may be entered while the crew still waits for the start.
    ahead = datetime.combine(held, start) - _site_time(desk).replace(tzinfo=None)
    if ahead > _BEFORE_TOUR:
        raise BadInput("tailgate-tour-ahead", tour=tour, day=held, began=last_begun(desk, tour))


def _site_time(desk: Desk) -> datetime:
    return desk.now.astimezone(ZoneInfo(desk.store.tz))
