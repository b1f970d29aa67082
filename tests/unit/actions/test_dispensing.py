"""Allowed for a tour or a hitch by two PINs; shown, ended, void; never standing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from functools import partial

import pytest

from tests.unit.actions.rig import CATALOGUE, PINS, Rig
from trainer.actions import dispensed, dispensing, look, reinstating, voiding
from trainer.actions.dispensing import HITCH, TOUR, Form
from trainer.core.catalogue import Rotation
from trainer.core.matrix import Standing
from trainer.core.records import Dispensation, Record
from trainer.errors import BadInput, NotFound, Refused, TrainerError

# The rig stands at 08:00 of 2 March at the site; Ana's tour is 18:00 to 06:00. Her hitch ends on 10 March.
CREWS = {**CATALOGUE.site.crews, "night-1": Rotation(date(2026, 2, 25), 14, 14, "18:00-06:00")}
ON_HITCH = replace(CATALOGUE, site=replace(CATALOGUE.site, crews=CREWS))
CONDITIONS = "Only beside Koval, not on the collars"


@pytest.fixture
def dee(rig: Rig) -> Rig:
    """The driller of Ana's crew, which works to a rotation."""
    return rig.with_catalogue(ON_HITCH).by("dee")


def filled(rig: Rig, lasts: str = TOUR, conditions: str = CONDITIONS) -> Form:
    """Ana's form for hands, with the two who allow it."""
    made = dispensing.open_form(rig.desk, "ana", "hands")
    return dispensing.fill(rig.desk, made.form_id, lasts=lasts, conditions=conditions, pusher="tom", coordinator="cy")


def given(rig: Rig, lasts: str = TOUR) -> Record:
    """Ana allowed to work hands."""
    made = filled(rig, lasts)
    dispensing.sign(rig.desk, made.form_id, PINS["tom"], "tablet")
    return dispensing.commit(rig.desk, made.form_id, PINS["cy"], "tablet")


def states(rig: Rig, as_of: date | None = None) -> list[tuple[str, str, str]]:
    """Whatever is shown beside a standing."""
    return [(each.hand, each.competency, each.state) for each in dispensed.shown(rig.desk, as_of)]


def refusal(act: Callable[[], object]) -> str:
    """The code with which it is refused."""
    with pytest.raises(TrainerError) as caught:
        act()
    return caught.value.code


def test_two_pins_write_one_record_and_no_standing(dee: Rig) -> None:
    record = given(dee)
    body = record.body
    assert isinstance(body, Dispensation)
    assert (record.hand, record.by, body.pusher, body.coordinator) == ("ana", "dee", "tom", "cy")
    assert (body.competency, body.lasts, body.until, body.tour) == ("hands", "tour", "2026-03-02", "18:00-06:00")
    assert dee.store.text(body.conditions) == CONDITIONS
    assert dee.store.evidence_rows(hands=("ana",)) == []
    cells = {cell.competency: cell.standing for cell in look.card(dee.desk, "ana").cells}
    assert cells["hands"] is Standing.NOT_STARTED
    assert dee.store.verify() == []
    assert dee.store.drafts(kind=dispensing.KIND) == ()


def test_it_ends_with_the_tour_or_the_hitch(dee: Rig) -> None:
    given(dee)
    assert states(dee) == states(dee.later(hours=21, minutes=59)) == [("ana", "hands", "runs")]
    assert states(dee.later(hours=22)) == []
    given(dee.later(hours=23), HITCH)
    assert states(dee.later(days=8)) == [("ana", "hands", "runs")]
    assert states(dee.later(days=10)) == []


def test_on_another_day_it_is_shown_as_it_was(dee: Rig) -> None:
    given(dee, HITCH)
    assert [bool(states(dee, date(2026, 3, day))) for day in (1, 2, 3, 10, 11)] == [False, True, True, True, False]


def test_one_given_after_midnight_is_for_the_tour_that_began_the_day_before(dee: Rig) -> None:
    night = dee.later(hours=18)
    body = given(night).body
    assert isinstance(body, Dispensation)
    assert body.until == "2026-03-02"
    assert states(night) == [("ana", "hands", "runs")]
    assert states(night.later(days=30), date(2026, 3, 3)) == []


def test_the_coordinator_puts_his_pin_after_the_toolpusher_and_within_ten_minutes(dee: Rig) -> None:
    made = filled(dee)
    commit = dispensing.commit
    assert refusal(lambda: commit(dee.desk, made.form_id, PINS["cy"])) == "dispense-pusher-first"
    assert refusal(lambda: dispensing.sign(dee.desk, made.form_id, PINS["cy"])) == "pin-wrong"
    dispensing.sign(dee.desk, made.form_id, PINS["tom"])
    assert refusal(lambda: commit(dee.desk, made.form_id, PINS["tom"])) == "pin-wrong"
    late = dee.later(minutes=11)
    assert refusal(lambda: commit(late.desk, made.form_id, PINS["cy"])) == "dispense-pusher-first"
    assert list(dee.store.records(kinds=("dispensation",))) == []


