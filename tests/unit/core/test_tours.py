"""A tour is on between its hours, also across midnight."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from trainer.core.tours import at_hand, hours_of, is_on


@pytest.mark.parametrize(
    ("tour", "hour", "on"),
    [
        ("06:00-18:00", 6, True),
        ("06:00-18:00", 17, True),
        ("06:00-18:00", 18, False),
        ("06:00-18:00", 3, False),
        ("18:00-06:00", 18, True),
        ("18:00-06:00", 2, True),
        ("18:00-06:00", 6, False),
        ("nights", 2, False),
        ("", 2, False),
    ],
)
def test_a_tour_is_on_from_its_first_hour_to_before_its_last(tour: str, hour: int, on: bool) -> None:
    assert is_on(tour, datetime(2026, 3, 3, hour)) is on  # noqa: DTZ001 - the site's own time


@pytest.mark.parametrize(
    ("tour", "hour", "day"),
    [
        ("06:00-18:00", 5, 3),
        ("06:00-18:00", 6, 3),
        ("06:00-18:00", 17, 3),
        ("06:00-18:00", 18, 4),
        ("18:00-06:00", 5, 2),
        ("18:00-06:00", 6, 3),
        ("18:00-06:00", 17, 3),
        ("18:00-06:00", 23, 3),
        ("", 23, 3),
    ],
)
def test_the_tour_at_hand_is_the_one_that_is_on_else_the_next(tour: str, hour: int, day: int) -> None:
    assert at_hand(tour, datetime(2026, 3, 3, hour)) == date(2026, 3, day)  # noqa: DTZ001 - the site's own time


def test_a_tour_lasts_as_long_as_its_hours_say_also_across_midnight() -> None:
    tours = ("06:00-18:00", "18:00-06:00", "06:00-06:00", "22:30-06:00")
    assert [hours_of(tour) for tour in tours] == [12, 12, 24, 7.5]
    assert hours_of("days") is None
