"""``check [PATH]``: every problem in content, quizzes, words and drawings, and the pass curve of each bank.

With ``--watch`` again at every change, with ``--schemas`` the schemas that editors read are written anew.
"""

from __future__ import annotations

import sys
from collections.abc import Collection, Iterator
from pathlib import Path

from trainer import clock, words
from trainer.cli.watching import watch
from trainer.core.passcurve import PassCurve
from trainer.core.text import DEFAULT_LANGUAGE
from trainer.curriculum import Loaded, load, schemas
from trainer.curriculum.checks import pass_curves
from trainer.curriculum.checks.reading import minutes_of, on_drawings
from trainer.curriculum.loaded import bank_file, lesson_file
from trainer.errors import BadContent
from trainer.found import found_in
from trainer.settings import Settings

__all__ = ["found_in", "keep_watching", "run", "write_schemas"]


def run(path: Path | None, settings: Settings) -> int:
    """The exit code: 0 for none but warnings, 1 for problems, 2 where ``path`` is no content.

    ``path`` is a folder as ``TRAINER_ROOT`` names one, or a single file of it, whose problems and figures alone are
    then told. Problems go to standard error, one line each, the rest to standard output.
    """
    root, only = _root_and_file(path, settings)
    if root is None:
        print(_no_content(path, settings), file=sys.stderr)
        return 2
    print(f"Looked at {root}")
    return _look(root, settings, only, None if only is None else {only})


def keep_watching(path: Path | None, settings: Settings) -> int:
    """``run`` at once and again whenever a file changes, until the keyboard stops it; then 0.

    From the second time on, only the figures of what changed are told.
    """
    root, only = _root_and_file(path, settings)
    if root is None:
        return run(path, settings)

    def look(changed: tuple[Path, ...] | None) -> None:
        print(f"Looked at {root}")
        of = None if changed is None else {each.relative_to(root).as_posix() for each in changed}
        _look(root, settings, only, {only} if only is not None else of)

    try:
        for _ in watch(root, look):
            print(f"-- {clock.now().astimezone():%H:%M:%S} watching {root}, Ctrl+C stops", flush=True)
    except KeyboardInterrupt:
        return 0
    return 0


def _look(root: Path, settings: Settings, only: str | None, of: Collection[str] | None) -> int:
    """Tell figures ``of`` these files (``None``: of all), then every problem (of ``only`` one), then how many."""
    loaded = load(root, settings.app_root)
    problems = [each for each in found_in(loaded) if only is None or each.file == only]
    english = _english(loaded)
    if english is not None:
        for line in _figures_of(loaded, of, english):
            print(line)
    sys.stdout.flush()
    for each in problems:
        print(f"warning: {each}" if each.is_warning else each, file=sys.stderr)
    warnings = sum(each.is_warning for each in problems)
    if english is not None:
        print(english.say("check.found", problems=len(problems) - warnings, warnings=warnings))
    return 1 if len(problems) > warnings else 0


def _no_content(path: Path | None, settings: Settings) -> str:
    if path is None:
        todo = "set TRAINER_ROOT to the folder that holds your content/, or take it away"
        return f"{settings.root}:1: file: no content here, where TRAINER_ROOT says - {todo}"
    return f"{path}:1: file: no content here - name a folder with content/ in it, or a file of one"


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
        return (settings.root, None) if (settings.root / "content").is_dir() else (None, None)
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


def _figures_of(loaded: Loaded, of: Collection[str] | None, english: words.Words) -> Iterator[str]:
    """How much there is, and the length of each lesson and the chance to pass each bank that are among ``of``."""
    if of is None:
        yield english.say(
            "check.looked-at",
            competencies=len(loaded.competencies),
            lessons=len(loaded.lessons),
            banks=len(loaded.banks),
            checklists=len(loaded.checklists),
            pictures=len(loaded.pictures),
        )
    for lesson in loaded.lessons.values():
        if of is None or lesson_file(lesson.id) in of:
            yield english.say(
                "check.lesson",
                lesson=lesson.id,
                scenes=len(lesson.scenes),
                drawings=on_drawings(lesson),
                minutes=f"{minutes_of(lesson, DEFAULT_LANGUAGE):.1f}",
            )
    for name, curve in pass_curves(loaded):
        if of is None or bank_file(name) in of:
            said = english.say("check.pass-curve", bank=name, **_figures(curve))
            yield f"{said} - {'fair' if curve.is_acceptable else 'not fair'}"


def _figures(curve: PassCurve) -> dict[str, str]:
    return {"blind": f"{curve.blind:.5f}", "half": f"{curve.half:.3f}", "competent": f"{curve.competent:.3f}"}
