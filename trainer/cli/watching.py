"""``check --watch``: the same check again whenever a file of the content changes."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

__all__ = ["FOLDERS", "changes", "snapshot", "watch"]

FOLDERS = ("content", "quizzes", "assets/pictures")
"""What an author edits, relative to the content root."""

_PAUSE_S = 0.5

Snapshot = Mapping[Path, tuple[int, int]]


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


def changes(before: Snapshot, after: Snapshot) -> tuple[Path, ...]:
    """The files that came, went or changed between the two, by name."""
    every = before.keys() | after.keys()
    return tuple(sorted(each for each in every if before.get(each) != after.get(each)))


def watch(root: Path, check: Callable[[], object], pause: Callable[[float], None] = time.sleep) -> Iterator[int]:
    """Run ``check`` at once and after every change, yielding how many files had changed (0 the first time).

    Looks at times of change: that works on every system and on a shared folder, where notices may not arrive.
    """
    seen = snapshot(root)
    check()
    yield 0
    while True:
        pause(_PAUSE_S)
        now = snapshot(root)
        changed = changes(seen, now)
        if changed:
            seen = now
            check()
            yield len(changed)
