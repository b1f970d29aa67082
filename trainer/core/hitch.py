"""Working days and cycles of a crew: a hitch of ``on`` days from ``start``, then ``off`` days away.

The last day of a hitch is crew change and no working day. A rotation without ``start`` works every day and has no
cycles.
"""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np

from trainer.core.catalogue import Rotation
from trainer.core.durations import NO_DAY, Days

__all__ = ["crew_change", "cycle", "cycle_each", "is_working", "last_working_day", "last_working_each"]


def is_working(rotation: Rotation, day: date) -> bool:
    """Whether the crew works on ``day`` and is not changing over."""
    if rotation.start is None:
        return True
    return (day - rotation.start).days % _period(rotation) < rotation.on - 1


def cycle(rotation: Rotation, day: date) -> int | None:
    """Which cycle ``day`` lies in, counted from 0 at ``start`` (below zero before it); ``None`` without rotation."""
    if rotation.start is None:
        return None
    return (day - rotation.start).days // _period(rotation)


def crew_change(rotation: Rotation, day: date) -> date | None:
    """The last day of the hitch that ``day`` lies in; ``None`` in the days away and without rotation."""
    if rotation.start is None:
        return None
    into = (day - rotation.start).days % _period(rotation)
    return day + timedelta(days=rotation.on - 1 - into) if into < rotation.on else None


def last_working_day(rotation: Rotation, first: date, last: date) -> date | None:
    """The last working day from ``first`` to ``last``, both counted; ``None`` where there is none."""
    found = int(last_working_each(rotation, first, np.array([last.toordinal()], dtype=np.int32))[0])
    return None if found == NO_DAY else date.fromordinal(found)


def last_working_each(rotation: Rotation, first: date, lasts: Days) -> Days:
    """``last_working_day`` from ``first`` to each of ``lasts``; no day where there is none."""
    found = lasts
    if rotation.start is not None:
        # A hitch too short for a working day (refused by ``check``) leaves none at all.
        into = (lasts - rotation.start.toordinal()) % _period(rotation)
        found = lasts - np.maximum(into - (rotation.on - 2), 0)
    is_there = (found >= first.toordinal()) & (rotation.start is None or rotation.on >= 2)
    return np.where(is_there, found, NO_DAY).astype(np.int32)


def cycle_each(rotation: Rotation, days: Days) -> Days | None:
    """``cycle`` of each day; ``None`` without rotation."""
    if rotation.start is None:
        return None
    return (days - np.int32(rotation.start.toordinal())) // np.int32(_period(rotation))


def _period(rotation: Rotation) -> int:
    return max(rotation.on + rotation.off, 1)
