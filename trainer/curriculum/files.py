"""What an author edits, and how it is told that something of it changed."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TypeAlias

__all__ = ["FOLDERS", "Snapshot", "snapshot"]

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
