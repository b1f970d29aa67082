"""Off the slips, and back: a stand-down outside a sheet, and the reinstatement after what was done about it.

Back does not mean current: the parts have to be passed again.
"""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from trainer.actions import may, signing_in
from trainer.actions.desk import COORDINATOR, Desk
from trainer.actions.voiding import Second
from trainer.core.columns import evidence_columns
from trainer.core.crewlist import Known, known_people
from trainer.core.records import Effect, EvidenceRow, Record, Reinstated, StoodDown
from trainer.core.rows import tidy
from trainer.core.standing import is_stood_down
from trainer.core.tours import began
from trainer.errors import BadInput, NotFound, Refused
from trainer.store import Reading

__all__ = ["reinstate", "stand_down"]


def stand_down(desk: Desk, hand: str, competency: str, why: str, record_id: str | None = None) -> Record:
    """The ``stood-down`` record that takes ``hand`` off the slips for that competency, at once.

    An observer or a coordinator writes it, and says why. ``record_id`` is the one drawn with the form. Raises
    ``Refused`` (``not-observer``, ``observer-is-hand``, ``stood-down-already``), ``BadInput("no-reason")``,
    ``NotFound``.
    """
    may.require(desk, "reinstating.stand_down")
    reason = _reason(why)
    _require_known(desk, hand, competency)
    _require_judge(desk, desk.actor.hand, hand)
    with desk.store.transaction() as writing:
        there = writing.record(record_id) if record_id else None
        if there is None and _is_down(desk, writing, hand, competency):
            raise Refused("stood-down-already")
        body = StoodDown(competency, writing.keep_text(reason, hand), observer=desk.actor.hand)
        return writing.append(desk.new_record(body, hand=hand, record_id=record_id))


def reinstate(
    desk: Desk, hand: str, competency: str, done: str, second: Second | None = None, record_id: str | None = None
) -> Record:
    """The ``reinstated`` record after a stand-down; ``done`` says what was done about it.

    An observer or a coordinator writes it, not the hand himself; on the tour of the stand-down whoever wrote that
    needs a second observer or coordinator and his PIN. Raises ``Refused`` (``not-observer``, ``observer-is-hand``,
    ``not-stood-down``, ``reinstate-needs-second``, ``reinstate-second``), ``BadInput("no-reason")``, ``NotFound``.
    """
    may.require(desk, "reinstating.reinstate")
    reason = _reason(done)
    _require_known(desk, hand, competency)
    _require_judge(desk, desk.actor.hand, hand)
    agreed = _agreed(desk, hand, second) if second is not None else None
    with desk.store.transaction() as writing:
        there = writing.record(record_id) if record_id else None
        if there is None:
            _require_down(desk, writing, hand, competency, agreed)
        body = Reinstated(competency, writing.keep_text(reason, hand), agreed, desk.actor.hand)
        return writing.append(desk.new_record(body, hand=hand, record_id=record_id))


def _reason(text: str) -> str:
    reason = tidy(text)
    if not reason:
        raise BadInput("no-reason")
    return reason


def _require_known(desk: Desk, hand: str, competency: str) -> None:
    if desk.store.person(hand) is None:
        raise NotFound("no-hand", hand=hand)
    if desk.catalogue.competency(competency) is None:
        raise NotFound("no-competency", competency=competency)


def _require_judge(desk: Desk, judge: str, hand: str) -> None:
    """Raise ``Refused`` unless ``judge`` is an observer or a coordinator here today, and not the hand."""
    if judge == hand:
        raise Refused("observer-is-hand")
    if not _judges(desk, judge):
        raise Refused("not-observer")


def _judges(desk: Desk, person: str) -> bool:
    place = _place(desk, person)
    position = desk.catalogue.site.position(place.position) if place else None
    return position is not None and (position.observes or position.role == COORDINATOR)


def _place(desk: Desk, person: str) -> Known | None:
    stays = (stay for stay in desk.store.stay_rows(hands=(person,)) if stay.day <= desk.today)
    place = known_people({}, stays).get(person)
    return place if place is not None and place.is_here(desk.today) else None


def _agreed(desk: Desk, hand: str, second: Second) -> str:
    if second.hand in (desk.actor.hand, hand) or not _judges(desk, second.hand):
        raise Refused("reinstate-second")
    signing_in.check_pin(desk, second.hand, second.pin, second.device)
    return second.hand


def _is_down(desk: Desk, reading: Reading, hand: str, competency: str) -> bool:
    return is_stood_down(evidence_columns(reading.evidence_rows(hands=(hand,))), hand, competency, desk.today)


def _require_down(desk: Desk, reading: Reading, hand: str, competency: str, agreed: str | None) -> None:
    if not _is_down(desk, reading, hand, competency):
        raise Refused("not-stood-down")
    downs = [
        row for row in reading.evidence_rows(hands=(hand,)) if _takes_down(row, competency) and row.day <= desk.today
    ]
    last = downs[-1]
    if last.by == desk.actor.hand and agreed is None and _is_this_tour(desk, hand, last):
        raise Refused("reinstate-needs-second")


def _takes_down(row: EvidenceRow, competency: str) -> bool:
    return row.competency == competency and row.effect is Effect.DOWN


def _is_this_tour(desk: Desk, hand: str, down: EvidenceRow) -> bool:
    """Whether the tour in which the stand-down was written, or to which it belongs, is the present one."""
    place = _place(desk, hand)
    crew = desk.catalogue.site.crews.get(place.crew) if place else None
    tour = crew.tour if crew else ""
    zone = ZoneInfo(desk.store.tz)
    now = began(tour, desk.now.astimezone(zone))
    return now in (down.day, began(tour, datetime.fromisoformat(down.at).astimezone(zone)))
