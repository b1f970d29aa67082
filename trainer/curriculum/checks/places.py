"""Every task and picture in lessons and banks, with the place where it stands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from trainer.core.tasks import ChooseAll, ChooseOne, JudgeDrawing, Picture, PlaceCrew, PointAt, PutInOrder, Task
from trainer.curriculum.loaded import Loaded, bank_file, lesson_file
from trainer.curriculum.nodes import Path

__all__ = ["PlacedPicture", "PlacedTask", "pictures_of", "tasks_of"]


@dataclass(frozen=True, slots=True)
class PlacedTask:
    """A task, its file and its path there; ``in_lesson`` for one of a lesson's scenes."""

    file: str
    path: Path
    task: Task
    in_lesson: bool


@dataclass(frozen=True, slots=True)
class PlacedPicture:
    """A picture as some place of a file shows it; ``spots`` are the parts that must be there to be pointed at.

    ``is_worked`` where it is pointed at, placed on or judged, and not only looked at.
    """

    file: str
    path: Path
    picture: Picture
    spots: tuple[tuple[Path, str], ...] = ()
    is_worked: bool = False


def tasks_of(loaded: Loaded) -> Iterator[PlacedTask]:
    """Every task of lessons, then of banks."""
    for lesson in loaded.lessons.values():
        for scene in lesson.scenes:
            if scene.task is not None:
                yield PlacedTask(lesson_file(lesson.id), ("scenes", scene.id, "task"), scene.task, True)
    for bank in loaded.banks.values():
        for item in bank.items:
            yield PlacedTask(bank_file(bank.id), ("items", item.id, "task"), item.task, False)


def pictures_of(loaded: Loaded) -> Iterator[PlacedPicture]:
    """Every picture of lessons and banks: those beside a question, and those within its task."""
    for lesson in loaded.lessons.values():
        for scene in lesson.scenes:
            if scene.picture is not None:
                yield PlacedPicture(lesson_file(lesson.id), ("scenes", scene.id, "picture"), scene.picture)
        for number, point in enumerate(lesson.talk, 1):
            if point.picture is not None:
                yield PlacedPicture(lesson_file(lesson.id), ("talk", number, "picture"), point.picture)
    for bank in loaded.banks.values():
        for item in bank.items:
            if item.picture is not None:
                yield PlacedPicture(bank_file(bank.id), ("items", item.id, "picture"), item.picture)
    for placed in tasks_of(loaded):
        for path, picture, spots in _in_task(placed.task):
            below = tuple(((*placed.path, *spot), part) for spot, part in spots)
            is_worked = bool(spots) or isinstance(placed.task, JudgeDrawing)
            yield PlacedPicture(placed.file, (*placed.path, *path), picture, below, is_worked)


def _in_task(task: Task) -> Iterator[tuple[Path, Picture, tuple[tuple[Path, str], ...]]]:
    match task:
        case ChooseOne(options=options) | ChooseAll(options=options) | JudgeDrawing(options=options):
            yield from ((("options", each.id, "picture"), each.picture, ()) for each in options if each.picture)
        case PutInOrder(steps=steps, picture=plan, at=at):
            if plan is not None:
                yield ("picture",), plan, tuple((("at", step), part) for step, part in at.items())
            yield from ((("steps", each.id, "picture"), each.picture, ()) for each in steps if each.picture)
        case PointAt(picture=picture, spots=spots):
            yield ("picture",), picture, tuple((("spots", each.part), each.part) for each in spots)
            yield from ((("spots", each.part, "picture"), each.picture, ()) for each in spots if each.picture)
        case PlaceCrew(picture=picture, spots=names):
            yield ("picture",), picture, tuple((("spots", number), each) for number, each in enumerate(names, 1))
        case _:
            return
