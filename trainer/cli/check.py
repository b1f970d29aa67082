"""``check [PATH]``: every problem in content, quizzes, words and drawings, and the pass curve of each bank.

With ``--watch`` again at every change, with ``--schemas`` the schemas that editors read are written anew.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

from trainer import words
from trainer.cli.watching import watch
from trainer.core.passcurve import PassCurve
from trainer.core.text import DEFAULT_LANGUAGE
from trainer.curriculum import Loaded, load, schemas
from trainer.curriculum.checks import pass_curves
from trainer.curriculum.checks.reading import minutes_of, on_drawings
from trainer.errors import BadContent, Problem
from trainer.found import found_in
from trainer.settings import Settings

__all__ = ["found_in", "keep_watching", "run", "write_schemas"]


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
