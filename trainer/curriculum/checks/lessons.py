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

__all__ = ["LONGEST", "flow", "length", "makeup"]

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
    if itself := [each.id for each in lesson.scenes if each.id in _named(each)]:
        for name in itself:
            yield ("scenes", name, "next"), "this scene leads to itself", "name another scene, or leave next out"
        return
    ways = _graph(lesson) if lesson.scenes else {}
    leads_on = all(target in (*ways, END) for targets in ways.values() for target in targets)
    if not ways or not leads_on or len(ways) < len(lesson.scenes):
        return  # nothing can be said about ways as long as one leads nowhere, or two scenes have one name
    stuck = [each for each in lesson.scenes if _named(each) and END not in _reached(ways, each.id)]
    reached = _reached(ways, lesson.scenes[0].id)
    for scene in stuck:
        what = f"only leads in a circle to {', '.join(sorted(ways[scene.id]))}"
        yield ("scenes", scene.id), what, "lead on to the end"
    if not stuck:  # else what comes after the circle would be told, too
        for name in ways.keys() - reached:
            yield ("scenes", name), "nothing leads to this scene", "lead to it with next or go, or take it out"


def _named(scene: Scene) -> frozenset[str]:
    """The scenes that ``scene`` names as those to play after it."""
    return frozenset(name for name in (scene.next, *(each.go for each in _options(scene) if each.right)) if name)


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
    """Lessons without a worked case, recall or a task for the floor, and wrong choices that nothing follows from."""
    return [
        loaded.problem(lesson_file(lesson.id), path, what, todo)
        for lesson in loaded.lessons.values()
        for path, what, todo in (*_parts(lesson), *_asked(lesson), *_followed(lesson))
    ]


def length(loaded: Loaded) -> list[Problem]:
    """Lessons that say they are shorter or longer than a lesson is: warnings."""
    todo = f"a lesson takes {SHORTEST} to {LONGEST}: split or fill it"
    return [
        loaded.problem(lesson_file(each.id), ("minutes",), f"{each.minutes} minutes", todo, warning=True)
        for each in loaded.lessons.values()
        if not SHORTEST <= each.minutes <= LONGEST
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


def _asked(lesson: Lesson) -> Found:
    for scene in lesson.scenes:
        if scene.task is not None and scene.ask is None:
            yield ("scenes", scene.id), "a task without a question", "add ask: {en: ..., es: ...}"
        if scene.task is None and scene.part in ("decide", "recall"):
            yield ("scenes", scene.id), f'"{scene.part}" without a task', "add a task, or change its part"


def _followed(lesson: Lesson) -> Found:
    for scene in lesson.scenes:
        options = _options(scene) if scene.part == "decide" else ()
        for option in options if any(each.right for each in options) else ():
            if not option.right and option.then is None:
                path = ("scenes", scene.id, "task", "options", option.id)
                yield path, "nothing follows from this wrong choice", "add then: {en: ..., es: ...}, what happens next"
