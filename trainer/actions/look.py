"""How anybody reads: the matrix, one hand's card, the records behind a cell, the ledger. Nothing is written here.

A hand never gets another hand's rows: every function asks ``may`` before it reads.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from trainer.actions import erasing, may
from trainer.actions.desk import COORDINATOR, Desk
from trainer.core.catalogue import Catalogue
from trainer.core.columns import EvidenceColumns, StayColumns, added, evidence_columns, stay_columns, without
from trainer.core.progress import PartProgress, progress
from trainer.core.records import (
    Body,
    Dispensation,
    Json,
    Observation,
    Outside,
    Part,
    Record,
    Reinstated,
    StoodDown,
    Void,
)
from trainer.core.standing import Cell, Matrix, Rule, Standing, fold, fold_hand, refold
from trainer.errors import NotFound
from trainer.store import Fault, Head, Moment, record_json
from trainer.store.projection import rows_of

__all__ = [
    "Card",
    "Known",
    "NextThing",
    "Told",
    "Voided",
    "brought_forward",
    "card",
    "crew_matrix",
    "evidence_of",
    "heads",
    "matrix",
    "matrix_again",
    "names",
    "places",
    "records",
    "told_void",
    "verify",
]

_TO_DO = (Standing.OVERDUE, Standing.LEARNING, Standing.NOT_STARTED, Standing.DUE)
_NEW = (Rule.NOTHING, Rule.NEVER, Rule.AGAIN)


@dataclass(frozen=True, slots=True)
class NextThing:
    """The one thing to do next: ``see-driller``, ``lesson``, ``quiz`` or ``sign-off`` of a competency."""

    what: str
    competency: str


@dataclass(frozen=True, slots=True)
class Card:
    """What one hand holds and lacks on a day: the cells in catalogue order and the one next thing, if any.

    ``name`` is ``None`` for somebody erased; ``cells`` is empty for who is not on the matrix that day. ``parts`` gives
    each competency's needed parts and how far the hand is with them.
    """

    hand: str
    name: str | None
    as_of: date
    position: str
    crew: str
    cells: tuple[Cell, ...]
    next: NextThing | None
    parts: Mapping[str, tuple[PartProgress, ...]]


@dataclass(frozen=True, slots=True)
class Known:
    """Everything that the matrix reads, as of ``moment``.

    ``touched`` is whose evidence came since what was known before; ``None`` where more than that is new.
    """

    moment: Moment
    evidence: EvidenceColumns
    stays: StayColumns
    touched: frozenset[str] | None = None


@dataclass(frozen=True, slots=True)
class Voided:
    """By whom, when and why a record was taken out; ``second`` is who agreed, where that was asked for."""

    record_id: str
    by: str
    day: date
    why: str | None
    second: str | None = None


@dataclass(frozen=True, slots=True)
class Told:
    """One record behind a cell. ``by`` is a name where there is one; ``note`` the text, if it was not erased.

    ``entered_by`` is who wrote the record, which for what a file brought is not who saw it; ``hash`` the record's own.
    ``second`` is who agreed beside whoever it is by. A dispensation is told too, though it is no evidence: its effect
    is ``allowed``, ``until`` its last day. ``doubted`` is why its clock is in doubt: ``ahead`` of the clock of the site
    that took it in, or set ``back`` before it.
    """

    record_id: str
    day: date
    at: str
    kind: str
    part: str
    effect: str
    by: str
    note: str | None
    voided: Voided | None
    entered_by: str
    site: str
    seq: int
    hash: str
    second: str | None = None
    until: date | None = None
    doubted: str | None = None


def matrix(desk: Desk, as_of: date | None = None, known: Known | None = None) -> Matrix:
    """Everybody's standing on ``as_of``, past or future; today when not given.

    ``known`` is what was read of the store just now, where that is kept.
    """
    may.require(desk, "look.matrix")
    read = known or brought_forward(desk)
    return fold(desk.catalogue, read.evidence, read.stays, as_of or desk.today)


def brought_forward(desk: Desk, before: Known | None = None) -> Known:
    """Everything that the matrix reads, as of now; from what was known ``before`` only what is new is read."""
    may.require(desk, "look.matrix")
    news = desk.store.news(before.moment if before else None)
    evidence, stays = evidence_columns(news.evidence), stay_columns(news.stays)
    if before is not None and not news.is_all:
        touched = frozenset(evidence.hands) if not (news.gone or news.stays) else None
        evidence = added(without(before.evidence, news.gone), evidence)
        stays = added(without(before.stays, news.gone), stays)
        return Known(news.moment, evidence, stays, touched)
    return Known(news.moment, evidence, stays)


_REFOLDED = 128
"""A hand worked out alone takes as long as so many among all."""


def matrix_again(desk: Desk, before: Matrix, known: Known, touched: Collection[str]) -> Matrix:
    """The matrix of the day of ``before``, from which ``known`` differs by evidence about ``touched`` alone."""
    may.require(desk, "look.matrix")
    if len(touched) * _REFOLDED > len(before.hands):
        return matrix(desk, before.as_of, known)
    return refold(before, desk.catalogue, known.evidence, known.stays, touched)


def crew_matrix(desk: Desk, crew: str, as_of: date | None = None) -> Matrix:
    """The same of one crew alone: only its own people's rows are read, so that it takes as long however many others
    there are."""
    may.require(desk, "look.matrix")
    hands = desk.store.hands_in(crew)
    evidence = evidence_columns(desk.store.evidence_rows(hands=hands))
    stays = stay_columns(desk.store.stay_rows(hands=hands))
    return fold(desk.catalogue, evidence, stays, as_of or desk.today).of_crew(crew)


def places(desk: Desk) -> tuple[tuple[str, str], ...]:
    """Each crew and position that anybody on the matrix was ever in together, sorted."""
    may.require(desk, "look.matrix")
    positions = desk.catalogue.site.positions
    found = ((crew, position) for crew, position in desk.store.places() if position)
    return tuple((crew, each) for crew, each in found if each not in positions or positions[each].role != COORDINATOR)


def card(desk: Desk, hand: str, as_of: date | None = None) -> Card:
    """One hand's own cells and next thing. Raises ``Refused`` for another hand's card, ``NotFound``."""
    may.require(desk, "look.card")
    may.require_rows_of(desk, hand)
    day = as_of or desk.today
    rows = desk.store.evidence_rows(hands=(hand,))
    stays = desk.store.stay_rows(hands=(hand,))
    person = desk.store.person(hand)
    if person is None and not stays:
        raise NotFound("no-hand", hand=hand)
    found = fold_hand(desk.catalogue, evidence_columns(rows), stay_columns(stays), hand, day)
    cells = tuple(found.cells())
    on = [stay for stay in stays if stay.day <= day and stay.kind != "left"]
    position, crew = (on[-1].position, on[-1].crew) if on else ("", "")
    name, first = person.name if person else None, next_thing(desk.catalogue, cells)
    return Card(hand, name, day, position, crew, cells, first, progress(desk.catalogue, rows, hand, day))


def next_thing(catalogue: Catalogue, cells: Sequence[Cell]) -> NextThing | None:
    """What to do first: see the driller when stood down, else whatever is due first and not waiting for another."""
    down = [cell for cell in cells if cell.standing is Standing.STOOD_DOWN]
    if down:
        return NextThing("see-driller", down[0].competency)
    to_do = [cell for cell in cells if cell.standing in _TO_DO and cell.reason.rule != Rule.AFTER]
    if not to_do:
        return None
    # min keeps the catalogue's order among equals.
    first = min(to_do, key=lambda cell: cell.due or date.max)
    return NextThing(_what(catalogue, first), first.competency)


def _what(catalogue: Catalogue, cell: Cell) -> str:
    competency = catalogue.competency(cell.competency)
    has_quiz = competency is not None and competency.needs.knowledge is not None
    part = cell.reason.part or (Part.KNOWLEDGE if has_quiz else Part.PRACTICAL)
    if part != Part.KNOWLEDGE:
        return "sign-off"
    return "lesson" if cell.reason.rule in _NEW else "quiz"


def evidence_of(desk: Desk, hand: str, competency: str, as_of: date | None = None) -> list[Told]:
    """Every record behind one cell up to ``as_of``, the latest first, voided ones marked. Raises ``Refused``."""
    may.require(desk, "look.evidence_of")
    may.require_rows_of(desk, hand)
    voids, doubts = desk.store.voids(), desk.store.doubtful()
    told = [
        replace(each, doubted=doubts.get(record.record_id))
        for record in desk.store.records(hand=hand)
        if record.day <= (as_of or desk.today)
        for each in _told(desk, record, competency, voids)
    ]
    return sorted(told, key=lambda each: (each.day, each.at, each.seq), reverse=True)


def _told(desk: Desk, record: Record, competency: str, voids: Mapping[str, str]) -> Iterator[Told]:
    body = record.body
    told = [(row.part.value, row.effect.value, row.by) for row in rows_of(record) if row.competency == competency]
    if isinstance(body, Dispensation) and body.competency == competency:
        told.append(("", "allowed", body.pusher))
    for part, effect, by in told:
        yield Told(
            record_id=record.record_id,
            day=record.day,
            at=record.at,
            kind=record.kind,
            part=part,
            effect=effect,
            by=_name(desk, by),
            note=_note(desk, body),
            voided=told_void(desk, voids.get(record.record_id)),
            entered_by=_name(desk, record.by),
            site=record.site,
            seq=record.seq,
            hash=record.hash,
            until=date.fromisoformat(body.until) if isinstance(body, Dispensation) else None,
            second=_second(desk, body),
        )


def _second(desk: Desk, body: Body) -> str | None:
    """Who agreed to it beside whoever it is by."""
    match body:
        case Dispensation(coordinator=hand) | Reinstated(second=str(hand)) | Void(second=str(hand)):
            return _name(desk, hand)
    return None


def told_void(desk: Desk, void_id: str | None) -> Voided | None:
    """How a record was taken out, by the id of the void; ``None`` where it was not."""
    void = desk.store.record(void_id) if void_id else None
    if void is None or not isinstance(void.body, Void):
        return None
    return Voided(
        void.record_id, _name(desk, void.by), void.day, desk.store.text(void.body.why), _second(desk, void.body)
    )


def _name(desk: Desk, by: str) -> str:
    """The name of a person here or from outside; the id itself where there is none (any more)."""
    person = desk.store.person(by)
    return person.name if person is not None else desk.store.text(by) or by


def _note(desk: Desk, body: Body) -> str | None:
    match body:
        case (
            Outside(note=key)
            | Observation(note=key)
            | StoodDown(why=key)
            | Reinstated(done=key)
            | Dispensation(conditions=key)
        ):
            return desk.store.text(key) if key else None
    return None


def names(desk: Desk, hands: Collection[str] | None = None) -> Mapping[str, str]:
    """Everybody's name by hand_id, of ``hands`` only where they are given.

    Somebody erased is not in it, and somebody restricted has his id for a name.
    """
    may.require(desk, "look.people")
    hidden = _hidden(desk)
    return {hand: hand if hand in hidden else person.name for hand, person in desk.store.people(hands).items()}


def _hidden(desk: Desk) -> frozenset[str]:
    """Whose names the actor does not see."""
    return frozenset() if may.is_office(desk) else erasing.restricted(desk)


def records(desk: Desk) -> Iterator[dict[str, Json]]:
    """Every record as exactly its fields, by site, then seq; voided ones and voids too."""
    may.require(desk, "look.records")
    return (record_json(record) for record in desk.store.records())


def heads(desk: Desk) -> tuple[Head, ...]:
    """The last record of each site's chain, which every export names."""
    may.require(desk, "look.matrix")
    return desk.store.heads()


def verify(desk: Desk) -> list[Fault]:
    """Whatever in chains and evidence does not fit; empty when all of it does."""
    may.require(desk, "look.verify")
    return desk.store.verify()
