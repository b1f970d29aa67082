"""A lesson on this site: the figures that its scenes name, worked out on the site's own rig."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from trainer.core.bound import figures_of, sentences
from trainer.core.catalogue import Site
from trainer.core.lessons import Lesson, Scene
from trainer.core.tasks import ChooseOne, Option, ReadSheet, SheetOption, Task
from trainer.core.text import Text

__all__ = ["at_site"]


def at_site(lesson: Lesson, site: Site) -> Lesson:
    """``lesson`` with what its scenes say of the rig filled in; what cannot be worked out on this rig is not said."""
    if not any(scene.figures for scene in lesson.scenes):
        return lesson
    return replace(lesson, scenes=tuple(_scene(scene, site) for scene in lesson.scenes))


def _scene(scene: Scene, site: Site) -> Scene:
    if not scene.figures:
        return scene
    said = figures_of(scene.figures, site.rig, site.figures)
    task = _task(scene.task, said) if scene.task else None
    return replace(scene, text=_text(scene.text, said), task=task, reckoned=tuple(said.values()))


def _task(task: Task, said: Mapping[str, str]) -> Task:
    """The task with what follows from its options filled in."""
    match task:
        case ChooseOne(options=options):
            return ChooseOne(tuple(replace(each, then=_then(each, said)) for each in options))
        case ReadSheet(options=told):
            return replace(task, options=tuple(replace(each, then=_then(each, said)) for each in told))
        case _:
            return task


def _then(option: Option | SheetOption, said: Mapping[str, str]) -> Text | None:
    return _text(option.then, said) if option.then else None


def _text(text: Text, said: Mapping[str, str]) -> Text:
    return {language: sentences(sentence, said) for language, sentence in text.items()}
