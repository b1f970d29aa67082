"""Calendar durations as content writes them (``P12M``, ``P1Y2M3W4D``), and the days they lead to.

Years and months come first, clamped to the month's end; then weeks and days; the same when subtracting
(31 March less ``P1M`` is 28 or 29 February). What would lie beyond the calendar of ``datetime.date`` is its first or
last day, so that ``P9000Y`` may stand for "for good".

Many days at once are ``int32`` ordinals as ``date.toordinal`` counts them (1 = 1 January of year 1); 0 is "no day".
For many cells at once see ``calendars``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
import numpy.typing as npt

__all__ = ["NO_DAY", "Days", "Duration", "after", "after_each", "before", "before_each", "parse", "text"]

Days = npt.NDArray[np.int32]
"""Ordinals of days, ``NO_DAY`` where there is none."""

NO_DAY = 0

_FORM = re.compile(r"P(?:(\d{1,5})Y)?(?:(\d{1,5})M)?(?:(\d{1,5})W)?(?:(\d{1,5})D)?", re.ASCII)
_LAST = date.max.toordinal()
_EPOCH = date(1970, 1, 1).toordinal()


@dataclass(frozen=True, slots=True)
class Duration:
    """Whole years, months, weeks and days, none below zero."""

    years: int = 0
    months: int = 0
    weeks: int = 0
    days: int = 0

    def __post_init__(self) -> None:
        if min(self.years, self.months, self.weeks, self.days) < 0:
            raise ValueError(f"a duration is not below zero: {self}")

    def all_months(self) -> int:
        """Years and months as months."""
        return 12 * self.years + self.months

    def all_days(self) -> int:
        """Weeks and days as days."""
        return 7 * self.weeks + self.days


def parse(written: str) -> Duration:
    """The duration that ``written`` stands for.

    Raises ``ValueError`` with what to write when it is not whole years, months, weeks, days in that order.
    """
    found = _FORM.fullmatch(written)
    if found is None or not any(found.groups()):
        raise ValueError(
            f"{written!r} is not a duration - write P, then whole years Y, months M, weeks W, days D in that order, "
            "e.g. P12M, P30D or P1Y6M"
        )
    return Duration(*(int(each or 0) for each in found.groups()))


def text(duration: Duration) -> str:
    """The duration as ``parse`` reads it, without its zero fields; ``P0D`` for none at all."""
    fields = ((duration.years, "Y"), (duration.months, "M"), (duration.weeks, "W"), (duration.days, "D"))
    return "P" + ("".join(f"{count}{letter}" for count, letter in fields if count) or "0D")


def after(day: date, duration: Duration) -> date:
    """The day that lies ``duration`` after ``day``."""
    return _shifted(day, duration, 1)


def before(day: date, duration: Duration) -> date:
    """The day that lies ``duration`` before ``day``."""
    return _shifted(day, duration, -1)


def after_each(days: Days, duration: Duration) -> Days:
    """``after`` of each day; no day stays no day."""
    return _each(days, duration, 1)


def before_each(days: Days, duration: Duration) -> Days:
    """``before`` of each day; no day stays no day."""
    return _each(days, duration, -1)


def _shifted(day: date, duration: Duration, sign: int) -> date:
    year, month = divmod(day.year * 12 + day.month - 1 + sign * duration.all_months(), 12)
    if not date.min.year <= year <= date.max.year:
        return date.max if sign > 0 else date.min
    clamped = date(year, month + 1, min(day.day, _month_length(year, month + 1)))
    try:
        return clamped + sign * timedelta(days=duration.all_days())
    except OverflowError:
        return date.max if sign > 0 else date.min


def _month_length(year: int, month: int) -> int:
    if month == 2:
        return 29 if year % 4 == 0 and (year % 100 != 0 or year % 400 == 0) else 28
    return 30 if month in (4, 6, 9, 11) else 31


def _each(days: Days, duration: Duration, sign: int) -> Days:
    moved = _computed(days, duration, sign)
    moved[days == NO_DAY] = NO_DAY
    return moved


def _computed(days: Days, duration: Duration, sign: int) -> Days:
    whole = (days.astype(np.int64) - _EPOCH).astype("datetime64[D]")
    month = whole.astype("datetime64[M]")
    of_month = whole - month.astype("datetime64[D]")
    month = month + np.timedelta64(sign * duration.all_months(), "M")
    start, following = month.astype("datetime64[D]"), (month + np.timedelta64(1, "M")).astype("datetime64[D]")
    clamped = start + np.minimum(of_month, following - start - np.timedelta64(1, "D"))
    ordinals = clamped.astype(np.int64) + (_EPOCH + sign * duration.all_days())
    held: Days = np.clip(ordinals, 1, _LAST).astype(np.int32)
    return held
