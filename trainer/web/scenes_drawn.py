"""A lesson's scene on screen: the situation, the outcome of a choice, and the scene looked at again."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from trainer.actions.learning import Playing
from trainer.core.lessons import Lesson, Scene
from trainer.core.marking import right_answer
from trainer.core.playing import ONWARD, Play, Step
from trainer.core.shown import worded
from trainer.core.tasks import (
    ChooseAll,
    ChooseOne,
    JudgeDrawing,
    PlaceCrew,
    PointAt,
    PutInOrder,
    ReadSheet,
    Task,
    TickSteps,
)
from trainer.core.telling import Told, hint, told
from trainer.core.text import Text
from trainer.core.workings import FUNCTIONS
from trainer.web import aloud, door, titles, wording
from trainer.web.plain import paragraphs, plain
from trainer.web.tasks_drawn import answer_words, draw_picture, draw_told, label_of
from trainer.web.verdicts import reason

__all__ = ["ask_of", "has_outcome", "look_back", "outcome", "situation"]

_DRAWN = (ChooseAll, PointAt, PlaceCrew, PutInOrder, ReadSheet, TickSteps)
"""Tasks whose outcome is told in the answer itself: there are several parts, or a sheet to look at again."""


def situation(here: door.Here, play: Play, scene: Scene) -> None:
    """Where in the lesson this is, the picture, what is going on, and the question."""
    lesson = play.lesson
    _heading(here, lesson, scene, "asked")
    if scene is lesson.scenes[0]:
        objective = wording.line(lesson.objective, here.words)
        st.markdown(here.words.say("lesson.objective", objective=objective, minutes=lesson.minutes))
        if procedure := titles.procedure(here, lesson.competency):
            st.caption(plain(procedure))
    draw_picture(scene.picture, here.words, key=f"scene-{lesson.id}-{scene.id}")
    _told_scene(here, play, scene)


def _told_scene(here: door.Here, play: Play, scene: Scene) -> None:
    """The situation and the question, the drawn numbers filled in."""
    numbers = play.parameters(scene)
    st.markdown(paragraphs(worded(here.words.pick(scene.text), numbers)))
    if scene.ask:
        st.subheader(plain(worded(here.words.pick(scene.ask), numbers)), anchor=False)
    _caution(here, scene, [scene.text])


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
    _heading(here, lesson, scene, _key(playing))
    verdict = "right" if step.right else "wrong"
    st.html(wording.stamp(verdict, here.words.say(f"lesson.{verdict}")))
    if not isinstance(scene.task, _DRAWN):
        st.markdown(here.words.say("lesson.you-chose", answer=plain(answer_words(scene.task, answer, here.words))))
    if step.right:
        _right(here, playing, scene, step)
    else:
        _wrong(here, playing, scene, step)
    _caution(here, scene, step.then)


def _caution(here: door.Here, scene: Scene, texts: Sequence[Text]) -> None:
    """The standing rule, under any figure of the rig that was just said."""
    if any(figure in here.words.pick(text) for text in texts for figure in scene.reckoned):
        st.caption(here.words.say("lesson.figures-caution"))


def _right(here: door.Here, playing: Playing, scene: Scene, step: Step) -> None:
    if isinstance(scene.task, _DRAWN):
        _say(here, [step.said] if step.said else [])
        asked = playing.play.asked(scene)
        assert asked is not None
        _draw_answer(here, playing, scene, told(asked, playing.path[-1].answer))
        _say(here, step.why if isinstance(scene.task, PlaceCrew) and not step.said else [])
        return
    draw_picture(step.picture, here.words, key=f"follows-{_key(playing)}")
    _say(here, [*step.then, *((step.said,) if step.said else step.why)])


def _wrong(here: door.Here, playing: Playing, scene: Scene, step: Step) -> None:
    asked = playing.play.asked(scene)
    assert scene.task is not None
    assert asked is not None
    said = hint(asked, playing.path[-1].answer)
    picture = next((each.picture for each in said.told if each.picture), None)
    draw_picture(picture, here.words, key=f"follows-{_key(playing)}")
    if isinstance(scene.task, _DRAWN) and picture is None:
        _say(here, [each.then for each in said.told if each.then])
        _draw_answer(here, playing, scene, said.told)
    else:
        for each in said.told:
            _tell(here, scene.task, each)
    if not said.told:
        _say(here, step.why)
    if said.left:
        st.markdown(f"**{here.words.count('lesson.left', said.left)}**")


def _draw_answer(here: door.Here, playing: Playing, scene: Scene, said: Sequence[Told]) -> None:
    """The task with the last answer in it, and beside each of its parts what there is to say of it now."""
    assert scene.task is not None
    draw_told(
        scene.task, playing.play.order(scene), playing.path[-1].answer, said,
        ask=ask_of(here, scene), words=here.words, key=f"told-{_key(playing)}",
        parameters=playing.play.parameters(scene), site=here.desk.catalogue.site,
    )  # fmt: skip


def _key(playing: Playing) -> str:
    return f"{playing.draft_id}-{len(playing.path)}"


def _tell(here: door.Here, task: Task, each: Told) -> None:
    """What follows from one thing and why; called by its name where several could be meant."""
    if not isinstance(task, ChooseOne | JudgeDrawing):
        st.markdown(f"**{plain(label_of(task, each.id, here.words))}**")
    if each.then:
        st.markdown(wording.line(each.then, here.words))
    st.markdown(here.words.say("lesson.why", why=plain(reason(task, each, here.words))))


def look_back(here: door.Here, lesson: Lesson, scene: Scene) -> None:
    """The scene with its right answer and every reason; nothing can be changed."""
    st.markdown(here.words.say("lesson.looking-back", title=wording.line(lesson.title, here.words)))
    _heading(here, lesson, scene, "back")
    draw_picture(scene.picture, here.words, key=f"back-{lesson.id}-{scene.id}")
    # Any seed does: there is no playing here, only the order in which the choices are drawn.
    play = Play(lesson, lesson.id, FUNCTIONS)
    _told_scene(here, play, scene)
    asked, figures = play.asked(scene), play.parameters(scene)
    if scene.task is None or asked is None:
        return
    answer = right_answer(asked, figures, FUNCTIONS)
    draw_told(
        scene.task, play.order(scene), answer, told(asked, answer),
        ask=ask_of(here, scene), words=here.words, key=f"back-task-{lesson.id}-{scene.id}", parameters=figures,
        site=here.desk.catalogue.site,
    )  # fmt: skip
    whys = () if not isinstance(scene.task, PlaceCrew) else (scene.task.why,)
    _say(here, [scene.right] if scene.right else whys)


def _heading(here: door.Here, lesson: Lesson, scene: Scene, step: str) -> None:
    number = lesson.scenes.index(scene) + 1
    total = len(lesson.scenes)
    with aloud.beside(here.words, f"{lesson.id}-{scene.id}-{step}", lesson.title, scene):
        st.progress(number / total, here.words.say("lesson.scene-of", number=number, total=total))
    st.title(wording.line(scene.title, here.words), anchor=False)
    wording.mark_untranslated(here.words, lesson.title, scene)


def _say(here: door.Here, texts: Sequence[Text]) -> None:
    for text in dict.fromkeys(wording.line(each, here.words) for each in texts):
        st.markdown(text)
