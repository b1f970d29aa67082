"""A watch is kept at every tap, judged competency by competency, and signed by those who must."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from tests.unit.actions.rig import PINS, Rig
from tests.unit.assessment import samples
from trainer.actions import signing_in, watching
from trainer.actions.reinstating import stand_down
from trainer.actions.sheets import Details, Sheet
from trainer.actions.watching import DECLINED, NOT_PRESENT
from trainer.core.checklists import Condition
from trainer.core.columns import evidence_columns
from trainer.core.records import Effect, Joined, Observation, Part, Record, StoodDown
from trainer.core.standing import is_stood_down
from trainer.errors import BadInput, NotFound, Refused

CLEAN = {"calls-given": "met", "hands-handles": "met", "hands-out": "met", "hands-gloves": "met after prompt"}
MISSED = CLEAN | {"hands-out": "not met"}
TODAY = date(2026, 3, 2)


def ticked(rig: Rig, states: Mapping[str, str] = CLEAN, **changes: Any) -> Sheet:  # noqa: ANN401 - fields of Details
    """Ana's sheet with these steps, the toolpusher at the brake."""
    sheet = watching.open_sheet(rig.desk, "connections", "ana")
    for step, state in states.items():
        watching.tick(rig.desk, sheet.sheet_id, step, state)
    details = Details(rig.actor, TODAY, overall="yes", brake="tom")
    return watching.fill(rig.desk, sheet.sheet_id, replace(details, **changes))


def signed(
    rig: Rig,
    sheet: Sheet,
    *,
    observer_pin: str | None = None,
    hand_pin: str | None = PINS["ana"],
    hand_present: str = watching.SIGNED,
) -> Record:
    """The sheet signed by both, the observer with his own PIN when no other is given."""
    pin = observer_pin or PINS[sheet.details.observer]
    return watching.commit(rig.desk, sheet.sheet_id, pin, hand_pin, hand_present, "tablet")


def body_of(record: Record) -> Observation:
    """The record's body."""
    assert isinstance(record.body, Observation)
    return record.body


def is_down(rig: Rig, competency: str, hand: str = "ana") -> bool:
    """Whether that hand is stood down today."""
    return is_stood_down(evidence_columns(rig.store.evidence_rows()), hand, competency, TODAY)


@pytest.fixture
def dee(rig: Rig) -> Rig:
    """The rig with the driller signed in."""
    return rig.by("dee")


def test_a_clean_watch_is_evidence_for_each_competency_observed(dee: Rig) -> None:
    record = signed(dee, ticked(dee))
    body = body_of(record)
    assert body.outcomes == {"calls": "clean", "hands": "clean"}
    assert [(each.hand, each.role) for each in body.signatures] == [("dee", "observer"), ("ana", "hand")]
    rows = [row for row in dee.store.evidence_rows(hands=("ana",)) if row.record_id == record.record_id]
    assert [(row.competency, row.part, row.effect, row.by) for row in rows] == [
        ("calls", Part.PRACTICAL, Effect.PASS, "dee"),
        ("hands", Part.PRACTICAL, Effect.PASS, "dee"),
    ]
    assert dee.store.drafts(owner="dee") == ()
    assert dee.store.verify() == []


def test_a_clean_one_takes_both_pins(dee: Rig) -> None:
    sheet = ticked(dee)
    assert watching.preview(dee.desk, sheet.sheet_id).needs_hand_pin
    for hand_present in watching.HAND_PRESENT:
        with pytest.raises(Refused) as caught:
            signed(dee, sheet, hand_pin=None, hand_present=hand_present)
        assert caught.value.code == "hand-pin-needed"


def test_not_yet_commits_on_the_observers_pin_alone(dee: Rig) -> None:
    sheet = ticked(dee, {"hands-handles": "met after prompt", "hands-out": "met"}, overall="no")
    with pytest.raises(Refused):
        signed(dee, sheet, hand_pin=None)
    body = body_of(signed(dee, sheet, hand_pin=None, hand_present=NOT_PRESENT))
    assert body.outcomes == {"hands": "not yet"}
    assert body.hand_present == NOT_PRESENT
    assert [each.role for each in body.signatures] == ["observer"]


