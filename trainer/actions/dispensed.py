"""Reading dispensations: which of them run now, and which a stand-down has ended before their time. Never standing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from zoneinfo import ZoneInfo

from trainer.actions import may
from trainer.actions.desk import Desk
from trainer.core.columns import evidence_columns
from trainer.core.holding import is_stood_down
from trainer.core.records import Dispensation, Effect, EvidenceRow, Record
from trainer.core.tours import at_hand

__all__ = ["ENDED", "RUNS", "Given", "of_cell", "shown"]

RUNS, ENDED = "runs", "ended"
"""``ended``: by a stand-down, before its time."""


@dataclass(frozen=True, slots=True)
class Given:
    """One dispensation as people read it. ``until`` is the day on which its last tour begins.

    ``conditions`` is ``None`` once they were erased; ``pusher`` and ``coordinator`` are names.
    """

    record_id: str
    hand: str
    competency: str
    day: date
    lasts: str
    until: date
    conditions: str | None
    pusher: str
    coordinator: str
    state: str


def shown(desk: Desk, as_of: date | None = None) -> tuple[Given, ...]:
    """Those to be shown beside the standing on ``as_of`` (now when not given): the ones that run or were ended early.

    The last of each hand and competency, in the order given.
    """
    may.require(desk, "dispensed.shown")
    records = [each for each in desk.store.records(kinds=("dispensation",)) if _reaches(desk, each, as_of)]
    if not records:
        return ()
    last = {(each.hand, each.competency): each for each in _told(desk, records, as_of)}
    return tuple(last.values())


def of_cell(desk: Desk, hand: str, competency: str, as_of: date | None = None) -> tuple[Given, ...]:
    """As ``shown`` for one cell. Raises ``Refused`` for another hand's."""
    may.require(desk, "dispensed.of_cell")
    may.require_rows_of(desk, hand)
    records = [
        each
        for each in desk.store.records(kinds=("dispensation",), hand=hand)
        if isinstance(each.body, Dispensation) and each.body.competency == competency and _reaches(desk, each, as_of)
    ]
    return tuple(_told(desk, records, as_of))[-1:]


def _reaches(desk: Desk, record: Record, as_of: date | None) -> bool:
    """Whether its time has come and is not over on ``as_of``; now by the hour, any other day as a whole."""
    body = record.body
    if not isinstance(body, Dispensation):
        return False
    until = date.fromisoformat(body.until)
    if as_of is None or as_of == desk.today:
        return at_hand(body.tour, desk.now.astimezone(ZoneInfo(desk.store.tz))) <= until
    # One given after midnight ends with a tour that began the day before.
    return min(record.day, until) <= as_of <= until


def _told(desk: Desk, records: Iterable[Record], as_of: date | None) -> Iterator[Given]:
    """The records that no void took out, as people read them."""
    voids, day = desk.store.voids(), as_of or desk.today
    kept = [each for each in records if each.record_id not in voids]
    rows = desk.store.evidence_rows(hands={each.hand for each in kept if each.hand})
    evidence, downs = evidence_columns(rows), [row for row in rows if row.effect is Effect.DOWN and row.day <= day]
    for record in kept:
        body = record.body
        if isinstance(body, Dispensation) and record.hand is not None:
            is_down = is_stood_down(evidence, record.hand, body.competency, day)
            is_ended = is_down or any(_ends(row, record, body) for row in downs)
            yield Given(
                record_id=record.record_id,
                hand=record.hand,
                competency=body.competency,
                day=record.day,
                lasts=body.lasts,
                until=date.fromisoformat(body.until),
                conditions=desk.store.text(body.conditions),
                pusher=_name(desk, body.pusher),
                coordinator=_name(desk, body.coordinator),
                state=ENDED if is_ended else RUNS,
            )


def _ends(down: EvidenceRow, record: Record, body: Dispensation) -> bool:
    """Whether that stand-down was written after it: then it stays ended, whatever is done about the stand-down.

    Also one that counts on an earlier day, since it was not known when this was allowed.
    """
    is_later = down.seq > record.seq if down.site == record.site else down.at > record.at
    return is_later and (down.hand, down.competency) == (record.hand, body.competency)


def _name(desk: Desk, hand: str) -> str:
    person = desk.store.person(hand)
    return person.name if person is not None else hand
