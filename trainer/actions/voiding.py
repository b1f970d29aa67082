"""A mistake is taken out of every fold by a later record that says why; nothing is ever changed or deleted.

A coordinator voids anything but records about himself, a driller what he wrote himself on the same day and not about
himself. Voiding a stand-down, or an observation that one was written with, takes a second observer or coordinator and
his PIN. The command line is whoever keeps the machine: it is asked for no second.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from trainer import clock
from trainer.actions import may, seconds
from trainer.actions.desk import CONSOLE, DRILLER, Desk
from trainer.actions.seconds import Second
from trainer.core.records import Observation, Record, StoodDown, Void
from trainer.core.rows import tidy
from trainer.errors import BadInput, NotFound, Refused

__all__ = ["Offer", "Second", "offer", "void"]

_LASTING = ("void", "site", "key", "erased", "restricted")


@dataclass(frozen=True, slots=True)
class Offer:
    """What voiding a record takes: with ``needs_second`` one of ``seconds``, (hand_id, name), and his PIN."""

    needs_second: bool
    seconds: tuple[tuple[str, str], ...]


def offer(desk: Desk, record_id: str) -> Offer | None:
    """What it takes the actor to void that record; ``None`` where it is not the actor's to void, or void already."""
    try:
        may.require(desk, "voiding.void")
        record = _voidable(desk, record_id)
        _require_own(desk, record)
    except (NotFound, Refused):
        return None
    if desk.actor.role == CONSOLE or not _lifts_stand_down(desk, record):
        return Offer(False, ())
    return Offer(True, seconds.others(desk, record.hand))


def void(desk: Desk, record_id: str, reason: str, second: Second | None = None) -> Record:
    """Write the ``void`` that takes the record out on every date, and return it.

    Raises ``NotFound``, ``BadInput`` without a reason, and ``Refused`` when it may not be voided, is voided already, is
    not the actor's to void, or needs a second.
    """
    may.require(desk, "voiding.void")
    why = tidy(reason)
    if not why:
        raise BadInput("no-reason")
    record = _voidable(desk, record_id)
    _require_own(desk, record)
    agreed = _agreed(desk, record, second) if _lifts_stand_down(desk, record) else None
    with desk.store.transaction() as transaction:
        if record_id in transaction.voids():
            raise Refused("void-already", record=record_id)
        key = transaction.keep_text(why, hand=record.hand or "")
        return transaction.append(desk.new_record(Void(record_id, key, agreed), hand=record.hand))


def _voidable(desk: Desk, record_id: str) -> Record:
    record = desk.store.record(record_id)
    if record is None:
        raise NotFound("no-record", record=record_id)
    if record.kind in _LASTING:
        raise Refused("void-kind", kind=record.kind)
    if record_id in desk.store.voids():
        raise Refused("void-already", record=record_id)
    return record


def _require_own(desk: Desk, record: Record) -> None:
    """Raise ``Refused`` when the record is not the actor's to void."""
    if desk.actor.role == CONSOLE:
        return
    if record.hand == desk.actor.hand:
        raise Refused("void-himself")
    if desk.actor.role == DRILLER and (record.by != desk.actor.hand or _day_written(desk, record) != desk.today):
        raise Refused("void-not-yours")


def _day_written(desk: Desk, record: Record) -> date:
    return clock.civil_day(datetime.fromisoformat(record.at), desk.store.tz)


def _lifts_stand_down(desk: Desk, record: Record) -> bool:
    """Whether voiding ``record`` takes a stand-down out, itself or one that was written with it."""
    if isinstance(record.body, Observation):
        downs = desk.store.records(kinds=("stood-down",), hand=record.hand)
        voids = desk.store.voids()
        return any(
            isinstance(down.body, StoodDown)
            and down.body.observation == record.record_id
            and down.record_id not in voids
            for down in downs
        )
    return isinstance(record.body, StoodDown)


def _agreed(desk: Desk, record: Record, second: Second | None) -> str | None:
    """The hand_id of the second who may and did agree; ``None`` for the command line."""
    if desk.actor.role == CONSOLE:
        return None
    if second is None:
        raise Refused("void-needs-second")
    found = seconds.agreed(desk, record.hand, second)
    if found is None:
        raise Refused("void-second")
    return found
