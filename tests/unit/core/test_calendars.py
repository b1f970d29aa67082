"""Durations as tables over the days that occur: the same as day by day, whatever days those are."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.core.calendars import calendar
from trainer.core.durations import NO_DAY, Duration, after, parse

near = st.dates(date(2019, 1, 1), date(2032, 12, 31))
anywhere = st.dates() | st.just(date.min) | st.just(date.max)
durations = st.builds(Duration, st.integers(0, 2), st.integers(0, 30), st.integers(0, 9), st.integers(0, 70))


@given(st.lists(near | st.none(), max_size=30) | st.lists(anywhere | st.none(), max_size=30), st.lists(durations))
def test_each_line_moves_by_its_own_duration(given_days: list[date | None], lines: list[Duration]) -> None:
    ordinals = np.array([day.toordinal() if day else NO_DAY for day in given_days], dtype=np.int32)
    known = calendar([ordinals[ordinals != NO_DAY]])
    moved = known.after(lines).of(known.places(np.tile(ordinals, (len(lines), 1))))
    expected = [[after(day, each).toordinal() if day else NO_DAY for day in given_days] for each in lines]
    assert moved.tolist() == expected


@pytest.mark.parametrize("last", [date(2024, 2, 1), date(9000, 1, 1)])
def test_a_line_without_a_duration_says_what_was_asked_for(last: date) -> None:
    days = np.array([date(2024, 1, 31).toordinal(), last.toordinal()], dtype=np.int32)
    known = calendar([days])
    places = known.places(np.tile(days[:1], (2, 1)))
    lines = [parse("P1M"), None]
    assert known.after(lines).of(places).tolist() == [[date(2024, 2, 29).toordinal()], [NO_DAY]]
    assert known.after(lines, nothing=7).of(places)[1].tolist() == [7]


@given(st.lists(near, min_size=1))
def test_every_day_given_has_its_own_place_and_no_day_has_none(days: list[date]) -> None:
    ordinals = np.array([day.toordinal() for day in days], dtype=np.int32)
    known = calendar([ordinals, np.zeros(0, dtype=np.int32)])
    places = known.places(ordinals)
    assert len(set(places.tolist())) == len(set(days))
    assert places.min() > 0
    assert known.places(np.array([NO_DAY], dtype=np.int32)).tolist() == [0]
