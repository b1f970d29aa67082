"""Off the slips, and back: a stand-down outside a sheet, and the reinstatement after what was done about it.

Back does not mean current: the parts have to be passed again. One act often concerns several competencies at once, so
each action takes them together, all or none.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from trainer.actions import bringing, may, seconds, watched
from trainer.actions.desk import Desk
from trainer.actions.seconds import Second, is_judge
from trainer.core.checklists import Step
from trainer.core.columns import evidence_columns
from trainer.core.observation import NOT_MET
from trainer.core.records import Effect, EvidenceRow, Observation, Record, Reinstated, StepSeen, StoodDown
from trainer.core.rows import tidy
from trainer.core.standing import is_stood_down
from trainer.core.tours import began
from trainer.errors import BadInput, NotFound, Refused
from trainer.store import Reading

__all__ = ["Down", "Offer", "offer", "reinstate", "reinstate_all", "stand_down", "stand_down_all"]


@dataclass(frozen=True, slots=True)
class Down:
    """The last stand-down in ``competency``: when, by whose name, and why, empty where that was erased or never said.

    Of one that a sheet was written with ``steps`` are those that were not met.
    """

    competency: str
    day: date
    by: str
    why: str
    steps: tuple[tuple[Step, StepSeen], ...] = ()


@dataclass(frozen=True, slots=True)
class Offer:
    """What the actor can do about ``hand``: each competency that he can take him off for, or bring him back to.

    ``alone`` are those of ``back`` that he wrote himself on this tour: they take one of ``seconds``, (hand_id, name),
    and his PIN. ``downs`` tells of each of ``back`` what it was for.
    """

    off: tuple[str, ...]
    back: tuple[str, ...]
    alone: frozenset[str]
    seconds: tuple[tuple[str, str], ...]
    downs: tuple[Down, ...] = ()


def offer(desk: Desk, hand: str) -> Offer | None:
    """What the actor can do about ``hand``, in catalogue order; ``None`` where he judges nobody, or it is himself."""
    may.require(desk, "reinstating.offer")
    place, me = seconds.place_of(desk, hand), desk.actor.hand
    if place is None or desk.store.person(hand) is None or me == hand or not is_judge(desk, me):
        return None
    rows = desk.store.evidence_rows(hands=(hand,))
    evidence = evidence_columns(rows)
    known = [each.id for each in desk.catalogue.competencies]
    down = tuple(each for each in known if is_stood_down(evidence, hand, each, desk.today))
    needed = {each.id for each in desk.catalogue.needed_by(place.position)}
    up = tuple(each for each in known if each in needed and each not in down)
    alone = frozenset(each for each in down if _is_own(desk, desk.store, hand, each))
    told = tuple(_told(desk, each, row) for each in down if (row := _last_down(desk, rows, each)))
    return Offer(up, down, alone, seconds.others(desk, hand) if alone else (), told)


def _told(desk: Desk, competency: str, row: EvidenceRow) -> Down:
    """What that stand-down was for, as the evidence page tells it."""
    record, person = desk.store.record(row.record_id), desk.store.person(row.by)
    by = person.name if person else desk.store.text(row.by) or row.by
    if record is None or not isinstance(record.body, StoodDown):
        return Down(competency, row.day, by, "")
    why = desk.store.text(record.body.why) if record.body.why else None
    sheet = desk.store.record(record.body.observation) if record.body.observation else None
    body = sheet.body if sheet else None
    missed = watched.steps_missed(desk, body, competency) if isinstance(body, Observation) else ()
    # What nobody watched did not take him off.
    return Down(competency, row.day, by, why or "", tuple(each for each in missed if each[1].state == NOT_MET))


def stand_down(desk: Desk, hand: str, competency: str, why: str, record_id: str | None = None) -> Record:
    """The ``stood-down`` record that takes ``hand`` off the slips for that one competency; as ``stand_down_all``."""
    may.require(desk, "reinstating.stand_down")
    return stand_down_all(desk, hand, {competency: record_id}, why)[0]


def stand_down_all(desk: Desk, hand: str, competencies: Mapping[str, str | None], why: str) -> tuple[Record, ...]:
    """The ``stood-down`` records that take ``hand`` off the slips for each of the competencies, at once.

    An observer or a coordinator writes them, and says why. Each competency comes with the record id drawn with the
    form, if there was one. Raises ``Refused`` (``not-observer``, ``observer-is-hand``, ``stood-down-already``),
    ``BadInput`` (``no-reason``, ``nothing-chosen``), ``NotFound``.
    """
    may.require(desk, "reinstating.stand_down_all")
    reason = _reason(why)
    _require_known(desk, hand, competencies)
    _require_judge(desk, desk.actor.hand, hand)
    with desk.store.transaction() as writing:
        for competency, record_id in competencies.items():
            is_there = record_id is not None and writing.record(record_id) is not None
            if not is_there and _is_down(desk, writing, hand, competency):
                raise Refused("stood-down-already")
        key = writing.keep_text(reason, hand)
        return tuple(
            writing.append(
                desk.new_record(StoodDown(competency, key, observer=desk.actor.hand), hand=hand, record_id=record_id)
            )
            for competency, record_id in competencies.items()
        )


def reinstate(
    desk: Desk, hand: str, competency: str, done: str, second: Second | None = None, record_id: str | None = None
) -> Record:
    """The ``reinstated`` record after the stand-down for that one competency; as ``reinstate_all``."""
    may.require(desk, "reinstating.reinstate")
    return reinstate_all(desk, hand, {competency: record_id}, done, second)[0]


def reinstate_all(
    desk: Desk, hand: str, competencies: Mapping[str, str | None], done: str, second: Second | None = None
) -> tuple[Record, ...]:
    """The ``reinstated`` records after stand-downs; ``done`` says what was done about it.

    An observer or a coordinator writes them, not the hand himself; on the tour of a stand-down whoever wrote that needs
    a second observer or coordinator and his PIN. Each competency comes with the record id drawn with the form, if there
    was one; what ``bringing`` kept of it is gone. Raises ``Refused`` (``not-observer``, ``observer-is-hand``,
    ``not-stood-down``, ``reinstate-needs-second``, ``reinstate-second``), ``BadInput`` (``no-reason``,
    ``nothing-chosen``), ``NotFound``.
    """
    may.require(desk, "reinstating.reinstate_all")
    reason = _reason(done)
    _require_known(desk, hand, competencies)
    _require_judge(desk, desk.actor.hand, hand)
    agreed = _agreed(desk, hand, second) if second is not None else None
    with desk.store.transaction() as writing:
        for competency, record_id in competencies.items():
            if record_id is None or writing.record(record_id) is None:
                _require_down(desk, writing, hand, competency, agreed)
        writing.drop_draft(bringing.draft_id(desk, hand))
        key = writing.keep_text(reason, hand)
        return tuple(
            writing.append(
                desk.new_record(Reinstated(competency, key, agreed, desk.actor.hand), hand=hand, record_id=record_id)
            )
            for competency, record_id in competencies.items()
        )


def _reason(text: str) -> str:
    reason = tidy(text)
    if not reason:
        raise BadInput("no-reason")
    return reason


def _require_known(desk: Desk, hand: str, competencies: Mapping[str, str | None]) -> None:
    if not competencies:
        raise BadInput("nothing-chosen")
    if desk.store.person(hand) is None:
        raise NotFound("no-hand", hand=hand)
    for competency in competencies:
        if desk.catalogue.competency(competency) is None:
            raise NotFound("no-competency", competency=competency)


def _require_judge(desk: Desk, judge: str, hand: str) -> None:
    """Raise ``Refused`` unless ``judge`` is an observer or a coordinator here today, and not the hand."""
    if judge == hand:
        raise Refused("observer-is-hand")
    if not is_judge(desk, judge):
        raise Refused("not-observer")


def _agreed(desk: Desk, hand: str, second: Second) -> str:
    found = seconds.agreed(desk, hand, second)
    if found is None:
        raise Refused("reinstate-second")
    return found


def _is_down(desk: Desk, reading: Reading, hand: str, competency: str) -> bool:
    return is_stood_down(evidence_columns(reading.evidence_rows(hands=(hand,))), hand, competency, desk.today)


def _require_down(desk: Desk, reading: Reading, hand: str, competency: str, agreed: str | None) -> None:
    if not _is_down(desk, reading, hand, competency):
        raise Refused("not-stood-down")
    if agreed is None and _is_own(desk, reading, hand, competency):
        raise Refused("reinstate-needs-second")


def _is_own(desk: Desk, reading: Reading, hand: str, competency: str) -> bool:
    """Whether the actor himself wrote the last stand-down, on the tour that is still on."""
    last = _last_down(desk, reading.evidence_rows(hands=(hand,)), competency)
    return last is not None and last.by == desk.actor.hand and _is_this_tour(desk, hand, last)


def _last_down(desk: Desk, rows: Iterable[EvidenceRow], competency: str) -> EvidenceRow | None:
    """The last stand-down in that competency up to today, of the rows of one hand in their order."""
    downs = [row for row in rows if _takes_down(row, competency) and row.day <= desk.today]
    return downs[-1] if downs else None


def _takes_down(row: EvidenceRow, competency: str) -> bool:
    return row.competency == competency and row.effect is Effect.DOWN


def _is_this_tour(desk: Desk, hand: str, down: EvidenceRow) -> bool:
    """Whether the tour in which the stand-down was written, or to which it belongs, is the present one."""
    place = seconds.place_of(desk, hand)
    crew = desk.catalogue.site.crews.get(place.crew) if place else None
    tour = crew.tour if crew else ""
    zone = ZoneInfo(desk.store.tz)
    now = began(tour, desk.now.astimezone(zone))
    return now in (down.day, began(tour, datetime.fromisoformat(down.at).astimezone(zone)))
