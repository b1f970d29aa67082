"""Working days and cycles of a crew: a hitch of ``on`` days from ``start``, then ``off`` days away.

The last day of a hitch is crew change and no working day. A rotation without ``start`` works every day and has no
cycles.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
import numpy.typing as npt

from trainer.core.catalogue import Rotation
from trainer.core.durations import Days

__all__ = ["Hitches", "crew_change", "cycle", "hitches", "is_working", "last_working_day"]


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
    if rotation.start is None:
        return last if first <= last else None
    into = (last - rotation.start).days % _period(rotation)
    found = last - timedelta(days=max(into - (rotation.on - 2), 0))
    # A hitch too short for a working day (refused by ``check``) leaves none at all.
    return found if found >= first and rotation.on >= 2 else None


@dataclass(frozen=True, slots=True)
class Hitches:
    """The rotations of many hands as arrays, one place a hand; a rotation of one working day where there is none.

    ``has_working_days`` is not so for a hitch too short for a working day (refused by ``check``).
    """

    start: Days
    period: Days
    working: Days
    has_rotation: npt.NDArray[np.bool_]
    has_working_days: npt.NDArray[np.bool_]

    def last_working(self, days: Days) -> Days:
        """The last working day up to each of ``days``, arrays (anything, hands)."""
        into = days - self.start
        into %= self.period
        into -= self.working - 1
        np.maximum(into, 0, out=into)
        found: Days = np.subtract(days, into, out=into)
        return found

    def next_cycle(self, day: date) -> Days:
        """The first day of the cycle after that of ``day``; the first of all days without a rotation."""
        into = (np.int32(day.toordinal()) - self.start) % self.period
        return np.where(self.has_rotation, np.int32(day.toordinal()) - into + self.period, np.int32(0))

    def between(self, start: int, stop: int) -> Hitches:
        """Those of the hands from place ``start`` to before ``stop``."""
        own = slice(start, stop)
        return Hitches(
            self.start[own], self.period[own], self.working[own], self.has_rotation[own], self.has_working_days[own]
        )


def hitches(rotations: Sequence[Rotation], which: npt.NDArray[np.integer]) -> Hitches:
    """The hitches of hands of whom each has the rotation at the place that ``which`` says."""
    if len(which) < len(rotations):
        rotations, which = [rotations[place] for place in which], np.arange(len(which))
    given = [each if each.start else None for each in rotations]
    start, period, working = (
        np.array(values, dtype=np.int32)
        for values in (
            [each.start.toordinal() if each and each.start else 0 for each in given],
            [_period(each) if each else 1 for each in given],
            [each.on - 1 if each else 1 for each in given],
        )
    )
    has_rotation = np.array([each is not None for each in given], dtype=np.bool_)
    return Hitches(start[which], period[which], working[which], has_rotation[which], (working >= 1)[which])


def _period(rotation: Rotation) -> int:
    return max(rotation.on + rotation.off, 1)
