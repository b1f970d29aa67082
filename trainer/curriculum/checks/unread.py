"""Rules on the names of files: one that nobody reads is told, before its author looks for what it does not do."""

from __future__ import annotations

import re
from pathlib import PurePosixPath
from typing import Final

from trainer.curriculum.loaded import Loaded
from trainer.errors import Problem

__all__ = ["unread_files"]

_ENDING: Final = re.compile(r"(?:\.(?:yaml|yml|svg|txt))+", re.IGNORECASE)
_FOLDERS: Final = "lessons stand in content/lessons, sheets in content/checklists, quizzes in quizzes"


def unread_files(loaded: Loaded) -> list[Problem]:
    """Files that nobody reads: refused where somebody surely meant them to be read, else a warning."""
    return [
        Problem(name, 1, "file", "nobody reads this file", *_todo(PurePosixPath(name), _drawings(name)))
        for name in loaded.unread
    ]


def _drawings(name: str) -> bool:
    return name.startswith("assets/")


def _todo(file: PurePosixPath, is_drawing: bool) -> tuple[str, bool]:
    """What to do, and whether that is only a warning."""
    stem, wanted = _stem(file.name), ".svg" if is_drawing else ".yaml"
    written = file.name[len(stem) :].casefold()
    if wanted in written.replace(".yml", ".yaml") and file.name != stem + wanted:
        return f"rename it to {stem}{wanted}", False
    if is_drawing:
        return "save the drawing as plain SVG, NAME.svg, or take the file away", True
    if written == ".yaml" and "." in stem:
        return f"write {stem.partition('.')[0]}.yaml, which it translates, beside it, or take it away", False
    if written == ".svg":
        return "move it: drawings stand in assets/pictures", False
    if written == ".yaml":
        return f"move it: {_FOLDERS}", False
    return "take it away, or give it a name that is read", True


def _stem(name: str) -> str:
    """The name without its endings."""
    found = _ENDING.search(name)
    return name[: found.start()] if found else name
