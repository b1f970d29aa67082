"""On which day a tour counts: the day on which it began, also when it runs across midnight."""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta

__all__ = ["at_hand", "began", "hours_of", "is_on", "start_of"]

_TOUR = re.compile(r"([01]\d|2[0-3]):([0-5]\d)-([01]\d|2[0-3]):([0-5]\d)", re.ASCII)

_DAY = 24 * 60
"""Minutes."""


def start_of(tour: str) -> time | None:
    """When a tour such as ``18:00-06:00`` starts; ``None`` for text that is no tour."""
    found = _TOUR.fullmatch(tour)
    return time(int(found[1]), int(found[2])) if found else None


def hours_of(tour: str) -> float | None:
    """How many hours a tour such as ``18:00-06:00`` lasts, 24 where it ends as it starts; ``None`` without a tour."""
    found = _TOUR.fullmatch(tour)
    if not found:
        return None
    start, end = (60 * int(found[at]) + int(found[at + 1]) for at in (1, 3))
    return ((end - start) % _DAY or _DAY) / 60


def began(tour: str, local: datetime) -> date:
    """The day of the last tour that had begun at ``local``, the site's own time; that time's day without a tour."""
    start = start_of(tour)
    if start is None or local.time() >= start:
        return local.date()
    return local.date() - timedelta(days=1)


def is_on(tour: str, local: datetime) -> bool:
    """Whether ``local``, the site's own time, lies within the tour's hours; text that is no tour is never on."""
    found = _TOUR.fullmatch(tour)
    if not found:
        return False
    start, end, now = time(int(found[1]), int(found[2])), time(int(found[3]), int(found[4])), local.time()
    return start <= now < end if start < end else now >= start or now < end


def at_hand(tour: str, local: datetime) -> date:
    """The day on which the tour began that is on at ``local``; between two, the day on which the next one begins.

    What is said for "this tour" before it begins is meant for the one that begins. That time's day without a tour.
    """
    start = start_of(tour)
    if start is None or is_on(tour, local):
        return began(tour, local)
    return local.date() if local.time() < start else local.date() + timedelta(days=1)
