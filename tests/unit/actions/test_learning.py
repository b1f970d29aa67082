"""A lesson is kept at every choice, goes on where it was left, and is no evidence."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.unit.actions.rig import CATALOGUE, Rig
from trainer.actions import learning, quizzing
from trainer.actions.learning import Playing
from trainer.core.playing import ONWARD
from trainer.core.records import LessonTaken
from trainer.core.shown import to_handles
from trainer.core.tasks import Answer
from trainer.errors import BadInput, NotFound, Refused

RIGHT: dict[str, Answer] = {
    "first": "good",
    "worked": ONWARD,
    "point": ("gap", "edge"),
    "order": ("first", "second", "third", "fourth"),
    "floor": ONWARD,
}


def chosen(rig: Rig, playing: Playing, answer: Answer) -> Playing:
    """``answer``, in ids, given in the scene that the player stands in."""
    scene = playing.scene
    assert scene is not None
    handles = to_handles(scene.task, playing.play.order(scene), answer) if scene.task else answer
    return learning.choose(rig.desk, playing.draft_id, scene.id, handles)


def played(rig: Rig) -> Playing:
    """The whole lesson, all right."""
    playing = learning.open_lesson(rig.desk, "lesson")
    while playing.scene:
        playing = chosen(rig, playing, RIGHT[playing.scene.id])
    return playing


def test_a_wrong_choice_shows_what_follows_and_stays_in_the_scene(rig: Rig) -> None:
    playing = chosen(rig, learning.open_lesson(rig.desk, "lesson"), "bad-1")
    assert playing.last is not None
    assert not playing.last.right
    assert playing.last.then[0]["en"] == "then bad-1"
    assert playing.last.why[0]["en"] == "why bad-1"
    assert playing.scene is not None
    assert playing.scene.id == "first"


def test_a_lesson_goes_on_where_it_was_left_and_still_shows_the_last_step(rig: Rig) -> None:
    playing = chosen(rig, learning.open_lesson(rig.desk, "lesson"), "good")
    again = learning.open_lesson(rig.later(days=2).desk, "lesson")
    assert again.draft_id == playing.draft_id
    assert again.path == playing.path
    assert again.last == playing.last
    assert again.scene is not None
    assert again.scene.id == "worked"


def test_each_hand_has_a_lesson_of_his_own(rig: Rig) -> None:
    chosen(rig, learning.open_lesson(rig.desk, "lesson"), "good")
    other = learning.open_lesson(rig.by("ben").desk, "lesson")
    assert other.path == ()
    with pytest.raises(NotFound):
        learning.choose(rig.desk, other.draft_id, "first", "o1")


def test_a_second_press_changes_nothing(rig: Rig) -> None:
    start = learning.open_lesson(rig.desk, "lesson")
    once = chosen(rig, start, "bad-1")
    assert chosen(rig, start, "bad-1").path == once.path
    right = chosen(rig, start, "good")
    assert chosen(rig, start, "bad-2").path == right.path


def test_a_tap_is_kept_and_is_no_try_yet(rig: Rig) -> None:
    start = learning.open_lesson(rig.desk, "lesson")
    learning.keep(rig.desk, start.draft_id, "first", "o2")
    again = learning.open_lesson(rig.desk, "lesson")
    assert (again.kept, again.path) == ("o2", ())
    chosen(rig, again, "good")
    learning.keep(rig.desk, start.draft_id, "first", "o3")
    assert learning.open_lesson(rig.desk, "lesson").kept is None


def test_a_wrong_try_that_can_be_mended_is_shown_again(rig: Rig) -> None:
    playing = chosen(rig, chosen(rig, learning.open_lesson(rig.desk, "lesson"), "good"), ONWARD)
    assert playing.scene is not None
    assert playing.scene.task is not None
    tried = chosen(rig, playing, ("gap", "deck"))
    assert tried.kept == to_handles(playing.scene.task, playing.play.order(playing.scene), ("deck", "gap"))


def test_the_card_can_say_in_which_scene_a_lesson_was_left(rig: Rig) -> None:
    assert learning.scene_number(rig.desk, "lesson") == 0
    chosen(rig, learning.open_lesson(rig.desk, "lesson"), "good")
    assert learning.scene_number(rig.desk, "lesson") == 2
    assert learning.scene_number(rig.by("ben").desk, "lesson") == 0
    played(rig)
    assert learning.scene_number(rig.desk, "lesson") == 6


def test_an_answer_that_is_not_offered_is_not_kept(rig: Rig) -> None:
    start = learning.open_lesson(rig.desk, "lesson")
    with pytest.raises(BadInput):
        learning.choose(rig.desk, start.draft_id, "first", "good")
    assert learning.open_lesson(rig.desk, "lesson").path == ()


def test_options_are_shown_under_handles(rig: Rig) -> None:
    shown = learning.shown_scene(learning.open_lesson(rig.desk, "lesson"), "es")
    assert shown is not None
    assert [each.handle for each in shown.choices] == ["o1", "o2", "o3", "o4"]
    assert all(each.text.endswith("(es)") for each in shown.choices)


def test_a_finished_lesson_is_a_record_and_no_evidence(rig: Rig) -> None:
    before = rig.store.evidence_rows()
    playing = chosen(rig, learning.open_lesson(rig.desk, "lesson"), "bad-1")
    record = learning.finish(rig.desk, played(rig.later(minutes=3)).draft_id)
    body = record.body
    assert isinstance(body, LessonTaken)
    assert record.record_id == playing.draft_id
    assert body.path[:2] == ("first:bad-1", "first:good")
    assert (body.lesson, body.content, body.minutes) == ("lesson", "lesson-hash", 3)
    assert rig.store.evidence_rows() == before
    assert rig.store.drafts(owner="ana") == ()


def test_a_tablet_left_lying_is_no_reading_time(rig: Rig) -> None:
    learning.open_lesson(rig.desk, "lesson")
    record = learning.finish(rig.desk, played(rig.later(hours=9)).draft_id)
    assert isinstance(record.body, LessonTaken)
    assert record.body.minutes == 5


def test_finishing_twice_writes_one_record(rig: Rig) -> None:
    playing = played(rig)
    first = learning.finish(rig.desk, playing.draft_id)
    assert learning.finish(rig.later(minutes=1).desk, playing.draft_id) == first
    assert len(list(rig.store.records(kinds=("lesson",)))) == 1


def test_a_lesson_is_not_finished_before_its_end(rig: Rig) -> None:
    playing = chosen(rig, learning.open_lesson(rig.desk, "lesson"), "good")
    with pytest.raises(Refused) as caught:
        learning.finish(rig.desk, playing.draft_id)
    assert caught.value.code == "lesson-not-finished"


def test_a_lesson_that_was_rewritten_begins_anew(rig: Rig) -> None:
    old = chosen(rig, learning.open_lesson(rig.desk, "lesson"), "good")
    newer = replace(CATALOGUE, lessons={"lesson": replace(CATALOGUE.lessons["lesson"], hash="newer")})
    rewritten = rig.with_catalogue(newer)
    with pytest.raises(BadInput) as caught:
        learning.choose(rewritten.desk, old.draft_id, "worked")
    assert caught.value.code == "lesson-changed"
    assert learning.open_lesson(rewritten.desk, "lesson").path == ()


def test_a_dropped_lesson_begins_anew(rig: Rig) -> None:
    old = chosen(rig, learning.open_lesson(rig.desk, "lesson"), "good")
    learning.drop(rig.by("ben").desk, old.draft_id)
    assert learning.open_lesson(rig.desk, "lesson").path == old.path
    learning.drop(rig.desk, old.draft_id)
    assert learning.open_lesson(rig.desk, "lesson").path == ()


def test_a_hand_who_knows_it_goes_straight_to_the_quiz(rig: Rig) -> None:
    assert quizzing.start(rig.desk, "q").answered == 0


def test_an_unknown_lesson_is_not_found(rig: Rig) -> None:
    with pytest.raises(NotFound):
        learning.open_lesson(rig.desk, "nothing")
