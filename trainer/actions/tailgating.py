"""A driller holds a tailgate on one tablet: ready, the talk, three questions each, the answers, and his PIN at the end.

Every tap is in the draft before the next thing shows. While the tablet goes round, the sign-in session that it is held
on shows this page only (``is_locked``): the driller is signed in, and others have the tablet. ``vouching`` ends it.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date

from trainer.actions import may, signing_in
from trainer.actions.desk import Desk
from trainer.actions.meetings import (
    ANSWERS,
    ASK,
    PAPER,
    READY,
    SIGN,
    TALK,
    Attendee,
    Meeting,
    bank_of_meeting,
    day_at_hand,
    items_of,
    listed,
    load,
    people_on,
    put,
    require_begun,
)
from trainer.core.banks import Item
from trainer.core.forms import drawn_order
from trainer.core.lessons import TalkPoint
from trainer.core.records import Tailgate
from trainer.core.rows import tidy
from trainer.core.shown import to_answer
from trainer.core.tailgate import (
    POINTS,
    QUESTIONS,
    THROUGHOUT,
    bank_of,
    draw_questions,
    drawn_for,
    lesson_of,
    points,
    topics,
)
from trainer.core.tasks import ChooseOne, JudgeDrawing, Picture
from trainer.core.text import Text
from trainer.errors import NotFound, Refused
from trainer.store import Reading

__all__ = [
    "LONGEST",
    "Sheet",
    "SheetQuestion",
    "answer",
    "begin",
    "call_up",
    "describe",
    "drop",
    "is_locked",
    "mine",
    "open_meeting",
    "open_paper",
    "release",
    "sheet",
    "take_back",
    "take_up",
    "talk_points",
    "turn",
]

LONGEST = 120
"""Letters that a job number, a form's header or a guest's name may have."""

_SHEET_LINES = 20

_PAGES = {TALK: POINTS, ASK: 1, ANSWERS: QUESTIONS, SIGN: 1}
_ONWARD = {TALK: (TALK, ASK), ASK: (TALK, ASK, ANSWERS), ANSWERS: (ANSWERS, SIGN), SIGN: (ANSWERS, SIGN)}
"""From each step where to. Once answers were shown nobody goes back to be asked."""


@dataclass(frozen=True, slots=True)
class SheetQuestion:
    """One question on paper: ``options`` in the order printed, ``right`` the place of the right one, from 0."""

    text: Text
    options: tuple[Text, ...]
    right: int
    why: Text
    picture: Picture | None = None


@dataclass(frozen=True, slots=True)
class Sheet:
    """All that a printed tailgate sheet needs; ``lines`` is how many people can sign in on it."""

    title: Text
    objective: Text
    points: tuple[TalkPoint, ...]
    questions: tuple[SheetQuestion, ...]
    job: str
    number: str
    revision: str
    header: str
    crew: str
    lines: int = _SHEET_LINES


def mine(desk: Desk) -> Meeting | None:
    """The actor's open tailgate; ``None`` where none is open."""
    may.require(desk, "tailgating.mine")
    return next(iter(listed(desk.store, desk)), None)


def open_meeting(desk: Desk, competency: str, crew: str) -> Meeting:
    """A new tailgate on that topic with that crew, its form filled in as on the last one; the open one if there is one.

    Raises ``NotFound("no-competency")`` for what cannot be a topic.
    """
    may.require(desk, "tailgating.open_meeting")
    return _opened(desk, competency, crew, READY, "", "")


def open_paper(desk: Desk, competency: str, crew: str, held: date, tour: str) -> Meeting:
    """The same for one that was held on paper on that day and tour, which may be empty.

    Raises ``BadInput`` as ``meetings.require_begun``.
    """
    may.require(desk, "tailgating.open_paper")
    require_begun(desk, held, tour)
    return _opened(desk, competency, crew, PAPER, held.isoformat(), tour)


def _opened(desk: Desk, competency: str, crew: str, step: str, held: str, tour: str) -> Meeting:
    if competency not in topics(desk.catalogue):
        raise NotFound("no-competency", competency=competency)
    with desk.store.transaction() as writing:
        there = next(iter(listed(writing, desk)), None)
        if there is not None:
            return there
        day = date.fromisoformat(held) if held else desk.today
        here = people_on(writing, day)
        crew_now = sorted(hand for hand, place in here.items() if place.crew == crew and hand != desk.actor.hand)
        number, revision, header = _last_form(writing)
        made = Meeting(
            desk.new_id(), desk.actor.hand, competency, crew, step, held=held, tour=tour or _tour(desk, crew),
            people=tuple(Attendee(hand, desk.new_id()) for hand in crew_now),
            number=number, revision=revision, header=header, opened=desk.at, touched=desk.at,
        )  # fmt: skip
        put(writing, made)
        return made


def _tour(desk: Desk, crew: str) -> str:
    found = desk.catalogue.site.crews.get(crew)
    return found.tour if found else ""


