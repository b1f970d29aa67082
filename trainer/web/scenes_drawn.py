"""A lesson's scene on screen: the situation, the outcome of a choice, and the scene looked at again."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from trainer.actions.learning import Playing
from trainer.core.lessons import Lesson, Scene
from trainer.core.marking import right_answer
from trainer.core.playing import ONWARD, Play, Step
from trainer.core.tasks import Answer, ChooseAll, ChooseOne, JudgeDrawing, Picture, PlaceCrew, PointAt, PutInOrder, Task
from trainer.core.telling import Hint, Told, hint, told
from trainer.core.text import Text
from trainer.core.workings import FUNCTIONS
from trainer.web import door, wording
from trainer.web.plain import plain
from trainer.web.tasks_drawn import answer_words, draw_picture, draw_told, label_of

__all__ = ["ask_of", "has_outcome", "look_back", "outcome", "situation"]


def situation(here: door.Here, lesson: Lesson, scene: Scene) -> None:
    """Where in the lesson this is, the picture, what is going on, and the question."""
    _heading(here, lesson, scene)
    if scene is lesson.scenes[0]:
        objective = wording.line(lesson.objective, here.words)
        st.markdown(here.words.say("lesson.objective", objective=objective, minutes=lesson.minutes))
    draw_picture(scene.picture, here.words, key=f"scene-{lesson.id}-{scene.id}")
    st.markdown(wording.line(scene.text, here.words))
    if scene.ask:
        st.subheader(wording.line(scene.ask, here.words), anchor=False)


def ask_of(here: door.Here, scene: Scene) -> str:
    """The question as a screen reader names the task by it."""
    return here.words.pick(scene.ask or scene.title)


def has_outcome(playing: Playing) -> bool:
    """Whether the last choice showed anything: going on from a scene that asks nothing does not."""
    return bool(playing.path) and playing.path[-1].answer != ONWARD


def outcome(here: door.Here, playing: Playing) -> None:
    """What followed from the last choice, and why."""
    step, answer = playing.last, playing.path[-1].answer
    lesson = playing.play.lesson
    scene = lesson.scene(step.scene) if step else None
    if step is None or scene is None or scene.task is None:
        return
    key = f"{playing.draft_id}-{len(playing.path)}"
    _heading(here, lesson, scene)
    verdict = "right" if step.right else "wrong"
    st.html(wording.stamp(verdict, here.words.say(f"lesson.{verdict}")))
    if isinstance(scene.task, ChooseOne | JudgeDrawing | ChooseAll):
        st.markdown(here.words.say("lesson.you-chose", answer=plain(answer_words(scene.task, answer, here.words))))
    if step.right:
        _right(here, playing.play, scene, step, answer, key)
    else:
        _wrong(here, playing.play, scene, step, answer, key)


def _right(here: door.Here, play: Play, scene: Scene, step: Step, answer: Answer, key: str) -> None:
    assert scene.task is not None
    if isinstance(scene.task, PointAt | PutInOrder):
        _say(here, [step.said] if step.said else [])
        draw_told(
            scene.task, play.order(scene), answer, told(scene.task, answer),
            ask=ask_of(here, scene), words=here.words, key=f"told-{key}",
        )  # fmt: skip
        return
    if isinstance(scene.task, PlaceCrew):
        draw_told(
            scene.task, play.order(scene), answer, (), ask=ask_of(here, scene), words=here.words, key=f"told-{key}"
        )
    draw_picture(step.picture, here.words, key=f"follows-{key}")
    _say(here, [*step.then, *((step.said,) if step.said else step.why)])


def _wrong(here: door.Here, play: Play, scene: Scene, step: Step, answer: Answer, key: str) -> None:
    task = scene.task
    assert task is not None
    said = hint(task, answer)
    draw_picture(_picture_of(said), here.words, key=f"follows-{key}")
    if isinstance(task, PointAt | PlaceCrew) and _picture_of(said) is None:
        draw_told(
            task, play.order(scene), answer, said.told, ask=ask_of(here, scene), words=here.words, key=f"told-{key}"
        )
        _say(here, [] if said.told else step.why)
    elif said.told:
        for each in said.told:
            _tell(here, task, each)
    else:
        _say(here, step.why)
    if said.left:
        st.markdown(f"**{here.words.count('lesson.left', said.left)}**")


def _tell(here: door.Here, task: Task, each: Told) -> None:
    """What follows from one thing and why; called by its name where several could be meant."""
    if not isinstance(task, ChooseOne | JudgeDrawing):
        st.markdown(f"**{plain(label_of(task, each.id, here.words))}**")
    if each.then:
        st.markdown(wording.line(each.then, here.words))
    st.markdown(here.words.say("lesson.why", why=wording.line(each.why, here.words)))


def look_back(here: door.Here, lesson: Lesson, scene: Scene) -> None:
    """The scene with its right answer and every reason; nothing can be changed."""
    st.markdown(here.words.say("lesson.looking-back", title=wording.line(lesson.title, here.words)))
    _heading(here, lesson, scene)
    draw_picture(scene.picture, here.words, key=f"back-{lesson.id}-{scene.id}")
    st.markdown(wording.line(scene.text, here.words))
    if scene.task is None:
        return
    if scene.ask:
        st.subheader(wording.line(scene.ask, here.words), anchor=False)
    # Any seed does: there is no playing here, only the order in which the choices are drawn.
    play = Play(lesson, lesson.id, FUNCTIONS)
    answer = right_answer(scene.task, play.parameters(scene), FUNCTIONS)
    draw_told(
        scene.task, play.order(scene), answer, told(scene.task, answer),
        ask=ask_of(here, scene), words=here.words, key=f"back-task-{lesson.id}-{scene.id}",
    )  # fmt: skip
    whys = () if not isinstance(scene.task, PlaceCrew) else (scene.task.why,)
    _say(here, [scene.right] if scene.right else whys)


def _heading(here: door.Here, lesson: Lesson, scene: Scene) -> None:
    number = lesson.scenes.index(scene) + 1
    total = len(lesson.scenes)
    st.progress(number / total, here.words.say("lesson.scene-of", number=number, total=total))
    st.title(wording.line(scene.title, here.words), anchor=False)
    wording.mark_untranslated(here.words, lesson.title, scene)


def _say(here: door.Here, texts: Sequence[Text]) -> None:
    for text in dict.fromkeys(wording.line(each, here.words) for each in texts):
        st.markdown(text)


def _picture_of(said: Hint) -> Picture | None:
    return next((each.picture for each in said.told if each.picture), None)