def test_a_hand_who_declines_stops_no_stand_down_and_gets_no_clean_one(dee: Rig) -> None:
    dee.hold("ana", "hands", date(2026, 2, 1))
    sheet = ticked(dee, MISSED, overall="no")
    body = body_of(signed(dee, sheet, hand_pin=None, hand_present=DECLINED))
    assert body.outcomes == {"hands": "not yet"}
    assert is_down(dee, "hands")


def test_a_critical_step_missed_stands_down_a_hand_who_held_it_in_the_same_breath(dee: Rig) -> None:
    dee.hold("ana", "hands", date(2026, 2, 1))
    sheet = ticked(dee, MISSED, overall="no")
    assert watching.preview(dee.desk, sheet.sheet_id).stand_down == ("hands",)
    record = signed(dee, sheet)
    (down,) = dee.store.records(kinds=("stood-down",))
    assert isinstance(down.body, StoodDown)
    assert (down.body.competency, down.body.observation, down.body.observer) == ("hands", record.record_id, "dee")
    assert (down.seq, down.day) == (record.seq + 1, record.day)
    assert is_down(dee, "hands")
    assert not is_down(dee, "calls")


def test_a_critical_step_missed_by_a_hand_who_never_held_it_is_simply_not_yet(dee: Rig) -> None:
    sheet = ticked(dee, MISSED, overall="no")
    assert watching.preview(dee.desk, sheet.sheet_id).stand_down == ()
    assert body_of(signed(dee, sheet)).outcomes["hands"] == "not yet"
    assert list(dee.store.records(kinds=("stood-down",))) == []


def test_a_hand_stood_down_who_passed_again_and_misses_again_is_stood_down_again(dee: Rig) -> None:
    dee.hold("ana", "hands", date(2026, 1, 10))
    stand_down(dee.by("ben").desk, "ana", "hands", "hand on the pipe")
    dee.hold("ana", "hands", dee.desk.today)
    sheet = ticked(dee.by("dee"), MISSED, overall="no")
    assert watching.preview(dee.by("dee").desk, sheet.sheet_id).stand_down == ("hands",)


def test_a_practical_part_that_has_run_out_stands_nobody_down(dee: Rig) -> None:
    dee.hold("ana", "hands", date(2025, 11, 1))
    sheet = ticked(dee, MISSED, overall="no")
    assert watching.preview(dee.desk, sheet.sheet_id).stand_down == ()


def test_a_miss_that_was_not_the_hands_own_act_stands_nobody_down(dee: Rig) -> None:
    dee.hold("ana", "hands", date(2026, 2, 1))
    sheet = ticked(dee, MISSED, overall="no")
    watching.tick(dee.desk, sheet.sheet_id, "hands-out", "not met", own_act=False, note="slips dropped early")
    body = body_of(signed(dee, sheet))
    assert body.outcomes["hands"] == "not yet"
    assert not is_down(dee, "hands")
    (step,) = [each for each in body.steps if each.step == "hands-out"]
    assert step.note != "slips dropped early"
    assert dee.store.text(step.note or "") == "slips dropped early"


def test_practice_is_never_evidence_and_stands_nobody_down(dee: Rig) -> None:
    dee.hold("ana", "hands", date(2026, 2, 1))
    before = dee.store.evidence_rows()
    sheet = ticked(dee, MISSED, purpose="practice", overall="", brake="")
    body = body_of(signed(dee, sheet, hand_pin=None, hand_present=NOT_PRESENT))
    assert body.outcomes == {}
    assert dee.store.evidence_rows() == before
    assert not is_down(dee, "hands")


def test_a_wrong_pin_loses_nothing(dee: Rig) -> None:
    sheet = ticked(dee)
    with pytest.raises(Refused) as caught:
        signed(dee, sheet, observer_pin="000111")
    assert caught.value.code == "pin-wrong"
    with pytest.raises(Refused) as caught:
        signed(dee, sheet, hand_pin="000111")
    assert caught.value.code == "pin-wrong"
    assert watching.sheet(dee.desk, sheet.sheet_id) == sheet
    assert list(dee.store.records(kinds=("observation",))) == []
    assert signed(dee, sheet).record_id == sheet.sheet_id


