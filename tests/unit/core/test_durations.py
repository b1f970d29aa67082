from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.core.durations import NO_DAY, Duration, after, after_each, before, before_each, parse, text

durations = st.builds(Duration, st.integers(0, 3), st.integers(0, 30), st.integers(0, 9), st.integers(0, 400))
days = st.dates(date(1900, 1, 1), date(2100, 1, 1))


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        ("P12M", Duration(months=12)),
        ("P0D", Duration()),
        ("P30D", Duration(days=30)),
        ("P2W", Duration(weeks=2)),
        ("P1Y2M3W4D", Duration(1, 2, 3, 4)),
    ],
)
def test_whole_years_months_weeks_and_days_are_read(written: str, expected: Duration) -> None:
    assert parse(written) == expected


@pytest.mark.parametrize(
    "written", ["", "P", "12M", "P12", "P-1M", "P1.5M", "p1m", "P1D2W", "PT5H", "P1M ", "P1M\n", "P1DT1H", "P٣D"]
)
def test_anything_else_is_refused_with_what_to_write(written: str) -> None:
    with pytest.raises(ValueError, match="P12M"):
        parse(written)


def test_a_duration_below_zero_is_refused() -> None:
    with pytest.raises(ValueError, match="below zero"):
        Duration(months=-1)


@given(durations)
def test_what_is_written_is_read_back_the_same(duration: Duration) -> None:
    assert parse(text(duration)) == duration


@pytest.mark.parametrize(
    ("start", "written", "expected"),
    [
        ("2024-01-31", "P1M", "2024-02-29"),
        ("2023-01-31", "P1M", "2023-02-28"),
        ("2024-02-29", "P1Y", "2025-02-28"),
        ("2024-02-29", "P12M", "2025-02-28"),
        ("2024-02-29", "P4Y", "2028-02-29"),
        ("2023-12-31", "P2M", "2024-02-29"),
        ("2024-01-31", "P1M1D", "2024-03-01"),
        ("2024-01-30", "P1M1W", "2024-03-07"),
        ("2024-02-28", "P30D", "2024-03-29"),
        ("2024-02-28", "P0D", "2024-02-28"),
        ("1999-12-31", "P2M", "2000-02-29"),
        ("1899-12-31", "P2M", "1900-02-28"),
    ],
)
def test_months_come_first_clamped_to_the_months_end_then_days(start: str, written: str, expected: str) -> None:
    assert after(date.fromisoformat(start), parse(written)).isoformat() == expected


@pytest.mark.parametrize(
    ("start", "written", "expected"),
    [
        ("2024-03-31", "P1M", "2024-02-29"),
        ("2025-03-31", "P1M", "2025-02-28"),
        ("2024-03-31", "P1M1D", "2024-02-28"),
        ("2024-02-29", "P1Y", "2023-02-28"),
        ("2024-01-15", "P1M", "2023-12-15"),
    ],
)
def test_subtracting_too_takes_months_first_then_days(start: str, written: str, expected: str) -> None:
    assert before(date.fromisoformat(start), parse(written)).isoformat() == expected


def test_beyond_the_calendar_is_its_first_or_last_day() -> None:
    assert after(date(2026, 1, 1), parse("P9000Y")) == date.max
    assert after(date(9999, 12, 30), parse("P9D")) == date.max
    assert before(date(2026, 1, 1), parse("P9000Y")) == date.min
    assert before(date(1, 1, 2), parse("P9D")) == date.min


@given(st.lists(st.none() | days | st.just(date.max) | st.just(date.min), max_size=40), durations)
def test_many_days_move_as_each_alone_and_no_day_stays_none(given_days: list[date | None], duration: Duration) -> None:
    ordinals = np.array([day.toordinal() if day else NO_DAY for day in given_days], dtype=np.int32)
    later = [after(day, duration).toordinal() if day else NO_DAY for day in given_days]
    earlier = [before(day, duration).toordinal() if day else NO_DAY for day in given_days]
    assert after_each(ordinals, duration).tolist() == later
    assert before_each(ordinals, duration).tolist() == earlier
