"""Playing a lesson: a path of tries through its scenes, and what each try showed.

The path is all that is kept. Where the player stands, what the last choice led to and whether the lesson is finished
are worked out from it, so that a closed page, a dead battery or a second tablet lose nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from trainer.core.forms import drawn_order, drawn_parameters
from trainer.core.lessons import Lesson, Scene
from trainer.core.marking import Functions, Marked, mark_task, readable
from trainer.core.sheets import as_drawn
from trainer.core.tasks import (
    Answer,
    ChooseAll,
    ChooseOne,
    DrawnTask,
    JudgeDrawing,
    Option,
    Picture,
    PlaceCrew,
    PointAt,
    PutInOrder,
    Spot,
    TickRow,
    TickSteps,
    WorkOut,
)
from trainer.core.text import Text
from trainer.errors import BadInput

__all__ = ["ONWARD", "Path", "Play", "Step", "Try", "first_tries", "is_finished", "now_at", "path_text", "take"]

ONWARD = ""
"""The answer to a scene that asks nothing: go on."""


@dataclass(frozen=True, slots=True)
class Try:
    """One answer given in one scene, in ids."""

    scene: str
    answer: Answer


Path = tuple[Try, ...]


@dataclass(frozen=True, slots=True)
class Play:
    """One playing of ``lesson``. ``seed`` orders the options and draws the numbers of this playing."""

    lesson: Lesson
    seed: str
    functions: Functions

    def order(self, scene: Scene) -> tuple[str, ...]:
        """The option ids of ``scene`` in the order shown."""
        return drawn_order(scene.task, self.seed, scene.id) if scene.task else ()

    def parameters(self, scene: Scene) -> dict[str, str]:
        """The numbers drawn for ``scene``."""
        return drawn_parameters(scene.task, self.seed, scene.id) if scene.task else {}

    def asked(self, scene: Scene) -> DrawnTask | None:
        """The task of ``scene`` as it is drawn in this playing."""
        return as_drawn(scene.task, self.parameters(scene)) if scene.task else None

    def marked(self, scene: Scene, answer: Answer) -> Marked:
        """``answer`` marked; a scene that asks nothing is always right."""
        if scene.task is None:
            return Marked(True, (), ONWARD)
        return mark_task(scene.task, answer, self.parameters(scene), self.functions)


@dataclass(frozen=True, slots=True)
class Step:
    """What one try showed.

    ``then`` is what followed, ``why`` the reasons, ``picture`` the drawing of it; ``said`` is the scene's own sentence
    after a right answer. ``next`` is the scene to play now: the same one after a wrong choice, ``None`` at the end.
    """

    scene: str
    right: bool
    then: tuple[Text, ...]
    why: tuple[Text, ...]
    said: Text | None
    picture: Picture | None
    next: str | None


def now_at(play: Play, path: Path) -> Scene | None:
    """The scene that the player stands in, ``None`` when the lesson is finished.

    Raises ``BadInput("lesson-changed")`` when the path does not fit the lesson as it is now.
    """
    scene: Scene | None = play.lesson.scenes[0]
    for each in path:
        if scene is None or scene.id != each.scene:
            raise BadInput("lesson-changed", lesson=play.lesson.id)
        scene = _after(play, scene, each.answer)
    return scene


def is_finished(play: Play, path: Path) -> bool:
    """Whether the path has led out of the last scene."""
    return now_at(play, path) is None


def take(play: Play, path: Path, answer: Answer) -> tuple[Path, Step]:
    """The path with ``answer`` added to the scene that it stands in, and what that shows.

    Raises ``BadInput("lesson-finished")`` after the end, and as ``marking.readable`` does for an answer that cannot be.
    """
    scene = now_at(play, path)
    if scene is None:
        raise BadInput("lesson-finished", lesson=play.lesson.id)
    given = readable(scene.task, answer) if scene.task else ONWARD
    return (*path, Try(scene.id, given)), shown_step(play, scene, given)


def shown_step(play: Play, scene: Scene, answer: Answer) -> Step:
    """What ``answer`` in ``scene`` shows; used again to show the last step after a page was closed."""
    marked = play.marked(scene, answer)
    seen = list(_chosen(play.asked(scene), answer, marked.right))
    onward = _after(play, scene, answer)
    return Step(
        scene=scene.id,
        right=marked.right,
        then=tuple(each.then for each in seen if each.then),
        why=marked.whys,
        said=scene.right if marked.right else None,
        picture=next((each.picture for each in seen if not isinstance(each, TickRow) and each.picture), None),
        next=onward.id if onward else None,
    )


def _chosen(task: DrawnTask | None, answer: Answer, is_right: bool) -> Iterator[Option | Spot | TickRow]:
    """The options or spots whose consequence is told: what was right, else what was wrong (or a spot missed)."""
    match task:
        case ChooseOne(options=options) | ChooseAll(options=options):
            yield from (each for each in options if each.right == is_right and _is_in(each.id, answer))
        case PointAt(spots=spots):
            yield from (each for each in spots if (each.right == _is_in(each.part, answer)) == is_right)
        case JudgeDrawing(options=options):
            yield from (each for each in options if each.id == answer)
        case PutInOrder(steps=steps):
            pairs = zip(steps, answer, strict=True)
            yield from (step for step, each in pairs if step.id != each)
        case TickSteps(rows=rows):
            ticked = answer if isinstance(answer, Mapping) else {}
            yield from (row for row in rows if not is_right and ticked[row.id] != (row.state,))
        case PlaceCrew() | WorkOut() | None:
            return


def _is_in(name: str, answer: Answer) -> bool:
    return name == answer if isinstance(answer, str) else name in answer


def _after(play: Play, scene: Scene, answer: Answer) -> Scene | None:
    """The scene after ``answer``: the same one when it was wrong, else the option's, the scene's or the next listed."""
    if not play.marked(scene, answer).right:
        return scene
    onward = _goes_to(scene, answer) or scene.next
    if onward is not None:
        return play.lesson.scene(onward)
    place = play.lesson.scenes.index(scene) + 1
    return play.lesson.scenes[place] if place < len(play.lesson.scenes) else None


def _goes_to(scene: Scene, answer: Answer) -> str | None:
    """The scene that the chosen option itself leads to."""
    match scene.task:
        case ChooseOne(options=options) | JudgeDrawing(options=options):
            return next((each.go for each in options if each.id == answer), None)
        case _:
            return None


def first_tries(play: Play, path: Path, part: str = "recall") -> Mapping[str, bool]:
    """Each scene of ``part`` that was answered, with whether the first answer was right: recall before help."""
    firsts: dict[str, bool] = {}
    for each in path:
        scene = play.lesson.scene(each.scene)
        if scene and scene.part == part and scene.task:
            firsts.setdefault(scene.id, play.marked(scene, each.answer).right)
    return firsts


def path_text(path: Path) -> tuple[str, ...]:
    """The path as records hold it: ``scene:choice`` in the order tried."""
    return tuple(f"{each.scene}:{_answer_text(each.answer)}" for each in path)


def _answer_text(answer: Answer) -> str:
    match answer:
        case str():
            return answer
        case tuple():
            return ",".join(answer)
        case _:
            return ";".join(f"{spot}={','.join(there)}" for spot, there in sorted(answer.items()))
