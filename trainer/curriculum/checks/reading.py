"""How a lesson is taken: how many of its tasks are answered on a drawing, and how long it lasts."""

from __future__ import annotations

from collections.abc import Iterator

from trainer.core.lessons import Lesson, Scene
from trainer.core.tasks import (
    JudgeDrawing,
    Option,
    PlaceCrew,
    PointAt,
    PutInOrder,
    SheetOption,
    Spot,
    Task,
    TickRow,
    TickSteps,
)
from trainer.core.text import Text, pick
from trainer.curriculum.checks.lessons import LONGEST
from trainer.curriculum.loaded import Loaded, lesson_file
from trainer.errors import Problem

__all__ = ["LEAST_ON_DRAWINGS", "lasting", "minutes_of", "on_drawings", "too_few_drawings"]

LEAST_ON_DRAWINGS = 2
"""Fewer tasks than this on drawings, and a lesson is read rather than worked."""

# Read on a tablet in a second language, slower than a page of a book; then a moment to decide, longer on a drawing.
_WORDS_A_MINUTE = 180
_SECONDS_TO_DECIDE = 5
_SECONDS_ON_A_DRAWING = 15
_ROUNDED = 0.5


def is_on_drawing(task: Task | None) -> bool:
    """Whether the answer is given on a drawing: pointing, placing, judging drawings, or an order tapped on one."""
    match task:
        case PointAt() | PlaceCrew() | JudgeDrawing():
            return True
        case PutInOrder(picture=picture):
            return picture is not None
        case _:
            return False


def on_drawings(lesson: Lesson) -> int:
    """How many of the lesson's tasks are answered on a drawing."""
    return sum(is_on_drawing(scene.task) for scene in lesson.scenes)


def too_few_drawings(loaded: Loaded) -> list[Problem]:
    """Lessons with fewer tasks on drawings than they need."""
    todo = "add one to point at, place a crew on, judge by drawings, or put in order on a picture"
    return [
        loaded.problem(
            lesson_file(lesson.id),
            ("scenes",),
            f"{found} of its tasks are answered on a drawing, at least {LEAST_ON_DRAWINGS} wanted",
            todo,
        )
        for lesson in loaded.lessons.values()
        if (found := on_drawings(lesson)) < LEAST_ON_DRAWINGS
    ]


def minutes_of(lesson: Lesson, language: str) -> float:
    """How long ``lesson`` lasts on its best path, by its words and tasks [min]."""
    words = sum(len(pick(text, language).split()) for scene in lesson.scenes for text in _read(scene))
    seconds = sum(_seconds(scene.task) for scene in lesson.scenes if scene.task is not None)
    return words / _WORDS_A_MINUTE + seconds / 60


def _seconds(task: Task) -> int:
    if isinstance(task, TickSteps):
        return _SECONDS_TO_DECIDE * len(task.rows)
    return _SECONDS_ON_A_DRAWING if is_on_drawing(task) else _SECONDS_TO_DECIDE


def _read(scene: Scene) -> Iterator[Text]:
    """What is read in ``scene`` by who answers it rightly: the question, all that can be chosen, and the reasons."""
    yield from (text for text in (scene.title, scene.text, scene.ask, scene.right) if text is not None)
    for each in _choices(scene.task):
        text = getattr(each, "text", None)
        if text is not None:
            yield text
        if getattr(each, "right", isinstance(each, TickRow)):
            yield each.why


def _choices(task: Task | None) -> Iterator[Option | Spot | SheetOption | TickRow]:
    for name in ("options", "steps", "spots", "rows"):
        yield from (each for each in getattr(task, name, ()) if not isinstance(each, str))


def lasting(loaded: Loaded) -> list[Problem]:
    """Lessons that are longer than a lesson is, or than they say, or much shorter than they say: warnings."""
    return [
        loaded.problem(lesson_file(lesson.id), ("minutes",), what, todo, warning=True)
        for lesson in loaded.lessons.values()
        for what, todo in (*_too_long(lesson, _languages(loaded)), *_too_short(lesson, _languages(loaded)))
    ]


def _too_long(lesson: Lesson, languages: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    for language in languages:
        minutes = minutes_of(lesson, language)
        if minutes > min(lesson.minutes + 1, LONGEST + _ROUNDED):
            what = f"lasts about {minutes:.1f} minutes by its words and tasks ({language})"
            yield what, f"shorten it, or write minutes as it is: {LONGEST} at most"


def _too_short(lesson: Lesson, languages: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    minutes = max((minutes_of(lesson, language) for language in languages), default=lesson.minutes)
    if minutes < lesson.minutes - 1:
        what = f"{lesson.minutes} minutes, but its words and tasks come to about {minutes:.1f}"
        yield what, "add a scene that has something to decide, or write fewer minutes"


def _languages(loaded: Loaded) -> tuple[str, ...]:
    return loaded.site.complete if loaded.site is not None else ()
