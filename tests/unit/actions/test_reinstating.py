"""Off the slips at once; back only by somebody who may, who says what was done."""

from __future__ import annotations

from datetime import date

import pytest

from tests.unit.actions.rig import PINS, Rig
from trainer.actions import reinstating
from trainer.actions.reinstating import Down, Offer
from trainer.actions.seconds import Second
from trainer.core.columns import evidence_columns
from trainer.core.records import Reinstated, StoodDown
from trainer.core.standing import is_practical_valid, is_stood_down
from trainer.errors import BadInput, NotFound, Refused

TODAY = date(2026, 3, 2)


def is_down(rig: Rig) -> bool:
    """Whether Ana is off the slips for hands today."""
    return is_stood_down(evidence_columns(rig.store.evidence_rows()), "ana", "hands", TODAY)


def down(rig: Rig) -> Rig:
    """Ana stood down by the driller."""
    reinstating.stand_down(rig.by("dee").desk, "ana", "hands", "hand under the handle")
    return rig


def test_a_stand_down_acts_at_once_and_says_why(rig: Rig) -> None:
    record = reinstating.stand_down(rig.by("dee").desk, "ana", "hands", " hand under\nthe handle ")
    assert isinstance(record.body, StoodDown)
    assert rig.store.text(record.body.why or "") == "hand under the handle"
    assert record.body.observer == "dee"
    assert is_down(rig)


def test_a_second_press_writes_nothing(rig: Rig) -> None:
    drawn = next(rig.source)
    first = reinstating.stand_down(rig.by("dee").desk, "ana", "hands", "why", drawn)
    assert reinstating.stand_down(rig.by("dee").later(minutes=1).desk, "ana", "hands", "why", drawn) == first
    with pytest.raises(Refused) as caught:
        reinstating.stand_down(rig.by("dee").desk, "ana", "hands", "why")
    assert caught.value.code == "stood-down-already"


def test_another_observer_brings_back_on_the_same_tour_and_nothing_holds_yet(rig: Rig) -> None:
    rig.hold("ana", "hands", date(2026, 2, 1))
    record = reinstating.reinstate(down(rig).by("ben").desk, "ana", "hands", "walked through it twice")
    assert isinstance(record.body, Reinstated)
    assert rig.store.text(record.body.done or "") == "walked through it twice"
    assert not is_down(rig)
    evidence = evidence_columns(rig.store.evidence_rows())
    assert not is_practical_valid(rig.catalogue, evidence, "ana", "hands", TODAY)


def test_who_stood_him_down_needs_a_second_on_that_tour(rig: Rig) -> None:
    driller = down(rig).by("dee")
    with pytest.raises(Refused) as caught:
        reinstating.reinstate(driller.desk, "ana", "hands", "done")
    assert caught.value.code == "reinstate-needs-second"
    with pytest.raises(Refused) as caught:
        reinstating.reinstate(driller.desk, "ana", "hands", "done", Second("tom", "000111", "tablet"))
    assert caught.value.code == "pin-wrong"
    record = reinstating.reinstate(driller.desk, "ana", "hands", "done", Second("tom", PINS["tom"], "tablet"))
    assert isinstance(record.body, Reinstated)
    assert record.body.second == "tom"


def test_on_the_next_tour_he_needs_no_second(rig: Rig) -> None:
    # 08:00 at the site lies after the night tour of 1 March; at 19:00 the next one has begun.
    driller = down(rig).by("dee")
    assert reinstating.reinstate(driller.later(hours=35).desk, "ana", "hands", "done").kind == "reinstated"


@pytest.mark.parametrize("second", ["dee", "ana"])
def test_the_second_is_somebody_else_who_may_judge(rig: Rig, second: str) -> None:
    with pytest.raises(Refused) as caught:
        reinstating.reinstate(down(rig).by("dee").desk, "ana", "hands", "done", Second(second, PINS[second], "tablet"))
    assert caught.value.code == "reinstate-second"


def test_nobody_judges_himself_and_no_floorhand_judges_anybody(rig: Rig) -> None:
    with pytest.raises(Refused) as caught:
        reinstating.reinstate(down(rig).desk, "ana", "hands", "done")
    assert caught.value.code == "observer-is-hand"
    with pytest.raises(Refused) as caught:
        reinstating.stand_down(rig.desk, "ben", "hands", "why")
    assert caught.value.code == "not-observer"


def test_there_is_nothing_to_bring_back_from(rig: Rig) -> None:
    with pytest.raises(Refused) as caught:
        reinstating.reinstate(rig.by("dee").desk, "ana", "hands", "done")
    assert caught.value.code == "not-stood-down"


def test_a_reason_is_asked_for_and_what_is_unknown_is_not_found(rig: Rig) -> None:
    driller = down(rig).by("dee").desk
    with pytest.raises(BadInput):
        reinstating.reinstate(driller, "ana", "hands", "  ")
    with pytest.raises(NotFound):
        reinstating.stand_down(driller, "ana", "nothing", "why")
    with pytest.raises(NotFound):
        reinstating.stand_down(driller, "nobody", "hands", "why")


def test_one_act_takes_off_and_brings_back_several_at_once_or_none(rig: Rig) -> None:
    driller, other = rig.by("dee").desk, rig.by("ben").desk
    downs = reinstating.stand_down_all(driller, "ana", {"hands": None, "calls": None}, "stood in the bight")
    assert [each.body.competency for each in downs if isinstance(each.body, StoodDown)] == ["hands", "calls"]
    with pytest.raises(Refused):
        reinstating.stand_down_all(driller, "ana", {"lifting": None, "calls": None}, "again")
    with pytest.raises(Refused):
        reinstating.reinstate_all(other, "ana", {"hands": None, "lifting": None}, "walked through it")
    assert [each.kind for each in rig.store.records(hand="ana")] == ["joined", "stood-down", "stood-down"]
    ups = reinstating.reinstate_all(other, "ana", {"hands": None, "calls": None}, "walked through it")
    assert len(ups) == 2
    assert not is_down(rig)


def test_something_is_chosen(rig: Rig) -> None:
    with pytest.raises(BadInput, match="nothing-chosen"):
        reinstating.stand_down_all(rig.by("dee").desk, "ana", {}, "why")


def test_what_one_can_do_is_told_beforehand(rig: Rig) -> None:
    driller = down(rig).by("dee")
    seconds = (("ben", "Ben"), ("cy", "Cy"), ("coordinator", "Office"), ("tom", "Tom"))
    downs = (Down("hands", TODAY, "Dee", "hand under the handle"),)
    offer = Offer(("calls", "lifting"), ("hands",), frozenset({"hands"}), seconds, downs)
    assert reinstating.offer(driller.desk, "ana") == offer
    free = Offer(("calls", "lifting"), ("hands",), frozenset(), (), downs)
    assert reinstating.offer(rig.by("ben").desk, "ana") == free
    assert reinstating.offer(driller.later(hours=35).desk, "ana") == free
    assert reinstating.offer(rig.desk, "ben") is None
    assert reinstating.offer(driller.desk, "dee") is None
    assert reinstating.offer(driller.desk, "nobody") is None
