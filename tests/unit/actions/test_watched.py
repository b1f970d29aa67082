"""Whom an observer can choose, what he does not hold himself, and what his signed sheet came to."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from tests.unit.actions.rig import PINS, Rig
from trainer.actions import watched, watching
from trainer.actions.sheets import Details
from trainer.errors import NotFound

TODAY = date(2026, 3, 2)


def sheet_id(rig: Rig, state: str, purpose: str = "assessment") -> str:
    """Ana's sheet by dee with one critical step in that state."""
    sheet = watching.open_sheet(rig.desk, "connections", "ana", purpose)
    watching.tick(rig.desk, sheet.sheet_id, "hands-out", state)
    details = Details("dee", TODAY, purpose=purpose, overall="no", brake="tom")
    return watching.fill(rig.desk, sheet.sheet_id, details).sheet_id


def test_everybody_in_a_crew_can_be_chosen_and_the_office_cannot(rig: Rig) -> None:
    found = watched.candidates(rig.desk)
    assert [(each.hand, each.crew) for each in found] == [
        ("tom", "day-1"), ("ana", "night-1"), ("ben", "night-1"), ("dee", "night-1"),
    ]  # fmt: skip


def test_a_position_says_who_observes(rig: Rig) -> None:
    assert [name for name in PINS if watched.observes(rig.by(name).desk)] == ["ben", "dee", "tom"]


def test_what_the_observer_does_not_hold_on_the_day_of_the_watch_is_named(rig: Rig) -> None:
    dee = rig.by("dee")
    sheet = watching.sheet(dee.desk, sheet_id(dee, "met"))
    assert watched.lacking(dee.desk, sheet) == ()
    early = replace(sheet, details=replace(sheet.details, held=date(2026, 1, 20)))
    assert watched.lacking(dee.desk, early) == ("calls", "hands", "lifting")
    practice = replace(early, details=replace(early.details, purpose="practice"))
    assert watched.lacking(dee.desk, practice) == ()


def test_a_signed_sheet_tells_what_it_wrote_to_its_observer_only(rig: Rig) -> None:
    dee = rig.by("dee")
    dee.hold("ana", "hands", date(2026, 2, 1))
    record = watching.commit(dee.desk, sheet_id(dee, "not met"), PINS["dee"], None, watching.NOT_PRESENT)
    found = watched.signed(dee.desk, record.record_id)
    assert (found.record, found.stood_down) == (record, ("hands",))
    with pytest.raises(NotFound):
        watched.signed(rig.by("ben").desk, record.record_id)
    with pytest.raises(NotFound):
        watched.signed(dee.desk, "nothing")
