"""When a quiz may be taken again: not before the next tour, and after too many tries only after a talk."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from trainer.core.catalogue import Assessment

__all__ = ["Attempt", "MayStart", "may_start"]


@dataclass(frozen=True, slots=True)
class Attempt:
    """One earlier quiz, or a talk about it: when, and whether it was passed."""

    at: datetime
    passed: bool


@dataclass(frozen=True, slots=True)
class MayStart:
    """Whether a quiz may be started; else ``code`` says why not, and ``since`` from when without a talk.

    ``too-soon``: the next tour has to come first. ``talk-first``: the tries are used up, a talk with the driller opens
    it again. ``tries_left`` counts those before a talk is due.
    """

    ok: bool
    code: str = ""
    since: datetime | None = None
    tries_left: int = 0


def may_start(rules: Assessment, attempts: Iterable[Attempt], talks: Iterable[datetime], now: datetime) -> MayStart:
    """Whether a quiz may be started at ``now`` after these attempts and talks of the same hand about the same quiz.

    Only tries not passed since the last pass count. A talk after the last of them opens it again at once, but for the
    hours that lie between two tries anyway.
    """
    misses = _misses_since_pass(attempts)
    if not misses:
        return MayStart(True, tries_left=rules.attempts)
    last_talk = max(talks, default=None)
    counted = [each for each in misses if last_talk is None or each > last_talk]
    window = timedelta(days=rules.attempts_days)
    recent = [each for each in counted if now - each < window]
    left = max(0, rules.attempts - len(recent))
    again = misses[-1] + timedelta(hours=rules.retake_hours)
    if recent and left == 0:
        return MayStart(False, "talk-first", max(recent[-rules.attempts] + window, again))
    if now < again:
        return MayStart(False, "too-soon", again, left)
    return MayStart(True, tries_left=left)


def _misses_since_pass(attempts: Iterable[Attempt]) -> list[datetime]:
    misses: list[datetime] = []
    for each in sorted(attempts, key=lambda each: each.at):
        if each.passed:
            misses.clear()
        else:
            misses.append(each.at)
    return misses
