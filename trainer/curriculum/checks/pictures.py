"""Rules on pictures: each drawing and part that content shows has a name in content/pictures.yaml.

That a drawing's file may be shown, and has the parts so named, is checked where drawings are read.
"""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches

from trainer.curriculum.checks.places import PlacedPicture, pictures_of
from trainer.curriculum.loaded import PICTURES, Loaded
from trainer.curriculum.nodes import Path
from trainer.errors import Problem

__all__ = ["no_part", "unknown_pictures"]

MARKS = ("right", "wrong", "look")


def unknown_pictures(loaded: Loaded) -> list[Problem]:
    """Drawings, parts and marks that are not there."""
    if PICTURES in loaded.broken:
        return []
    return [
        loaded.problem(placed.file, path, what, todo)
        for placed in pictures_of(loaded)
        for path, what, todo in _problems(loaded, placed)
    ]


def _problems(loaded: Loaded, placed: PlacedPicture) -> Iterator[tuple[Path, str, str]]:
    words = loaded.pictures.get(placed.picture.name)
    if words is None:
        what = f'there is no picture "{placed.picture.name}"'
        yield (*placed.path, "name"), what, _near(placed.picture.name, list(loaded.pictures), PICTURES)
        return
    for path, part in (*_parts(placed), *placed.spots):
        if part not in words.parts:
            yield path, no_part(placed.picture.name, part), _near(part, list(words.parts), ", ".join(words.parts))
    for part, mark in placed.picture.marks.items():
        if mark not in MARKS:
            yield (*placed.path, "marks", part), f'there is no mark "{mark}"', f"write one of {', '.join(MARKS)}"
    if placed.picture.move and placed.is_worked:
        todo = "take move out, or show its still form with show"
        yield (*placed.path, "move"), "a drawing that is worked on stands still", todo


def no_part(picture: str, part: str) -> str:
    """What is said of a part that ``picture`` has no name for."""
    return f'{picture} has no part "{part}"'


def _parts(placed: PlacedPicture) -> Iterator[tuple[Path, str]]:
    for key, parts in (("show", placed.picture.show), ("hide", placed.picture.hide)):
        yield from (((*placed.path, key), part) for part in parts)
    yield from (((*placed.path, "marks", part), part) for part in placed.picture.marks)
    if placed.picture.move:
        yield (*placed.path, "move"), placed.picture.move


def _near(name: str, known: list[str], where: str) -> str:
    near = get_close_matches(name, known, n=1, cutoff=0.6)
    return f'did you mean "{near[0]}"?' if near else f"write one of: {where}"
