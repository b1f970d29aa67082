"""Which sign-offs want another pair of eyes, read from the ledger; nothing is written here."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from trainer.actions import may
from trainer.actions.desk import Desk
from trainer.core import signoffs
from trainer.core.checklists import Checklist
from trainer.core.observation import PRACTICE, observed_competencies
from trainer.core.records import Observation, Record
from trainer.core.signoffs import Mark, Watch

__all__ = ["marks"]


def marks(desk: Desk) -> list[Mark]:
    """Two who signed each other off within 30 days, and competence on one person's word, over all records."""
    may.require(desk, "signing_off.marks")
    voids = desk.store.voids()
    records = (each for each in desk.store.records(kinds=("observation",)) if each.record_id not in voids)
    return signoffs.marks(watch for record in records for watch in _watches(desk, record))


def _watches(desk: Desk, record: Record) -> Iterator[Watch]:
    body = record.body
    if not isinstance(body, Observation) or record.hand is None:
        return
    for competency, outcome in _judged(body, desk.catalogue.checklists.get(body.checklist)).items():
        day = date.fromisoformat(body.held)
        yield Watch(record.hand, body.observer, competency, day, body.tour, body.purpose, outcome)


def _judged(body: Observation, checklist: Checklist | None) -> dict[str, str]:
    """Each competency watched with its outcome; practice, which has none, by the steps observed."""
    if body.purpose != PRACTICE:
        return dict(body.outcomes)
    return dict.fromkeys(observed_competencies(checklist, body.steps), "") if checklist else {}