def _last_form(reading: Reading) -> tuple[str, str, str]:
    """Number, revision and header of the site's form, as the last tailgate had them."""
    last = ""
    for record in reading.records(kinds=("tailgate",), site=reading.site):
        if isinstance(record.body, Tailgate) and record.body.form:
            last = record.body.form
    lines = ((reading.text(last) or "") if last else "").split("\n")
    number, revision, header = (*lines, "", "", "")[:3]
    return number, revision, header


def describe(desk: Desk, tailgate_id: str, *, job: str, number: str, revision: str, header: str) -> Meeting:
    """The tailgate with its job or permit number and the site's own form, kept before this returns."""
    may.require(desk, "tailgating.describe")
    said = {"job": job, "number": number, "revision": revision, "header": header}
    kept = {name: tidy(value)[:LONGEST] for name, value in said.items()}
    return _change(desk, tailgate_id, lambda was: replace(was, **kept))  # type: ignore[arg-type]


def begin(desk: Desk, tailgate_id: str, session: str) -> Meeting:
    """The talk begun: the three questions drawn, and the sign-in ``session`` shows nothing else from now on.

    It counts on the day on which its tour began. Raises ``BadInput("form-shortfall")``.
    """
    may.require(desk, "tailgating.begin")
    with desk.store.transaction() as writing:
        was = load(writing, desk, tailgate_id)
        if was.step != READY:
            return was
        bank = bank_of_meeting(desk.catalogue, was)
        drawn = draw_questions(bank, tailgate_id, _asked_before(writing, was))
        now = replace(
            was, step=TALK, page=0, items=tuple(f"{each.id}:{each.version}" for each in drawn), content=bank.hash,
            held=day_at_hand(desk, was.tour).isoformat(), session=_hash(session), touched=desk.at,
        )  # fmt: skip
        put(writing, now)
        return now


def _asked_before(reading: Reading, meeting: Meeting) -> Counter[str]:
    """In how many tailgates each item was asked of anybody of this crew."""
    crew = {each.hand for each in meeting.people}
    asked = {
        (body.tailgate, each.rpartition(":")[0])
        for record in reading.records(kinds=("tailgate",))
        if record.hand in crew and isinstance(body := record.body, Tailgate)
        for each in body.items
    }
    return Counter(item for _, item in asked)


def talk_points(desk: Desk, meeting: Meeting) -> tuple[TalkPoint, ...]:
    """The points of its talk, from the lesson."""
    bank = bank_of_meeting(desk.catalogue, meeting)
    lesson = lesson_of(desk.catalogue, bank)
    return points(lesson, bank, meeting.tailgate_id) if lesson else ()


def turn(desk: Desk, tailgate_id: str, step: str, page: int = 0) -> Meeting:
    """The tailgate at that step and page. A step that does not follow from where it is, changes nothing."""
    may.require(desk, "tailgating.turn")

    def change(was: Meeting) -> Meeting:
        if step not in _ONWARD.get(was.step, ()) or not 0 <= page < _PAGES[step]:
            return was
        return replace(was, step=step, page=page, now="", last=was.last if step == ASK else "")

    return _change(desk, tailgate_id, change)


def call_up(desk: Desk, tailgate_id: str, hand: str) -> Meeting:
    """The tablet in the hands of ``hand``, of this crew or another; nobody's where ``hand`` is empty.

    Who has answered all is not asked again. Raises ``NotFound("no-hand")``, ``Refused("tailgate-leader")``.
    """
    may.require(desk, "tailgating.call_up")

    def change(was: Meeting) -> Meeting:
        if was.step != ASK or was.has_answered(hand):
            return was
        return replace(_with_attendee(desk, was, hand) if hand else was, now=hand)

    return _change(desk, tailgate_id, change)


def _with_attendee(desk: Desk, was: Meeting, hand: str) -> Meeting:
    if hand == was.leader:
        raise Refused("tailgate-leader")
    if was.attendee(hand) is not None:
        return was
    day = date.fromisoformat(was.held) if was.held else desk.today
    if hand not in people_on(desk.store, day):
        raise NotFound("no-hand", hand=hand)
    return was.having(Attendee(hand, desk.new_id()))


def answer(desk: Desk, tailgate_id: str, hand: str, item_id: str, handle: str, language: str) -> Meeting:
    """The tailgate with the answer of ``hand``, a handle as it was shown, and his next question, or the next person.

    Only the question that he has before him is answered: a repeat, or the second half of a double tap, changes nothing.
    Who answers is there throughout until the driller says otherwise. Raises ``BadInput("not-offered")``.
    """
    may.require(desk, "tailgating.answer")

    def change(was: Meeting) -> Meeting:
        items, person = items_of(desk.catalogue, was), was.attendee(hand)
        if was.step != ASK or person is None or was.now != hand or items is None:
            return was
        item = items[len(person.answers)]
        if item.id != item_id:
            return was
        chosen = to_answer(item.task, drawn_for(item, tailgate_id, hand).options, handle)
        answers = {**person.answers, item.id: str(chosen)}
        changed = replace(person, how=person.how or THROUGHOUT, answers=answers, language=language)
        is_done = len(answers) == QUESTIONS
        return replace(was.having(changed), now="" if is_done else hand, last=hand)

    return _change(desk, tailgate_id, change)


