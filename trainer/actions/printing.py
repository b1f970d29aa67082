"""What printed sheets read and no screen does: a signed watch with every word on it, and the ends of the ledgers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from trainer.actions import may
from trainer.actions.desk import Desk
from trainer.actions.look import Voided, told_void
from trainer.core.records import Observation, Record, StoodDown
from trainer.errors import NotFound
from trainer.store import Head

__all__ = ["Watch", "heads", "watch"]


@dataclass(frozen=True, slots=True)
class Watch:
    """A signed watch. ``names`` gives everybody named on it who was not erased, ``notes`` the words of step notes.

    ``stood_down`` are the competencies that the hand was stood down for with it.
    """

    record: Record
    body: Observation
    names: Mapping[str, str]
    note: str
    notes: Mapping[str, str]
    stood_down: tuple[str, ...]
    voided: Voided | None


def watch(desk: Desk, record_id: str) -> Watch:
    """The watch written as that record. Raises ``NotFound("no-record")``, ``Refused("not-yours")``."""
    may.require(desk, "printing.watch")
    record = desk.store.record(record_id)
    if record is None or record.hand is None or not isinstance(record.body, Observation):
        raise NotFound("no-record", record=record_id)
    may.require_rows_of(desk, record.hand)
    body = record.body
    downs = (each.body for each in desk.store.records(kinds=("stood-down",), hand=record.hand))
    return Watch(
        record=record,
        body=body,
        names=_names(desk, record.hand, body),
        note=_text(desk, body.note),
        notes={each.step: _text(desk, each.note) for each in body.steps if each.note},
        stood_down=tuple(
            each.competency for each in downs if isinstance(each, StoodDown) and each.observation == record_id
        ),
        voided=told_void(desk, desk.store.voids().get(record_id)),
    )


def heads(desk: Desk) -> tuple[Head, ...]:
    """The last record of each site's chain, which every sheet names: a hand's own card too."""
    may.require(desk, "printing.heads")
    return desk.store.heads()


def _names(desk: Desk, hand: str, body: Observation) -> Mapping[str, str]:
    people = desk.store.people()
    named = (hand, body.observer, body.brake, *(each.hand for each in body.signatures))
    return {each: people[each].name for each in named if each in people}


def _text(desk: Desk, key: str | None) -> str:
    return (desk.store.text(key) if key else None) or ""
