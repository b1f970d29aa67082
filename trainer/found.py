"""Every problem that content has, wherever it stands: in content and quizzes, in the words on screen, in the drawings.

Beside the packages because it asks three of them that do not know each other: ``curriculum``, ``pictures``, ``words``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from trainer import pictures, words
from trainer.curriculum import Loaded, PictureText, all_problems
from trainer.curriculum.checks.places import pictures_of
from trainer.curriculum.loaded import PICTURES, SITE
from trainer.errors import Problem

__all__ = ["found_in"]

_DRAWINGS = "assets/pictures"
_DRAWING_HOLDS = "keep to plain shapes in our colours, no scripts, links or words; content/WRITING.md says how"


def found_in(loaded: Loaded) -> list[Problem]:
    """All problems of content, words and drawings, by file and line."""
    complete = loaded.site.complete if loaded.site is not None else ()
    same = {language: terms.same for language, terms in loaded.terms.items()}
    offered = loaded.site.languages if loaded.site is not None else None
    in_words = words.problems(loaded.root, loaded.app_root, complete, same, offered)
    every = dict.fromkeys([*all_problems(loaded), *in_words, *_without_words(loaded), *_drawings(loaded)])
    return sorted(every, key=lambda each: (each.file, each.line, each.where, each.what))


def _without_words(loaded: Loaded) -> Iterator[Problem]:
    """Languages of the site that no words file makes a language of the screens, so that nobody can choose them."""
    for language in loaded.site.languages if loaded.site is not None else ():
        file = f"{words.FOLDER}/{language}.yaml"
        if not loaded.asset(file).is_file():
            todo = f"write {file}, if only common.language-name: nobody can choose the language without it"
            yield loaded.problem(SITE, ("languages",), f'there are no words in "{language}"', todo, warning=True)


def _drawings(loaded: Loaded) -> Iterator[Problem]:
    """What is wrong with the drawings that content/pictures.yaml names, and drawings that it does not name."""
    sound: dict[str, pictures.Drawing] = {}
    for name, told in loaded.pictures.items():
        file = f"{_DRAWINGS}/{name}.svg"
        if not loaded.asset(file).is_file():
            yield loaded.problem(PICTURES, (name,), f"there is no drawing {file}", "draw it, or take the name out")
        else:
            yield from _drawing(loaded, name, told, file, sound)
    yield from _states(loaded, sound)
    for path in sorted((loaded.root / _DRAWINGS).glob("*.svg")):
        if path.stem not in loaded.pictures and PICTURES not in loaded.broken:
            yield Problem(
                f"{_DRAWINGS}/{path.name}", 1, "file", f"{PICTURES} does not name it", f"add {path.stem} there"
            )


def _drawing(
    loaded: Loaded, name: str, told: PictureText, file: str, sound: dict[str, pictures.Drawing]
) -> Iterator[Problem]:
    """What is wrong with one drawing; it is put into ``sound`` where it may be shown."""
    svg = loaded.asset(file).read_text("utf-8", errors="replace")
    found = pictures.located_problems(svg)
    for line, what in found:
        yield Problem(file, line, "drawing", what, _DRAWING_HOLDS)
    if not found:
        sound[name] = pictures.parse(svg)
        for what in pictures.naming_problems(sound[name].parts, told.parts):
            yield loaded.problem(PICTURES, (name, "parts"), what, "make drawing and names fit each other")


def _states(loaded: Loaded, sound: Mapping[str, pictures.Drawing]) -> Iterator[Problem]:
    """Motions, marks and places to point at that content asks of a part which the drawing does not give them."""
    for placed in pictures_of(loaded):
        drawing, picture = sound.get(placed.picture.name), placed.picture
        if drawing is None:
            continue
        known = frozenset(drawing.parts)
        if picture.move in known - drawing.motions:
            what = f'{picture.name} has no motion "{picture.move}"'
            todo = f"write one of: {', '.join(sorted(drawing.motions))}" if drawing.motions else "use show"
            yield loaded.problem(placed.file, (*placed.path, "move"), what, todo)
        marked = [((*placed.path, "marks", part), part) for part in picture.marks]
        for path, part in (*marked, *placed.spots):
            if part in known - drawing.spots.keys():
                what = f'"{part}" of {picture.name} cannot be pointed at'
                yield loaded.problem(placed.file, path, what, f"write one of: {', '.join(drawing.spots)}")
