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

__all__ = ["marks", "marks_of"]

_LOOKED_BACK = 366


def marks(desk: Desk) -> list[Mark]:
    """Two who signed each other off within 30 days, and competence on one person's word: the marks of the last year."""
    may.require(desk, "signing_off.marks")
    voids = desk.store.voids()
    records = (each for each in desk.store.records(kinds=("observation",)) if each.record_id not in voids)
    return _recent(desk, signoffs.marks(watch for record in records for watch in _watches(desk, record)))


def marks_of(desk: Desk, hand: str, competency: str) -> list[Mark]:
    """The marks of one cell: about ``hand``, as one of two or as the last of a chain.

    It reads the watches of that hand, of whoever watched him, of whoever watched those, and so on: no others matter.
    """
    may.require(desk, "signing_off.marks_of")
    voids, known = desk.store.voids(), set[str]()
    found: list[Watch] = []
    to_read = [hand]
    while to_read:
        person = to_read.pop()
        known.add(person)
        records = desk.store.records(kinds=("observation",), hand=person)
        own = [each for record in records if record.record_id not in voids for each in _watches(desk, record)]
        found += [each for each in own if each.competency == competency]
        to_read += {each.observer for each in own if each.competency == competency} - known - {*to_read}
    return _recent(desk, [each for each in signoffs.marks(found) if _is_about(each, hand)])


def _recent(desk: Desk, found: list[Mark]) -> list[Mark]:
    """Those that are not a year old: what was watched before that has run out, or somebody has watched since."""
    return [each for each in found if (desk.today - each.day).days <= _LOOKED_BACK]


def _is_about(mark: Mark, hand: str) -> bool:
    return hand in mark.people if mark.kind == "mutual" else mark.people[-1] == hand


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