def take_back(desk: Desk, tailgate_id: str) -> Meeting:
    """The last answer of whoever answered last taken back, and the tablet with him again: a wet thumb slips."""
    may.require(desk, "tailgating.take_back")

    def change(was: Meeting) -> Meeting:
        person = was.attendee(was.last)
        if was.step != ASK or person is None or not person.answers or was.now not in ("", was.last):
            return was
        answers = dict(list(person.answers.items())[:-1])
        return replace(was.having(replace(person, answers=answers)), now=was.last)

    return _change(desk, tailgate_id, change)


def drop(desk: Desk, tailgate_id: str) -> None:
    """Throw the actor's open tailgate away. Raises ``Refused("tailgate-locked")`` while the tablet goes round."""
    may.require(desk, "tailgating.drop")
    with desk.store.transaction() as writing:
        if load(writing, desk, tailgate_id).session:
            raise Refused("tailgate-locked")
        writing.drop_draft(tailgate_id)


def is_locked(desk: Desk, session: str) -> bool:
    """Whether ``session`` shows the tailgate only, because it goes round on it."""
    may.require(desk, "tailgating.is_locked")
    return any(each.is_running and each.session == _hash(session) for each in listed(desk.store, desk))


def take_up(desk: Desk, tailgate_id: str, session: str) -> Meeting:
    """The running tailgate gone on with on ``session``, which shows nothing else from now on."""
    may.require(desk, "tailgating.take_up")
    held_on = _hash(session)
    return _change(desk, tailgate_id, lambda was: replace(was, session=held_on) if was.is_running else was)


def release(desk: Desk, tailgate_id: str, pin: str, device: str) -> Meeting:
    """The running tailgate laid down for now, all of it kept: the driller's PIN opens the other pages again.

    Raises ``Refused`` as ``signing_in.check_pin``.
    """
    may.require(desk, "tailgating.release")
    load(desk.store, desk, tailgate_id)
    signing_in.check_pin(desk, desk.actor.hand, pin, device)
    return _change(desk, tailgate_id, lambda was: replace(was, session="", now=""))


def sheet(desk: Desk, competency: str, crew: str = "", tailgate_id: str = "") -> Sheet:
    """What a printed sheet for a tailgate on that topic holds.

    With ``tailgate_id``, the actor's open one, its own questions, form and job; else a fresh draw and the last form.
    Raises ``NotFound("no-competency")``.
    """
    may.require(desk, "tailgating.sheet")
    bank = bank_of(desk.catalogue, competency)
    lesson = lesson_of(desk.catalogue, bank) if bank else None
    if bank is None or lesson is None or competency not in topics(desk.catalogue):
        raise NotFound("no-competency", competency=competency)
    number, revision, header = _last_form(desk.store)
    blank = Meeting(desk.new_id(), "", competency, crew, number=number, revision=revision, header=header)
    of = load(desk.store, desk, tailgate_id) if tailgate_id else blank
    # Drawn as ``begin`` draws them, so that paper and tablet ask the same.
    drawn = draw_questions(bank, of.tailgate_id, _asked_before(desk.store, of)) if not of.items else ()
    items = drawn or items_of(desk.catalogue, of)
    return Sheet(
        title=lesson.title, objective=lesson.objective, points=points(lesson, bank, of.tailgate_id),
        questions=tuple(_printed(item, of.tailgate_id) for item in items or ()),
        job=of.job, number=of.number, revision=of.revision, header=of.header, crew=of.crew,
    )  # fmt: skip


def _printed(item: Item, seed: str) -> SheetQuestion:
    assert isinstance(item.task, ChooseOne | JudgeDrawing)
    by_id = {option.id: option for option in item.task.options}
    order = [by_id[name] for name in drawn_order(item.task, seed, item.id)]
    right = next(place for place, option in enumerate(order) if option.right)
    # A drawing without words cannot stand in a list of words; its reason says what it shows.
    options = tuple(option.text or option.why for option in order)
    return SheetQuestion(item.text, options, right, order[right].why, item.picture)


def _change(desk: Desk, tailgate_id: str, change: Callable[[Meeting], Meeting]) -> Meeting:
    """The tailgate as ``change`` makes it, kept before this returns."""
    with desk.store.transaction() as writing:
        was = load(writing, desk, tailgate_id)
        now = change(was)
        if now != was:
            now = replace(now, touched=desk.at)
            put(writing, now)
    return now


def _hash(session: str) -> str:
    # As the store keeps it: a copied draft opens no session.
    return hashlib.sha256(session.encode()).hexdigest()
