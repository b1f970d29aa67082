"""Whom an observer can choose, what he does not hold himself, and what his signed sheet came to."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from tests.unit.actions.rig import PINS, Rig
from tests.unit.assessment import samples
from trainer.actions import reinstating, watched, watching
from trainer.actions.sheets import Details
from trainer.core.catalogue import Practical
from trainer.core.checklists import Checklist
from trainer.core.durations import Duration
from trainer.errors import NotFound, Refused

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


def test_who_brings_back_is_told_the_steps_of_the_sheet_that_took_off(rig: Rig) -> None:
    dee = rig.by("dee")
    dee.hold("ana", "hands", date(2026, 2, 1))
    record = watching.commit(dee.desk, sheet_id(dee, "not met"), PINS["dee"], None, watching.NOT_PRESENT)
    # An observer who is a hand himself sees nothing else of hers.
    offer = reinstating.offer(rig.by("ben").desk, "ana")
    assert offer is not None
    (down,) = offer.downs
    assert (down.competency, down.day, down.by) == ("hands", record.day, "Dee")
    assert [seen.state for _, seen in down.steps] == ["not met"]
    assert down.steps[0] in watched.missed(dee.desk, record.record_id, "hands")


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


def split(rig: Rig) -> Rig:
    """The same with three more sheets: lifting on a sheet of its own, and two that nobody is watched with."""
    spare = Checklist("spare", samples.text("Spare"), ())
    sheets = {name: replace(spare, id=name) for name in ("other", "lift")} | dict(rig.catalogue.checklists)
    calls, hands, lifting = rig.catalogue.competencies
    own = replace(lifting, needs=replace(lifting.needs, practical=Practical("lift", Duration(months=12))))
    return rig.with_catalogue(replace(rig.catalogue, competencies=(calls, hands, own), checklists=sheets))


def test_the_sheets_that_a_hand_still_needs_come_first_with_what_for(rig: Rig) -> None:
    dee = split(rig.by("dee"))
    # From outside it holds 90 days: on March 2 lifting is good for a while yet, the two others were never seen.
    dee.hold("ana", "lifting", date(2026, 2, 1))
    found = watched.offered(dee.desk, "ana")
    assert [(each.checklist.id, each.needed, each.missing, each.is_wanted) for each in found] == [
        ("connections", ("calls", "hands"), ("calls", "hands"), True),
        ("lift", ("lifting",), (), False),
        ("other", (), (), False),
    ]


def test_what_falls_due_and_what_ran_out_is_told_with_its_day(rig: Rig) -> None:
    dee = split(rig.by("dee"))
    for competency, day in (("lifting", date(2025, 12, 20)), ("calls", date(2025, 11, 1)), ("hands", TODAY)):
        dee.hold("ana", competency, day)
    by_id = {each.checklist.id: each for each in watched.offered(dee.desk, "ana")}
    assert (by_id["lift"].due, by_id["lift"].day) == (("lifting",), date(2026, 3, 20))
    assert (by_id["connections"].ran_out, by_id["connections"].day) == (("calls",), date(2026, 1, 30))
    # The one that is past its date comes before the one that is not.
    assert list(by_id) == ["connections", "lift", "other"]


def test_a_hand_who_observes_is_told_what_the_position_needs_and_not_what_another_lacks(rig: Rig) -> None:
    found = watched.offered(split(rig.by("ben")).desk, "ana")
    assert [each.needed for each in found] == [("calls", "hands"), ("lifting",), ()]
    assert not any(each.is_wanted for each in found)


def test_what_kept_a_watch_from_clean_is_told_with_its_notes_to_those_who_may_see_it(rig: Rig) -> None:
    dee = rig.by("dee")
    made = sheet_id(dee, "not met")
    watching.tick(dee.desk, made, "hands-out", "not met", own_act=False, note="Pushed from behind")
    record = watching.commit(dee.desk, made, PINS["dee"], None, watching.NOT_PRESENT)
    told = watched.missed(dee.desk, record.record_id, "hands")
    (step, seen) = next(each for each in told if each[0].id == "hands-out")
    assert (step.critical, seen.state, seen.own_act, seen.note) == (True, "not met", False, "Pushed from behind")
    assert watched.missed(rig.by("ana").desk, record.record_id, "hands") == told
    with pytest.raises(Refused):
        watched.missed(rig.by("ben").desk, record.record_id, "hands")
    assert watched.missed(dee.desk, "nothing", "hands") == ()
