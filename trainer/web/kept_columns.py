"""The columns of one store, kept for all tabs and read on with every new head, and the matrix last made of them."""

from __future__ import annotations

from datetime import date
from threading import Lock

from trainer.actions import look
from trainer.actions.desk import Desk
from trainer.actions.look import Known
from trainer.core.matrix import Matrix

__all__ = ["KeptColumns"]


class KeptColumns:
    """What was last read of one store. What it gives never changes; only which one is the last does."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._last: Known | None = None
        self._made: tuple[str, Matrix] | None = None
        # Whose evidence came since the matrix was made; None where more than that is new.
        self._touched: frozenset[str] | None = None

    def matrix(self, desk: Desk, as_of: date) -> Matrix:
        """The matrix as of now; two tabs that ask at once read what is new one time."""
        with self._lock:
            known = self._brought_forward(desk)
            made = self._again(desk, as_of, known) or look.matrix(desk, as_of, known)
            self._made, self._touched = (desk.catalogue.hash, made), frozenset()
            return made

    def _brought_forward(self, desk: Desk) -> Known:
        known = look.brought_forward(desk, self._last)
        if self._touched is not None:
            self._touched = None if known.touched is None else self._touched | known.touched
        self._last = known
        return known

    def _again(self, desk: Desk, as_of: date, known: Known) -> Matrix | None:
        """The same from the matrix last made, where that was of this day and these rules."""
        if self._made is None or self._touched is None:
            return None
        rules, before = self._made
        if (rules, before.as_of) != (desk.catalogue.hash, as_of):
            return None
        return look.matrix_again(desk, before, known, self._touched)
