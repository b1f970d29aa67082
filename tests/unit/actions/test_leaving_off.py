"""Left off the slips for one tour: no record, no standing, gone by itself."""

from __future__ import annotations

from datetime import date

import pytest

from tests.unit.actions.rig import Rig
from trainer.actions import leaving_off
from trainer.core.records import Joined
from trainer.errors import NotFound, Refused

# The rig stands at 08:00 of 2 March at the site; Ana's tour is 18:00 to 06:00.


def names(rig: Rig) -> set[str]:
    """Who is left off now."""
    return set(leaving_off.left_off(rig.desk))


def test_before_the_tour_it_is_meant_for_the_one_to_come_and_gone_with_its_end(rig: Rig) -> None:
    driller = rig.by("dee")
    mark = leaving_off.leave_off(driller.desk, "ana")
    assert (mark.crew, mark.day, mark.by) == ("night-1", date(2026, 3, 2), "dee")
    assert names(driller.later(hours=9)) == {"ana"}
    assert names(driller.later(hours=21, minutes=59)) == {"ana"}
    assert names(driller.later(hours=22)) == set()


def test_during_a_tour_across_midnight_it_is_gone_when_that_ends(rig: Rig) -> None:
    night = rig.by("dee").later(hours=18)
    assert leaving_off.leave_off(night.desk, "ana").day == date(2026, 3, 2)
    assert names(night.later(hours=3, minutes=59)) == {"ana"}
    assert names(night.later(hours=4)) == set()


def test_it_leaves_no_record_and_no_standing(rig: Rig) -> None:
    before = rig.store.heads()
    leaving_off.leave_off(rig.by("dee").desk, "ana")
    assert rig.store.heads() == before


def test_it_is_taken_back_by_anybody_who_leads(rig: Rig) -> None:
    leaving_off.leave_off(rig.by("dee").desk, "ana")
    leaving_off.put_back(rig.by("tom").desk, "ana")
    leaving_off.put_back(rig.by("tom").desk, "ana")
    assert names(rig.by("dee")) == set()


def test_a_second_tap_keeps_one_mark(rig: Rig) -> None:
    leaving_off.leave_off(rig.by("dee").desk, "ana")
    leaving_off.leave_off(rig.by("tom").desk, "ana")
    assert {each.hand: each.by for each in leaving_off.left_off(rig.by("dee").desk).values()} == {"ana": "tom"}
    assert len(rig.store.drafts(kind=leaving_off.KIND)) == 1


def test_it_is_for_that_crew_only(rig: Rig) -> None:
    leaving_off.leave_off(rig.by("dee").desk, "ana")
    rig.write(Joined("day-1", "floorhand"), "ana", date(2026, 3, 2))
    assert names(rig.by("dee")) == set()


def test_who_is_erased_leaves_no_mark_behind(rig: Rig) -> None:
    leaving_off.leave_off(rig.by("dee").desk, "ana")
    with rig.store.transaction() as writing:
        writing.forget("ana")
    assert rig.store.drafts(kind=leaving_off.KIND) == ()


def test_nobody_unknown_is_left_off_and_no_hand_leaves_anybody_off(rig: Rig) -> None:
    with pytest.raises(NotFound):
        leaving_off.leave_off(rig.by("dee").desk, "nobody")
    with pytest.raises(Refused):
        leaving_off.leave_off(rig.desk, "ben")
