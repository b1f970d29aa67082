"""A missed critical item waits for a talk with the driller, and one tap settles it."""

from __future__ import annotations

import pytest

from tests.unit.actions.rig import Rig
from tests.unit.actions.test_quizzing import taken
from trainer.actions import talking, voiding
from trainer.core.records import Talk
from trainer.errors import NotFound, Refused


def test_a_critical_miss_waits_for_the_driller_of_that_crew(rig: Rig) -> None:
    record = taken(rig, ["must-where"])
    (miss,) = talking.misses_to_talk_through(rig.by("dee").desk, "night-1")
    assert (miss.record_id, miss.hand, miss.quiz, miss.objectives) == (record.record_id, "ana", "q", ("must-where",))
    assert talking.misses_to_talk_through(rig.by("dee").desk, "day-1") == []
    assert talking.misses_to_talk_through(rig.by("dee").desk) == [miss]


def test_a_miss_that_is_not_critical_waits_for_nobody(rig: Rig) -> None:
    taken(rig, ["grip-1", "where-1", "timing-1"])
    assert talking.misses_to_talk_through(rig.by("dee").desk, "night-1") == []


def test_a_talk_settles_it_and_a_second_press_writes_nothing(rig: Rig) -> None:
    record = taken(rig, ["must-where"])
    after = rig.by("dee").later(minutes=5)
    talk = talking.talk_done(after.desk, record.record_id)
    assert isinstance(talk.body, Talk)
    assert (talk.by, talk.hand, talk.body.quiz_record) == ("dee", "ana", record.record_id)
    assert talking.talk_done(after.later(minutes=1).desk, record.record_id) == talk
    assert talking.misses_to_talk_through(after.desk, "night-1") == []


def test_a_later_pass_settles_it_too(rig: Rig) -> None:
    taken(rig, ["must-where"])
    taken(rig.later(hours=12))
    assert talking.misses_to_talk_through(rig.by("dee").later(hours=13).desk, "night-1") == []


def test_what_was_missed_in_several_tries_is_told_together(rig: Rig) -> None:
    taken(rig, ["must-where"])
    last = taken(rig.later(hours=12), ["must-grip"])
    (miss,) = talking.misses_to_talk_through(rig.by("dee").later(hours=13).desk, "night-1")
    assert (miss.record_id, miss.objectives) == (last.record_id, ("must-grip", "must-where"))


def test_used_up_tries_wait_for_a_talk_without_any_critical_miss(rig: Rig) -> None:
    for tour in range(3):
        taken(rig.later(hours=12 * tour), ["grip-1", "where-1", "timing-1"])
    (miss,) = talking.misses_to_talk_through(rig.by("dee").later(hours=25).desk, "night-1")
    assert miss.objectives == ()


def test_a_voided_quiz_waits_for_nothing(rig: Rig) -> None:
    record = taken(rig, ["must-where"])
    voiding.void(rig.by("cy").desk, record.record_id, "wrong hand at the tablet")
    assert talking.misses_to_talk_through(rig.by("dee").desk, "night-1") == []


def test_nobody_talks_his_own_quiz_through(rig: Rig) -> None:
    record = taken(rig.by("dee"), ["must-where"])
    with pytest.raises(Refused):
        talking.talk_done(rig.by("dee").desk, record.record_id)
    assert talking.talk_done(rig.by("tom").desk, record.record_id).by == "tom"


def test_a_hand_sees_no_list_and_an_unknown_record_is_not_found(rig: Rig) -> None:
    with pytest.raises(Refused):
        talking.misses_to_talk_through(rig.desk, "night-1")
    with pytest.raises(NotFound):
        talking.talk_done(rig.by("dee").desk, "nothing")