def test_signing_twice_writes_one_record_and_one_stand_down(dee: Rig) -> None:
    dee.hold("ana", "hands", date(2026, 2, 1))
    sheet = ticked(dee, MISSED, overall="no")
    first = signed(dee, sheet)
    assert signed(dee.later(minutes=1), sheet) == first
    assert len(list(dee.store.records(kinds=("observation", "stood-down")))) == 2


def test_a_sheet_is_kept_at_every_tap_and_found_again(dee: Rig) -> None:
    sheet = watching.open_sheet(dee.desk, "connections", "ana")
    watching.tick(dee.desk, sheet.sheet_id, "calls-given", "met")
    watching.tick(dee.desk, sheet.sheet_id, "calls-given", "not met")
    again = watching.open_sheet(dee.later(hours=1).desk, "connections", "ana")
    assert again.sheet_id == sheet.sheet_id
    assert [(each.step, each.state) for each in again.steps] == [("calls-given", "not met")]
    assert watching.sheets(dee.desk) == (again,)
    assert watching.sheets(dee.by("ben").desk) == ()


def test_a_practice_sheet_does_not_reopen_an_assessment(dee: Rig) -> None:
    one = watching.open_sheet(dee.desk, "connections", "ana")
    assert watching.open_sheet(dee.desk, "connections", "ana", "practice").sheet_id != one.sheet_id


def test_a_sheet_thrown_away_is_gone(dee: Rig) -> None:
    sheet = ticked(dee)
    watching.drop(dee.by("ben").desk, sheet.sheet_id)
    assert watching.sheets(dee.desk) != ()
    watching.drop(dee.desk, sheet.sheet_id)
    assert watching.sheets(dee.desk) == ()
    with pytest.raises(NotFound):
        signed(dee, sheet)


def test_nobody_signs_for_himself(dee: Rig) -> None:
    with pytest.raises(Refused) as caught:
        watching.open_sheet(dee.desk, "connections", "dee")
    assert caught.value.code == "observer-is-hand"
    sheet = ticked(dee, observer="ana")
    with pytest.raises(Refused) as caught:
        watching.commit(dee.desk, sheet.sheet_id, PINS["ana"], PINS["ana"])
    assert caught.value.code == "observer-is-hand"


@pytest.mark.parametrize("changes", [{"brake": "dee"}, {"job": "slips"}, {"job": "derrick"}, {"job": "brake"}])
def test_an_observer_with_another_job_is_refused(dee: Rig, changes: dict[str, Any]) -> None:
    with pytest.raises(Refused) as caught:
        signed(dee, ticked(dee, **changes))
    assert caught.value.code == "observer-has-job"


def test_a_position_that_does_not_observe_is_refused_for_an_assessment_only(rig: Rig) -> None:
    office = rig.by("cy")
    with pytest.raises(Refused) as caught:
        signed(office, ticked(office))
    assert caught.value.code == "observer-position"
    practice = ticked(office, purpose="practice")
    assert body_of(signed(office, practice)).purpose == "practice"


def test_who_came_after_the_tour_began_is_told_that_and_not_that_his_position_is_wrong(rig: Rig) -> None:
    # 08:00 at the site: the last night tour began on 1 March, the day on which the watch counts.
    rig.write(Joined("night-1", "floorhand"), "ben", date(2026, 2, 25))
    rig.write(Joined("night-1", "derrickhand"), "ben", date(2026, 3, 2))
    by = rig.by("ben")
    assert watching.open_sheet(by.desk, "connections", "ana").details.held == date(2026, 3, 1)
    sheet = ticked(by, held=date(2026, 3, 1))
    found = watching.preview(by.desk, sheet.sheet_id).problems
    assert [(each.code, each.values) for each in found] == [("observer-not-then", {"day": date(2026, 3, 1)})]


def test_a_derrickhand_observes_by_his_position(rig: Rig) -> None:
    ben = rig.by("ben")
    assert body_of(signed(ben, ticked(ben))).observer == "ben"


