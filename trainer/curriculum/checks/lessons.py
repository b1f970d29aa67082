"""Rules on lessons: every scene can be reached and leads on to the end, and the parts of a lesson are there."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from trainer.core.lessons import Lesson, Scene
from trainer.core.tailgate import POINTS
from trainer.core.tasks import ChooseOne, JudgeDrawing, Option
from trainer.curriculum.loaded import Loaded, lesson_file
from trainer.curriculum.nodes import Path
from trainer.errors import Problem

__all__ = ["LONGEST", "flow", "makeup"]

END = ""
"""Where the last scene leads."""

SHORTEST, LONGEST = 5, 8
"""Minutes of a lesson."""

Found = Iterator[tuple[Path, str, str]]


def flow(loaded: Loaded) -> list[Problem]:
    """Scenes that are named and not there, cannot be reached, or never lead to the end."""
    return [
        loaded.problem(lesson_file(lesson.id), path, what, todo)
        for lesson in loaded.lessons.values()
        for path, what, todo in (*_references(loaded, lesson), *_scene_names(lesson), *_ways(lesson))
    ]


def _references(loaded: Loaded, lesson: Lesson) -> Found:
    if not loaded.knows_competency(lesson.competency):
        what = f'there is no competency "{lesson.competency}"'
        yield ("competency",), what, "write one from content/competencies.yaml"
    if not lesson.scenes:
        yield ("scenes",), "no scene", "write at least one"
    if lesson.talk and len(lesson.talk) != POINTS:
        yield ("talk",), f"{len(lesson.talk)} points", f"write {POINTS}, or leave talk out"


def _scene_names(lesson: Lesson) -> Found:
    for name, count in Counter(each.id for each in lesson.scenes).items():
        if count > 1:
            yield ("scenes", name, "id"), f"{count} scenes are called this", "give each its own id"
    for scene in lesson.scenes:
        if scene.next is not None and lesson.scene(scene.next) is None:
            yield ("scenes", scene.id, "next"), f'there is no scene "{scene.next}"', "write one of this lesson"
        for option in _options(scene):
            path = ("scenes", scene.id, "task", "options", option.id, "go")
            if option.go is not None and lesson.scene(option.go) is None:
                yield path, f'there is no scene "{option.go}"', "write one of this lesson"
            if option.go is not None and not option.right:
                yield path, "a wrong choice comes back to its own scene", "leave go out, or tell it in then"


def _options(scene: Scene) -> tuple[Option, ...]:
    return scene.task.options if isinstance(scene.task, ChooseOne | JudgeDrawing) else ()


def _ways(lesson: Lesson) -> Found:
    ways = _graph(lesson) if lesson.scenes else {}
    if not ways or not all(target in (*ways, END) for targets in ways.values() for target in targets):
        return  # nothing can be said about ways as long as one leads nowhere
    reached = _reached(ways, lesson.scenes[0].id)
    for name, targets in ways.items():
        if name not in reached:
            yield ("scenes", name), "nothing leads to this scene", "lead to it with next or go, or take it out"
        elif END not in _reached(ways, name):
            yield ("scenes", name), f"only leads in a circle to {', '.join(sorted(targets))}", "lead on to the end"


def _graph(lesson: Lesson) -> Mapping[str, frozenset[str]]:
    """Each scene with the scenes that right answers lead to; ``END`` after the last."""
    following = [*(each.id for each in lesson.scenes[1:]), END]
    return {
        scene.id: _targets(scene, scene.next or after) for scene, after in zip(lesson.scenes, following, strict=True)
    }


def _targets(scene: Scene, onward: str) -> frozenset[str]:
    gone = frozenset(each.go or onward for each in _options(scene) if each.right)
    return gone or frozenset({onward})


def _reached(ways: Mapping[str, frozenset[str]], start: str) -> set[str]:
    reached, waiting = {start}, [start]
    while waiting:
        fresh = ways.get(waiting.pop(), frozenset()) - reached
        reached |= fresh
        waiting += fresh
    return reached


def makeup(loaded: Loaded) -> list[Problem]:
    """Lessons without a worked case, recall questions or a task for the floor, or too short or long: warnings."""
    return [
        loaded.problem(lesson_file(lesson.id), path, what, todo, warning=True)
        for lesson in loaded.lessons.values()
        for path, what, todo in (*_parts(lesson), *_asked(lesson))
    ]


def _parts(lesson: Lesson) -> Found:
    counts = Counter(each.part for each in lesson.scenes)
    for part, least, todo in (
        ("decide", 1, "add a decision with a consequence"),
        ("worked", 1, "add one worked case"),
        ("recall", 3, "add recall questions with reasons"),
        ("floor-task", 1, "add one task for the floor"),
    ):
        if counts[part] < least:
            yield ("scenes",), f'{counts[part]} scenes are "{part}", {least} wanted', todo
    if not SHORTEST <= lesson.minutes <= LONGEST:
        yield ("minutes",), f"{lesson.minutes} minutes", f"a lesson takes {SHORTEST} to {LONGEST}: split or fill it"


def _asked(lesson: Lesson) -> Found:
    for scene in lesson.scenes:
        if scene.task is not None and scene.ask is None:
            yield ("scenes", scene.id), "a task without a question", "add ask: {en: ..., es: ...}"
        if scene.task is None and scene.part in ("decide", "recall"):
            yield ("scenes", scene.id), f'"{scene.part}" without a task', "add a task, or change its part"
