"""``check [PATH]``: every problem in content, quizzes, words and drawings, and the pass curve of each bank.

With ``--watch`` again at every change, with ``--schemas`` the schemas that editors read are written anew.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

from trainer import pictures, words
from trainer.cli.watching import watch
from trainer.core.passcurve import PassCurve
from trainer.core.text import DEFAULT_LANGUAGE
from trainer.curriculum import Loaded, PictureText, all_problems, load, schemas
from trainer.curriculum.checks import pass_curves
from trainer.curriculum.checks.places import pictures_of
from trainer.curriculum.checks.reading import minutes_of, on_drawings
from trainer.curriculum.loaded import PICTURES
from trainer.errors import BadContent, Problem
from trainer.settings import Settings

__all__ = ["found_in", "keep_watching", "run", "write_schemas"]

_DRAWINGS = "assets/pictures"


def run(path: Path | None, settings: Settings) -> int:
    """The exit code: 0 for none but warnings, 1 for problems, 2 where ``path`` is no content.

    ``path`` is a folder as ``TRAINER_ROOT`` names one, or a single file of it, whose problems alone are then told.
    Problems go to standard error, one line each, the summary to standard output.
    """
    root, only = _root_and_file(path, settings)
    if root is None:
        print(f"{path}:1: file: no content here - name a folder with content/ in it, or a file of one", file=sys.stderr)
        return 2
    loaded = load(root, settings.app_root)
    problems = [each for each in found_in(loaded) if only is None or each.file == only]
    for each in problems:
        print(f"warning: {each}" if each.is_warning else each, file=sys.stderr)
    english = _english(loaded)
    if english is not None:
        for line in _summary(loaded, problems, english):
            print(line)
    return 1 if any(not each.is_warning for each in problems) else 0


def keep_watching(path: Path | None, settings: Settings) -> int:
    """``run`` at once and again whenever a file changes, until the keyboard stops it; then 0."""
    root, _ = _root_and_file(path, settings)
    if root is None:
        return run(path, settings)
    try:
        for _ in watch(root, lambda: run(path, settings)):
            print(f"-- {root}: watching, Ctrl+C stops", flush=True)
    except KeyboardInterrupt:
        return 0
    return 0


def write_schemas(settings: Settings) -> int:
    """Write the schemas of every family of content files beside the app's own content."""
    folder = settings.app_root / schemas.FOLDER
    folder.mkdir(exist_ok=True)
    for name, schema in schemas.schemas().items():
        (folder / name).write_text(schemas.text(schema), encoding="utf-8")
        print(folder / name)
    return 0


def found_in(loaded: Loaded) -> list[Problem]:
    """All problems of content, words and drawings, by file and line."""
    complete = loaded.site.complete if loaded.site is not None else ()
    same = {language: terms.same for language, terms in loaded.terms.items()}
    in_words = words.problems(loaded.root, loaded.app_root, complete, same)
    every = dict.fromkeys([*all_problems(loaded), *in_words, *_drawings(loaded)])
    return sorted(every, key=lambda each: (each.file, each.line, each.where, each.what))


def _root_and_file(path: Path | None, settings: Settings) -> tuple[Path | None, str | None]:
    """The content folder, and the file in it when only that one is asked for."""
    if path is None:
        return settings.root, None
    path = path.absolute()
    if path.is_dir():
        return (path, None) if (path / "content").is_dir() else (None, None)
    root = next((each for each in path.parents if (each / "content").is_dir()), None)
    if root is None or not path.is_file():
        return None, None
    return root, path.relative_to(root).as_posix()


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
    found = pictures.problems(svg)
    for what in found:
        yield Problem(file, 1, "drawing", what, "see trainer/pictures for what a drawing may hold")
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


def _english(loaded: Loaded) -> words.Words | None:
    """The words for the summary; ``None`` where they cannot be read, which is then among the problems."""
    try:
        return words.load(loaded.root, loaded.app_root)[DEFAULT_LANGUAGE]
    except BadContent:
        return None


def _summary(loaded: Loaded, problems: list[Problem], english: words.Words) -> Iterator[str]:
    """What was looked at, each bank's pass curve, and how many problems there are."""
    yield english.say(
        "check.looked-at",
        competencies=len(loaded.competencies),
        lessons=len(loaded.lessons),
        banks=len(loaded.banks),
        checklists=len(loaded.checklists),
        pictures=len(loaded.pictures),
    )
    for lesson in loaded.lessons.values():
        yield english.say(
            "check.lesson",
            lesson=lesson.id,
            scenes=len(lesson.scenes),
            drawings=on_drawings(lesson),
            minutes=f"{minutes_of(lesson, DEFAULT_LANGUAGE):.1f}",
        )
    for name, curve in pass_curves(loaded):
        yield english.say("check.pass-curve", bank=name, **_figures(curve))
    warnings = sum(each.is_warning for each in problems)
    yield english.say("check.found", problems=len(problems) - warnings, warnings=warnings)


def _figures(curve: PassCurve) -> dict[str, str]:
    return {"blind": f"{curve.blind:.5f}", "half": f"{curve.half:.3f}", "competent": f"{curve.competent:.3f}"}