def test_an_observer_must_hold_what_he_judges_on_that_day(dee: Rig) -> None:
    early = ticked(dee, held=date(2026, 1, 20))
    problems = watching.preview(dee.desk, early.sheet_id).problems
    assert [(each.code, each.values) for each in problems] == [
        ("observer-not-holding", {"competency": "calls"}),
        ("observer-not-holding", {"competency": "hands"}),
    ]
    with pytest.raises(Refused):
        signed(dee, early)
    watching.fill(dee.desk, early.sheet_id, replace(early.details, held=date(2026, 2, 1)))
    assert watching.preview(dee.desk, early.sheet_id).problems == ()


def test_paper_typed_in_later_counts_on_the_day_of_the_watch(dee: Rig) -> None:
    record = signed(dee, ticked(dee, held=date(2026, 2, 20), tour="06:00-18:00"))
    body = body_of(record)
    assert record.day == date(2026, 2, 20)
    assert (body.held, body.tour, body.entered) == ("2026-02-20", "06:00-18:00", "2026-03-02")


def test_a_watch_after_midnight_counts_on_the_day_the_tour_began(dee: Rig) -> None:
    # 14:00 UTC is 08:00 at the site; 18 hours later it is 02:00 of 3 March, in the night tour of 2 March.
    night = watching.open_sheet(dee.later(hours=18).desk, "connections", "ana")
    assert (night.details.held, night.details.tour) == (date(2026, 3, 2), "18:00-06:00")


def test_no_watch_is_held_in_the_future(dee: Rig) -> None:
    with pytest.raises(BadInput) as caught:
        ticked(dee, held=date(2026, 3, 3))
    assert caught.value.code == "sheet-future"


def test_what_is_missing_on_the_sheet_is_said_before_signing(dee: Rig) -> None:
    empty = watching.open_sheet(dee.desk, "connections", "ana")
    codes = {each.code for each in watching.preview(dee.desk, empty.sheet_id).problems}
    assert codes == {"sheet-empty", "sheet-overall-missing", "sheet-brake-missing"}
    with pytest.raises(BadInput):
        signed(dee, empty)


def test_not_applicable_needs_its_reason_before_signing(dee: Rig) -> None:
    sheet = ticked(dee, CLEAN | {"hands-gloves": "not applicable"})
    with pytest.raises(BadInput) as caught:
        signed(dee, sheet)
    assert caught.value.code == "step-needs-reason"
    watching.tick(dee.desk, sheet.sheet_id, "hands-gloves", "not applicable", note="no gloves on this job")
    assert body_of(signed(dee, sheet)).outcomes["hands"] == "clean"


@pytest.mark.parametrize(("step", "state"), [("nothing", "met"), ("hands-out", "perfect")])
def test_a_step_or_state_that_is_not_on_the_sheet_is_refused(dee: Rig, step: str, state: str) -> None:
    sheet = watching.open_sheet(dee.desk, "connections", "ana")
    with pytest.raises(BadInput):
        watching.tick(dee.desk, sheet.sheet_id, step, state)


@pytest.mark.parametrize(
    "changes",
    [{"purpose": "fun"}, {"overall": "maybe"}, {"job": "tea"}, {"tour": "nights with Bob"}, {"conditions": {"x": "y"}}],
)
def test_free_text_has_no_way_into_the_ledger(dee: Rig, changes: dict[str, Any]) -> None:
    with pytest.raises(BadInput):
        ticked(dee, **changes)


@pytest.mark.parametrize("typed", ["0", "5000", "-3", "200.5"])
def test_a_number_that_cannot_be_right_is_kept_and_stands_against_signing(dee: Rig, typed: str) -> None:
    sets = Condition("sets", samples.text("Sets"), least="1", most="200")
    sheet = replace(samples.checklist(), conditions=(sets,))
    rig = dee.with_catalogue(replace(dee.catalogue, checklists={"connections": sheet}))
    made = ticked(rig, conditions={"sets": typed})
    assert watching.sheet(rig.desk, made.sheet_id).details.conditions == {"sets": typed}
    (problem,) = watching.preview(rig.desk, made.sheet_id).problems
    assert (problem.code, problem.values["least"], problem.values["most"]) == ("sheet-range", "1", "200")
    with pytest.raises(BadInput) as caught:
        signed(rig, made)
    assert caught.value.code == "sheet-range"
    watching.fill(rig.desk, made.sheet_id, replace(made.details, conditions={"sets": "200"}))
    assert body_of(signed(rig, made)).conditions == {"sets": "200"}


