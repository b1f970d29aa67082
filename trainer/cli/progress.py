"""A bar on stderr while something long runs: only for somebody who watches, never into a file or a pipe."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TextIO

from trainer.actions.importing import Told

__all__ = ["bar"]

_WIDTH = 30


@contextmanager
def bar(stream: TextIO | None = None) -> Iterator[Told]:
    """What draws the bar, and takes it away at the end; on a stream that is no terminal it draws nothing."""
    out = stream or sys.stderr
    if not out.isatty():
        yield lambda _done, _of: None
        return
    told = _Bar(out)
    try:
        yield told
    finally:
        told.clear()


class _Bar:
    def __init__(self, out: TextIO) -> None:
        self._out = out
        self._shown = ""

    def __call__(self, done: int, of: int) -> None:
        share = done / of if of else 1.0
        drawn = f"[{'#' * int(_WIDTH * share):{_WIDTH}}] {share:4.0%}"
        if drawn != self._shown:
            self._shown = drawn
            self._out.write(f"\r{drawn}")
            self._out.flush()

    def clear(self) -> None:
        """Leave the line empty for what is said next."""
        self._out.write(f"\r{' ' * len(self._shown)}\r")
        self._out.flush()
