"""When a quiz may be taken again, and on which day a tour counts."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from trainer.core.catalogue import Assessment
from trainer.core.retakes import Attempt, MayStart, may_start
from trainer.core.tours import began, start_of

RULES = Assessment()
NOW = datetime(2026, 3, 10, 6, 0, tzinfo=UTC)


def ago(hours: float) -> datetime:
    """So many hours before now."""
    return NOW - timedelta(hours=hours)


def missed(*hours: float) -> list[Attempt]:
    """Tries not passed, so many hours ago."""
    return [Attempt(ago(each), passed=False) for each in hours]


def test_a_first_try_is_always_open() -> None:
    assert may_start(RULES, [], [], NOW) == MayStart(True, tries_left=3)


@pytest.mark.parametrize(("hours", "ok"), [(11.99, False), (12, True)])
def test_twelve_hours_lie_between_two_tries(hours: float, ok: bool) -> None:
    found = may_start(RULES, missed(hours), [], NOW)
    assert found.ok is ok
    assert found.tries_left == 2
    assert ok or found.since == ago(hours) + timedelta(hours=12)


def test_three_tries_in_seven_days_then_a_talk() -> None:
    found = may_start(RULES, missed(100, 60, 20), [], NOW)
    assert found == MayStart(False, "talk-first", ago(100) + timedelta(days=7))
    assert may_start(RULES, missed(100, 60, 20), [ago(1)], NOW) == MayStart(True, tries_left=3)


def test_a_talk_before_the_last_try_opens_nothing() -> None:
    assert may_start(RULES, missed(100, 60, 20), [ago(21)], NOW).tries_left == 2
    assert may_start(RULES, missed(100, 60, 40, 20), [ago(120)], NOW).code == "talk-first"


def test_a_talk_does_not_shorten_the_rest() -> None:
    assert may_start(RULES, missed(100, 60, 2), [ago(1)], NOW).code == "too-soon"


def test_tries_older_than_seven_days_count_no_more() -> None:
    assert may_start(RULES, missed(169, 60, 20), [], NOW) == MayStart(True, tries_left=1)


def test_a_pass_wipes_the_slate() -> None:
    tries = [*missed(100, 60, 40), Attempt(ago(20), passed=True)]
    assert may_start(RULES, tries, [], NOW) == MayStart(True, tries_left=3)


@pytest.mark.parametrize(
    ("tour", "local", "day"),
    [
        ("18:00-06:00", "2026-03-02T23:30", "2026-03-02"),
        ("18:00-06:00", "2026-03-03T02:00", "2026-03-02"),
        ("18:00-06:00", "2026-03-03T06:30", "2026-03-02"),
        ("18:00-06:00", "2026-03-03T18:00", "2026-03-03"),
        ("06:00-18:00", "2026-03-03T05:59", "2026-03-02"),
        ("06:00-18:00", "2026-03-03T06:00", "2026-03-03"),
        ("", "2026-03-03T02:00", "2026-03-03"),
        ("nights", "2026-03-03T02:00", "2026-03-03"),
    ],
)
def test_a_tour_counts_on_the_day_it_began(tour: str, local: str, day: str) -> None:
    assert began(tour, datetime.fromisoformat(local)) == date.fromisoformat(day)


@pytest.mark.parametrize("text", ["25:00-06:00", "18-6", "18:00 - 06:00", "18:60-06:00"])
def test_what_is_no_tour_has_no_start(text: str) -> None:
    assert start_of(text) is None