def test_an_unknown_person_at_the_brake_is_refused_and_a_stranger_has_a_word(dee: Rig) -> None:
    sheet = ticked(dee, brake="Bob")
    assert [each.code for each in watching.preview(dee.desk, sheet.sheet_id).problems] == ["no-hand"]
    watching.fill(dee.desk, sheet.sheet_id, replace(sheet.details, brake="somebody-else"))
    assert watching.preview(dee.desk, sheet.sheet_id).problems == ()


def test_an_overall_judgement_against_the_steps_asks_for_a_second_look_and_stops_nothing(dee: Rig) -> None:
    sheet = ticked(dee, overall="no")
    assert watching.preview(dee.desk, sheet.sheet_id).notices == ("clean-but-not-alone",)
    assert body_of(signed(dee, sheet)).overall == "no"


def test_a_second_watch_in_one_tour_is_pointed_out(dee: Rig) -> None:
    signed(dee, ticked(dee, tour="18:00-06:00"))
    second = ticked(dee, tour="18:00-06:00")
    assert watching.preview(dee.desk, second.sheet_id).notices == ("second-in-tour",)


def test_a_stop_called_is_noted_in_the_hands_favour(dee: Rig) -> None:
    assert body_of(signed(dee, ticked(dee, stop_called=True))).stop_called


def test_a_sheet_changed_while_the_pins_were_typed_is_not_signed(dee: Rig, monkeypatch: pytest.MonkeyPatch) -> None:
    sheet = ticked(dee)

    def meanwhile(*_: object) -> None:
        watching.tick(dee.desk, sheet.sheet_id, "hands-out", "not met")

    monkeypatch.setattr(signing_in, "check_pin", meanwhile)
    with pytest.raises(Refused) as caught:
        signed(dee, sheet)
    assert caught.value.code == "sheet-changed"


def test_an_unknown_sheet_or_hand_is_not_found(dee: Rig) -> None:
    with pytest.raises(NotFound):
        watching.open_sheet(dee.desk, "nothing", "ana")
    with pytest.raises(NotFound):
        watching.open_sheet(dee.desk, "connections", "nobody")


def test_the_observer_signs_first_and_the_hand_after_him(dee: Rig) -> None:
    sheet = watching.sign(dee.desk, ticked(dee).sheet_id, PINS["dee"], "tablet")
    record = watching.commit(dee.later(minutes=9).desk, sheet.sheet_id, None, PINS["ana"])
    assert [each.role for each in body_of(record).signatures] == ["observer", "hand"]


def test_the_observers_pin_does_not_stand_for_long_nor_after_a_change_nor_alone(dee: Rig) -> None:
    sheet = watching.sign(dee.desk, ticked(dee).sheet_id, PINS["dee"])
    with pytest.raises(Refused, match="observer-pin-needed"):
        watching.commit(dee.later(minutes=11).desk, sheet.sheet_id, None, PINS["ana"])
    watching.tick(dee.desk, sheet.sheet_id, "hands-out", "not met")
    with pytest.raises(Refused, match="observer-pin-needed"):
        watching.commit(dee.desk, sheet.sheet_id, None, PINS["ana"])
    watching.sign(dee.desk, sheet.sheet_id, PINS["dee"])
    with pytest.raises(Refused, match="observer-pin-needed"):
        watching.commit(dee.desk, sheet.sheet_id, None, None, DECLINED)
    assert list(dee.store.records(kinds=("observation",))) == []


def test_a_wrong_observer_pin_or_a_problem_signs_nothing(dee: Rig) -> None:
    sheet = ticked(dee)
    with pytest.raises(Refused, match="pin-wrong"):
        watching.sign(dee.desk, sheet.sheet_id, "000111")
    problem = ticked(dee, job="slips")
    with pytest.raises(Refused, match="observer-has-job"):
        watching.sign(dee.desk, problem.sheet_id, PINS["dee"])
    assert not watching.sheet(dee.desk, sheet.sheet_id).signed