def test_a_change_takes_the_toolpushers_pin_off_again(dee: Rig) -> None:
    made = filled(dee)
    assert dispensing.sign(dee.desk, made.form_id, PINS["tom"]).is_signed(dee.now)
    filled(dee, HITCH)
    assert not dispensing.form(dee.desk, made.form_id).is_signed(dee.now)


def test_a_second_press_writes_nothing(dee: Rig) -> None:
    record = given(dee)
    assert dispensing.commit(dee.desk, record.record_id, PINS["cy"]) == record


def test_conditions_are_asked_for(dee: Rig) -> None:
    made = filled(dee, conditions="  ")
    assert refusal(lambda: dispensing.sign(dee.desk, made.form_id, PINS["tom"])) == "dispense-conditions"


@pytest.mark.parametrize(
    "people", [{"pusher": "dee"}, {"pusher": "cy"}, {"coordinator": "tom"}, {"coordinator": "ana"}, {"lasts": "year"}]
)
def test_only_a_toolpusher_and_a_coordinator_can_allow_it_and_only_for_a_tour_or_hitch(
    dee: Rig, people: dict[str, str]
) -> None:
    made = filled(dee)
    values = {"lasts": TOUR, "pusher": "tom", "coordinator": "cy", **people}
    with pytest.raises(BadInput, match="dispense-form"):
        dispensing.fill(dee.desk, made.form_id, conditions=CONDITIONS, **values)


def test_never_for_a_hand_stood_down_nor_one_who_holds_it_nor_oneself(dee: Rig) -> None:
    reinstating.stand_down(dee.desk, "ana", "hands", "hand under the handle")
    dee.hold("ana", "calls", date(2026, 2, 1))
    assert dispensing.offer(dee.desk, "ana", "hands") is None
    assert dispensing.offer(dee.desk, "ana", "lifting") is not None
    opened = [("ana", "hands"), ("ana", "calls"), ("ben", "hands"), ("dee", "hands")]
    refused = [refusal(lambda pair=pair: dispensing.open_form(dee.desk, *pair)) for pair in opened]  # type: ignore[misc]
    assert refused == ["dispense-down", "dispense-holds", "dispense-not-needed", "dispense-himself"]


def test_one_stood_down_meanwhile_is_not_signed_for(dee: Rig) -> None:
    made = filled(dee)
    dispensing.sign(dee.desk, made.form_id, PINS["tom"])
    reinstating.stand_down(dee.desk, "ana", "hands", "hand under the handle")
    assert refusal(lambda: dispensing.commit(dee.desk, made.form_id, PINS["cy"])) == "dispense-down"


def test_a_stand_down_ends_it_at_once_and_bringing_back_does_not_revive_it(dee: Rig) -> None:
    given(dee, HITCH)
    reinstating.stand_down(dee.later(hours=1).desk, "ana", "hands", "hand under the handle")
    assert states(dee.later(hours=1)) == [("ana", "hands", "ended")]
    reinstating.reinstate(dee.by("ben").later(hours=2).desk, "ana", "hands", "walked through it")
    assert states(dee.later(hours=3)) == [("ana", "hands", "ended")]
    given(dee.later(hours=4), HITCH)
    assert states(dee.later(hours=4)) == [("ana", "hands", "runs")]


def test_a_stand_down_for_something_else_ends_nothing(dee: Rig) -> None:
    given(dee)
    reinstating.stand_down(dee.desk, "ana", "calls", "did not answer")
    assert states(dee) == [("ana", "hands", "runs")]


def test_it_can_be_voided_and_is_told_behind_its_cell(dee: Rig) -> None:
    record = given(dee)
    told = look.evidence_of(dee.desk, "ana", "hands")
    assert [(each.kind, each.effect, each.by, each.second, each.note) for each in told] == [
        ("dispensation", "allowed", "Tom", "Cy", CONDITIONS)
    ]
    assert told[0].until == date(2026, 3, 2)
    assert look.evidence_of(dee.desk, "ana", "calls") == []
    assert voiding.offer(dee.desk, record.record_id) is not None
    voiding.void(dee.desk, record.record_id, "wrong hand")
    assert states(dee) == []
    assert look.evidence_of(dee.desk, "ana", "hands")[0].voided is not None


