"""``check --watch``: the same check again whenever a file of the content changes."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from pathlib import Path

from trainer.curriculum.files import FOLDERS, Snapshot, snapshot

__all__ = ["FOLDERS", "changes", "snapshot", "watch"]

_PAUSE_S = 0.5


def changes(before: Snapshot, after: Snapshot) -> tuple[Path, ...]:
    """The files that came, went or changed between the two, by name."""
    every = before.keys() | after.keys()
    return tuple(sorted(each for each in every if before.get(each) != after.get(each)))


def watch(
    root: Path, check: Callable[[tuple[Path, ...] | None], object], pause: Callable[[float], None] = time.sleep
) -> Iterator[int]:
    """Run ``check`` at once and after every change, yielding how many files had changed (0 the first time).

    ``check`` is given the files that changed, ``None`` the first time. Looks at times of change: that works on every
    system and on a shared folder, where notices may not arrive.
    """
    seen = snapshot(root)
    check(None)
    yield 0
    while True:
        pause(_PAUSE_S)
        now = snapshot(root)
        changed = changes(seen, now)
        if changed:
            seen = now
            check(changed)
            yield len(changed)
