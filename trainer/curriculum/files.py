"""What an author edits, how it is told that something of it changed, and which files of it nobody reads."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Final, TypeAlias

from trainer.curriculum.overlays import overlay_language

__all__ = ["FOLDERS", "READ", "Snapshot", "snapshot", "unread"]

FOLDERS = ("content", "quizzes", "assets/pictures")
"""What an author edits, relative to the content root."""

Snapshot: TypeAlias = Mapping[Path, tuple[int, int]]


def snapshot(root: Path) -> Snapshot:
    """Each file below ``FOLDERS`` with its time of change [ns] and size; a file that goes meanwhile is left out."""
    found: dict[Path, tuple[int, int]] = {}
    for folder in FOLDERS:
        for file in (root / folder).rglob("*"):
            try:
                told = file.stat()
            except FileNotFoundError:
                continue
            if file.is_file():
                found[file] = (told.st_mtime_ns, told.st_size)
    return found


READ: Final[tuple[tuple[str, str], ...]] = (
    ("content", r"(competencies|pictures|site|terms)\.yaml"),
    ("content/lessons", r"[^.]+\.yaml"),
    ("content/checklists", r"[^.]+\.yaml"),
    ("content/words", r"[^.]+\.yaml"),
    ("content/schemas", r"[^.]+\.json"),
    ("quizzes", r"[^.]+\.yaml"),
    ("assets/pictures", r"[^.]+\.svg"),
)
"""A folder, relative to the content root, and the names of the files in it that are read."""

_TRANSLATED: Final = ("content", "content/lessons", "content/checklists", "quizzes")
_ASIDE: Final = re.compile(r"\..*|.*~|#.*#|.*\.(?:swp|swo|tmp|bak|orig|md)|Thumbs\.db|desktop\.ini", re.IGNORECASE)
"""What editors and systems leave behind, and notes beside the content."""


def unread(root: Path) -> tuple[str, ...]:
    """The files in an author's folders that no part of the program reads, by name relative to ``root``."""
    return tuple(sorted(name for folder in FOLDERS for name in _unread(root, root / folder)))


def _unread(root: Path, folder: Path) -> Iterator[str]:
    for file in folder.rglob("*"):
        inside = file.relative_to(root)
        if any(_ASIDE.fullmatch(part) for part in inside.parts) or not file.is_file():
            continue
        if not _is_read(file, inside.parent.as_posix()):
            yield inside.as_posix()


def _is_read(file: Path, folder: str) -> bool:
    name = file.name
    language = overlay_language(file) if folder in _TRANSLATED else None
    if language is not None and (beside := file.with_name(name.removesuffix(f".{language}.yaml") + ".yaml")).is_file():
        name = beside.name
    return any(folder == each and re.fullmatch(pattern, name) for each, pattern in READ)
