"""Every problem that content has, wherever it stands: in content and quizzes, in the words on screen, in the drawings.

Beside the packages because it asks three of them that do not know each other: ``curriculum``, ``pictures``, ``words``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from difflib import get_close_matches

from trainer import pictures, words
from trainer.curriculum import Loaded, all_problems
from trainer.curriculum.checks.pictures import no_part
from trainer.curriculum.checks.places import pictures_of
from trainer.curriculum.loaded import PICTURES, SITE
from trainer.errors import Problem

__all__ = ["found_in"]

_DRAWINGS = "assets/pictures"


def found_in(loaded: Loaded) -> list[Problem]:
    """All problems of content, words and drawings, by file and line."""
    complete = loaded.site.complete if loaded.site is not None else ()
    same = {language: terms.same for language, terms in loaded.terms.items()}
    offered = loaded.site.languages if loaded.site is not None else None
    in_words = words.problems(loaded.root, loaded.app_root, complete, same, offered)
    sound = {name: drawing for name in loaded.pictures if (drawing := _sound(loaded, name)) is not None}
    # A part without a name is told once, where it can be mended, and not wherever it is shown.
    nameless = {no_part(name, part) for name in sound for part in _nameless(loaded, name, sound[name])}
    in_content = [each for each in all_problems(loaded) if each.what not in nameless]
    every = dict.fromkeys([*in_content, *in_words, *_without_words(loaded), *_drawings(loaded, sound)])
    return sorted(every, key=lambda each: (each.file, each.line, each.where, each.what))


def _without_words(loaded: Loaded) -> Iterator[Problem]:
    """Languages of the site that no words file makes a language of the screens, so that nobody can choose them."""
    for language in loaded.site.languages if loaded.site is not None else ():
        file = f"{words.FOLDER}/{language}.yaml"
        if not loaded.asset(file).is_file():
            todo = f"write {file}, if only common.language-name: nobody can choose the language without it"
            yield loaded.problem(SITE, ("languages",), f'there are no words in "{language}"', todo, warning=True)


def _drawings(loaded: Loaded, sound: Mapping[str, pictures.Drawing]) -> Iterator[Problem]:
    """What is wrong with the drawings that content/pictures.yaml names, and drawings that it does not name."""
    for name in loaded.pictures:
        file = _file(name)
        if not _is_there(loaded, name):
            yield loaded.problem(PICTURES, (name,), f"there is no drawing {file}", "draw it, or take the name out")
        elif name in sound:
            yield from _names(loaded, name, sound[name])
        else:
            yield from (Problem(file, line, "drawing", what, todo) for line, what, todo in _flaws(loaded, name))
    yield from _states(loaded, sound)
    for path in sorted((loaded.root / _DRAWINGS).glob("*.svg")):
        if path.stem not in loaded.pictures and PICTURES not in loaded.broken:
            near = get_close_matches(path.stem, [each for each in loaded.pictures if not _is_there(loaded, each)], n=1)
            todo = f"rename it to {near[0]}.svg" if near else f"add {path.stem} there"
            yield Problem(f"{_DRAWINGS}/{path.name}", 1, "file", f"{PICTURES} does not name it", todo)


def _file(name: str) -> str:
    return f"{_DRAWINGS}/{name}.svg"


def _is_there(loaded: Loaded, name: str) -> bool:
    return loaded.asset(_file(name)).is_file()


def _svg(loaded: Loaded, name: str) -> str:
    return loaded.asset(_file(name)).read_text("utf-8", errors="replace")


def _flaws(loaded: Loaded, name: str) -> list[pictures.Flaw]:
    """What is wrong with the drawing called ``name``; the same slip in many shapes is told once, with its lines."""
    lines: dict[tuple[str, str], list[int]] = {}
    for line, what, todo in pictures.flaws(_svg(loaded, name)):
        lines.setdefault((what, todo), []).append(line)
    return [pictures.Flaw(at[0], f"{what}{_also(at[1:])}", todo) for (what, todo), at in lines.items()]


def _also(lines: list[int]) -> str:
    more = "line" if len(lines) == 1 else "lines"
    return f" (also in {more} {', '.join(map(str, lines))})" if lines else ""


def _sound(loaded: Loaded, name: str) -> pictures.Drawing | None:
    """The drawing called ``name``; ``None`` where it is not there or may not be shown."""
    if not _is_there(loaded, name) or _flaws(loaded, name):
        return None
    return pictures.parse(_svg(loaded, name))


def _nameless(loaded: Loaded, name: str, drawing: pictures.Drawing) -> list[str]:
    return sorted(set(drawing.parts) - set(loaded.pictures[name].parts))


def _names(loaded: Loaded, name: str, drawing: pictures.Drawing) -> Iterator[Problem]:
    """Parts of the drawing that have no name, and names that no part has."""
    for part in _nameless(loaded, name, drawing):
        todo = f"add {part}: {{en: ..., es: ...}}"
        yield loaded.problem(PICTURES, (name, "parts"), f'the drawing has a part "{part}" without a name', todo)
    for part in sorted(set(loaded.pictures[name].parts) - set(drawing.parts)):
        todo = f'give a group of {_file(name)} id="{part}", or take the name out'
        yield loaded.problem(PICTURES, (name, "parts", part), f'the drawing has no part "{part}"', todo)


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
                todo = f'write one of: {", ".join(drawing.spots)}; or give it data-spot="x y" in the drawing'
                yield loaded.problem(placed.file, path, what, todo)
