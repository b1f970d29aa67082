"""A tour is on between its hours, also across midnight."""

from __future__ import annotations

from datetime import datetime

import pytest

from trainer.core.tours import is_on


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
