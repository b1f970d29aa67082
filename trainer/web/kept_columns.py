"""The columns of one store, kept for all tabs and read on with every new head."""

from __future__ import annotations

from threading import Lock

from trainer.actions import look
from trainer.actions.desk import Desk
from trainer.actions.look import Known

__all__ = ["KeptColumns"]


class KeptColumns:
    """What was last read of one store. What it gives never changes; only which one is the last does."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._last: Known | None = None

    def brought_forward(self, desk: Desk) -> Known:
        """The columns as of now; two tabs that ask at once read what is new one time."""
        with self._lock:
            self._last = look.brought_forward(desk, self._last)
            return self._last
