"""Sign-offs that want another pair of eyes are read from the ledger, for leaders only."""

from __future__ import annotations

from datetime import date

import pytest

from tests.unit.actions.rig import PINS, Rig
from tests.unit.actions.test_watching import CLEAN, ticked
from trainer.actions import signing_off, voiding, watching
from trainer.core.records import Record
from trainer.core.signoffs import Mark
from trainer.errors import Refused


def watched(rig: Rig, observer: str, purpose: str, day: int) -> Record:
    """Ana watched in February."""
    by = rig.by(observer)
    states = {step: state for step, state in CLEAN.items() if step.startswith("hands")}
    sheet = ticked(by, states, purpose=purpose, held=date(2026, 2, day))
    return watching.commit(by.desk, sheet.sheet_id, PINS[observer], PINS["ana"])


def test_who_trained_a_hand_and_alone_signed_him_off_is_marked(rig: Rig) -> None:
    watched(rig, "dee", "practice", 10)
    clean = watched(rig, "dee", "assessment", 12)
    assert signing_off.marks(rig.by("cy").desk) == [
        Mark("trained-by-observer", "hands", ("dee", "ana"), date(2026, 2, 12))
    ]
    voiding.void(rig.by("cy").desk, clean.record_id, "wrong sheet")
    assert signing_off.marks(rig.by("cy").desk) == []


def test_a_second_observer_clears_the_mark(rig: Rig) -> None:
    watched(rig, "dee", "practice", 10)
    watched(rig, "dee", "assessment", 12)
    watched(rig, "ben", "assessment", 14)
    assert signing_off.marks(rig.by("cy").desk) == []


def test_a_mark_belongs_to_the_cell_of_the_hand_that_it_is_about(rig: Rig) -> None:
    watched(rig, "dee", "practice", 10)
    watched(rig, "dee", "assessment", 12)
    marks = signing_off.marks(rig.by("cy").desk)
    assert signing_off.marks_of(rig.by("dee").desk, "ana", "hands") == marks
    assert signing_off.marks_of(rig.by("dee").desk, "ana", "calls") == []
    assert signing_off.marks_of(rig.by("dee").desk, "dee", "hands") == []


def test_a_mark_is_told_for_a_year(rig: Rig) -> None:
    watched(rig, "dee", "practice", 10)
    watched(rig, "dee", "assessment", 12)
    for days, count in ((340, 1), (360, 0)):
        later = rig.by("cy").later(days=days).desk
        assert len(signing_off.marks(later)) == len(signing_off.marks_of(later, "ana", "hands")) == count


def test_a_hand_sees_no_marks(rig: Rig) -> None:
    with pytest.raises(Refused):
        signing_off.marks(rig.desk)
