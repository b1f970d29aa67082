"""The one place that reads the clock; ``TRAINER_NOW`` (RFC 3339) pins it for tests, demonstrations and audits."""

from __future__ import annotations

import os
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from trainer.errors import BadInput

__all__ = ["civil_day", "now", "stamp"]


def now() -> datetime:
    """The present moment, aware, in UTC; the pinned one where ``TRAINER_NOW`` is set.

    Raises ``BadInput`` when ``TRAINER_NOW`` is not an RFC 3339 time with an offset.
    """
    pinned = os.environ.get("TRAINER_NOW")
    if not pinned:
        return datetime.now(UTC)
    try:
        moment = datetime.fromisoformat(pinned)
    except ValueError:
        raise BadInput("bad-now", value=pinned) from None
    if moment.tzinfo is None:
        raise BadInput("bad-now", value=pinned)
    return moment.astimezone(UTC)


def civil_day(moment: datetime, zone: str) -> date:
    """The calendar day at ``moment`` in the time zone ``zone`` (an IANA name)."""
    return moment.astimezone(ZoneInfo(zone)).date()


def stamp(moment: datetime) -> str:
    """``moment`` as records hold it: UTC, ``YYYY-MM-DDTHH:MM:SS.mmmZ``."""
    return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.") + f"{moment.microsecond // 1000:03d}Z"
