"""A lesson's path says where the player stands and what the last choice showed."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.unit.assessment import samples
from trainer.core.lessons import Scene
from trainer.core.marking import right_answer
from trainer.core.playing import ONWARD, Path, Play, Step, Try, first_tries, is_finished, now_at, path_text, take
from trainer.core.tasks import Answer, Option, Task
from trainer.core.workings import FUNCTIONS
from trainer.errors import BadInput

PLAY = Play(samples.lesson(), "seed", FUNCTIONS)


def walked(*answers: Answer, play: Play = PLAY) -> tuple[Path, Step | None]:
    """The path after these answers, and what the last one showed."""
    path: Path = ()
    step = None
    for answer in answers:
        path, step = take(play, path, answer)
    return path, step


def at(path: Path, play: Play = PLAY) -> str | None:
    """The scene that the player stands in."""
    scene = now_at(play, path)
    return scene.id if scene else None


def test_a_lesson_begins_at_its_first_scene() -> None:
    assert at(()) == "first"


def test_a_wrong_choice_shows_its_consequence_and_comes_back_to_the_scene() -> None:
    path, step = walked("bad-0")
    assert step == Step(
        scene="first",
        right=False,
        then=(samples.text("then bad-0"),),
        why=(samples.text("why bad-0"),),
        said=None,
        picture=step.picture if step else None,
        next="first",
    )
    assert step.picture is not None
    assert step.picture.show == ("caught",)
    assert at(path) == "first"


def test_a_right_choice_says_so_and_goes_on() -> None:
    path, step = walked("bad-0", "good")
    assert step is not None
    assert (step.right, step.said, step.next) == (True, samples.text("well done"), "worked")
    assert at(path) == "worked"


def test_a_scene_that_asks_nothing_goes_on_and_a_named_next_scene_is_jumped_to() -> None:
    path, _ = walked("good", ONWARD, ("edge", "gap"), ("first", "second", "third", "fourth"))
    assert at(path) == "floor"
    path, step = take(PLAY, path, ONWARD)
    assert step.next is None
    assert is_finished(PLAY, path)


def test_a_right_option_may_lead_to_a_scene_of_its_own() -> None:
    task = samples.choose_one()
    led = tuple(replace(each, go="floor" if each.right else "skipped") for each in task.options)
    lesson = replace(
        PLAY.lesson, scenes=(replace(PLAY.lesson.scenes[0], task=replace(task, options=led)), *PLAY.lesson.scenes[1:])
    )
    play = Play(lesson, "seed", FUNCTIONS)
    assert at(walked("good", play=play)[0], play) == "floor"
    assert at(walked("bad-0", play=play)[0], play) == "first"


def test_a_place_that_was_missed_tells_what_happens_there() -> None:
    _, step = walked("good", ONWARD, ("gap", "deck"))
    assert step is not None
    assert step.then == (samples.text("then edge"), samples.text("then deck"))


def test_a_wrong_order_tells_the_steps_that_stand_wrong() -> None:
    told = tuple(
        Option(each.id, True, each.why, each.text, samples.text(f"then {each.id}"))
        for each in samples.put_in_order().steps
    )
    lesson = replace(
        PLAY.lesson,
        scenes=(Scene("only", samples.text("t"), samples.text("s"), task=replace(samples.put_in_order(), steps=told)),),
    )
    _, step = walked(("second", "first", "third", "fourth"), play=Play(lesson, "seed", FUNCTIONS))
    assert step is not None
    assert step.then == (samples.text("then first"), samples.text("then second"))


@pytest.mark.parametrize("task", samples.ALL_TASKS)
def test_every_kind_of_task_can_be_played(task: Task) -> None:
    scene = Scene("only", samples.text("t"), samples.text("s"), task=task)
    play = Play(replace(PLAY.lesson, scenes=(scene,)), "seed", FUNCTIONS)
    _, step = walked(right_answer(task, play.parameters(scene), FUNCTIONS), play=play)
    assert step is not None
    assert (step.right, step.next) == (True, None)


def test_first_tries_at_recall_are_told_apart_from_later_ones() -> None:
    path, _ = walked("bad-0", "good", ONWARD, ("gap",), ("edge", "gap"), ("first", "second", "third", "fourth"))
    assert first_tries(PLAY, path) == {"point": False, "order": True}
    assert first_tries(PLAY, path, "decide") == {"first": False}


def test_nothing_is_taken_after_the_end_nor_an_answer_that_is_not_offered() -> None:
    path, _ = walked("good", ONWARD, ("edge", "gap"), ("first", "second", "third", "fourth"), ONWARD)
    with pytest.raises(BadInput) as caught:
        take(PLAY, path, ONWARD)
    assert caught.value.code == "lesson-finished"
    with pytest.raises(BadInput):
        take(PLAY, (), "nothing")


def test_a_path_that_does_not_fit_the_lesson_is_a_named_error() -> None:
    with pytest.raises(BadInput) as caught:
        now_at(PLAY, (Try("floor", ONWARD),))
    assert caught.value.code == "lesson-changed"


def test_a_path_is_written_as_scene_and_choice() -> None:
    path = (
        Try("first", "good"),
        Try("worked", ONWARD),
        Try("point", ("edge", "gap")),
        Try("crew", {"b": ("x",), "a": ("y", "z")}),
    )
    assert path_text(path) == ("first:good", "worked:", "point:edge,gap", "crew:a=y,z;b=x")