def test_a_hand_sees_his_own_only(dee: Rig) -> None:
    given(dee)
    assert [each.conditions for each in dispensed.of_cell(dee.by("ana").desk, "ana", "hands")] == [CONDITIONS]
    assert dispensed.of_cell(dee.by("ana").desk, "ana", "calls") == ()
    for act in (
        lambda: dispensed.of_cell(dee.by("ben").desk, "ana", "hands"),
        lambda: dispensed.shown(dee.by("ana").desk),
        lambda: dispensing.open_form(dee.by("ben").desk, "ana", "hands"),
    ):
        with pytest.raises(Refused):
            act()


def test_a_crew_on_days_off_is_allowed_nothing_and_one_without_rotation_no_hitch(dee: Rig) -> None:
    assert refusal(lambda: dispensing.open_form(dee.later(days=12).desk, "ana", "hands")) == "dispense-away"
    no_rotation = dispensing.offer(dee.with_catalogue(CATALOGUE).desk, "ana", "hands")
    assert no_rotation is not None
    assert set(no_rotation.until) == {TOUR}


def test_a_form_is_found_again_is_nobody_elses_and_can_be_thrown_away(dee: Rig) -> None:
    made = filled(dee)
    assert dispensing.open_form(dee.desk, "ana", "hands") == made
    with pytest.raises(NotFound):
        dispensing.form(dee.by("tom").desk, made.form_id)
    dispensing.drop(dee.by("tom").desk, made.form_id)
    assert dispensing.form(dee.desk, made.form_id) == made
    dispensing.drop(dee.desk, made.form_id)
    with pytest.raises(NotFound):
        dispensing.form(dee.desk, made.form_id)


def test_a_toolpusher_or_coordinator_who_opens_the_form_is_put_down_as_allowing_it(dee: Rig) -> None:
    assert dispensing.open_form(dee.by("tom").desk, "ana", "hands").pusher == "tom"
    assert dispensing.open_form(dee.by("cy").desk, "ana", "hands").coordinator == "cy"


def test_the_coordinator_puts_his_pin_on_a_screen_of_his_own(dee: Rig) -> None:
    made, cy = filled(dee), dee.by("cy")
    # Before the toolpusher's PIN there is nothing for him to do.
    assert dispensing.waiting(cy.desk) == ()
    dispensing.sign(dee.desk, made.form_id, PINS["tom"], "tablet")

    [waits] = dispensing.waiting(cy.desk)
    assert (waits.form_id, waits.hand, waits.conditions) == (made.form_id, "ana", CONDITIONS)
    assert refusal(lambda: dispensing.commit(cy.desk, made.form_id, PINS["tom"], "shore")) == "pin-wrong"
    record = dispensing.commit(cy.desk, made.form_id, PINS["cy"], "shore")

    assert (record.by, record.record_id) == ("cy", made.form_id)
    assert isinstance(record.body, Dispensation)
    assert (record.body.pusher, record.body.coordinator) == ("tom", "cy")
    assert dispensing.waiting(cy.desk) == ()
    assert dispensing.commit(cy.desk, made.form_id, PINS["cy"], "shore") == record
    assert states(dee) == [("ana", "hands", "runs")]


def test_it_waits_for_nobody_else_and_no_longer_than_the_first_pin_holds(dee: Rig) -> None:
    made = filled(dee)
    dispensing.sign(dee.desk, made.form_id, PINS["tom"], "tablet")
    assert dispensing.waiting(dee.desk) == ()
    assert dispensing.waiting(dee.by("tom").desk) == ()
    assert refusal(lambda: dispensing.form(dee.by("tom").desk, made.form_id)) == "no-draft"
    assert refusal(lambda: dispensing.commit(dee.by("tom").desk, made.form_id, PINS["cy"], "x")) == "no-draft"
    late = replace(dee.by("cy").desk, now=dee.desk.now + timedelta(minutes=11))
    assert dispensing.waiting(late) == ()
    assert refusal(lambda: dispensing.commit(late, made.form_id, PINS["cy"], "shore")) == "dispense-pusher-first"


def test_the_coordinator_changes_nothing_in_a_form_that_another_opened(dee: Rig) -> None:
    made, cy = filled(dee), dee.by("cy").desk
    dispensing.sign(dee.desk, made.form_id, PINS["tom"], "tablet")
    fill = partial(dispensing.fill, cy, made.form_id, lasts=TOUR, conditions="Other", pusher="tom", coordinator="cy")
    assert refusal(fill) == "no-draft"
    dispensing.drop(cy, made.form_id)
    assert dispensing.form(dee.desk, made.form_id).conditions == CONDITIONS
