"""The last thing made of its kind, kept for all tabs for as long as it is asked for by the same key."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

__all__ = ["KeptLast"]

_Key = TypeVar("_Key")
_Value = TypeVar("_Value")


class KeptLast(Generic[_Key, _Value]):
    """One value and the key that it was made for. Keys are compared by what they say and must not change."""

    def __init__(self) -> None:
        self._last: tuple[_Key, _Value] | None = None

    def of(self, key: _Key, make: Callable[[], _Value]) -> _Value:
        """What was made for ``key``, or is made now; what ``make`` raises is raised, and then nothing new is kept."""
        # No lock: two tabs that ask at once may both make it, and neither waits for a file of the other's.
        last = self._last
        if last is None or last[0] != key:
            last = self._last = (key, make())
        return last[1]
