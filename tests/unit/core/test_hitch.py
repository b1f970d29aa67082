from __future__ import annotations

from datetime import date, timedelta

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from trainer.core.catalogue import Rotation
from trainer.core.hitch import crew_change, cycle, hitches, is_working, last_working_day

FORTNIGHTS = Rotation(date(2026, 1, 5), on=14, off=14)

days = st.dates(date(2025, 1, 1), date(2027, 1, 1))
rotations = st.builds(Rotation, days, st.integers(2, 30), st.integers(0, 30))


def test_a_hitch_is_worked_from_its_first_day_to_the_day_before_crew_change() -> None:
    worked = [day for day in range(1, 32) if is_working(FORTNIGHTS, date(2026, 1, day))]
    assert worked == list(range(5, 18))


def test_the_last_day_of_a_hitch_is_crew_change_and_no_working_day() -> None:
    assert not is_working(FORTNIGHTS, date(2026, 1, 18))
    assert last_working_day(FORTNIGHTS, date(2026, 1, 5), date(2026, 1, 18)) == date(2026, 1, 17)


@given(rotations, days)
def test_crew_change_ends_the_hitch_that_a_day_lies_in(rotation: Rotation, day: date) -> None:
    change = crew_change(rotation, day)
    if change is None:
        assert not is_working(rotation, day)
    else:
        assert not is_working(rotation, change)
        assert all(is_working(rotation, day + timedelta(days=n)) for n in range((change - day).days))
        assert cycle(rotation, change) == cycle(rotation, day)


def test_there_is_no_crew_change_in_the_days_away_nor_without_a_rotation() -> None:
    assert crew_change(FORTNIGHTS, date(2026, 1, 18)) == date(2026, 1, 18)
    assert crew_change(FORTNIGHTS, date(2026, 1, 19)) is None
    assert crew_change(Rotation(), date(2026, 1, 19)) is None


def test_a_cycle_is_the_hitch_and_the_days_away_after_it() -> None:
    assert [cycle(FORTNIGHTS, date(2026, 1, 5)), cycle(FORTNIGHTS, date(2026, 2, 1))] == [0, 0]
    assert cycle(FORTNIGHTS, date(2026, 2, 2)) == 1


def test_cycles_before_the_start_count_down_and_have_working_days_too() -> None:
    assert cycle(FORTNIGHTS, date(2026, 1, 4)) == -1
    assert is_working(FORTNIGHTS, date(2025, 12, 8))
    assert not is_working(FORTNIGHTS, date(2025, 12, 21))


def test_without_a_rotation_every_day_is_worked_and_there_is_no_cycle() -> None:
    assert is_working(Rotation(), date(2026, 1, 18))
    assert cycle(Rotation(), date(2026, 1, 18)) is None
    assert last_working_day(Rotation(), date(2026, 1, 1), date(2026, 1, 18)) == date(2026, 1, 18)
    assert last_working_day(Rotation(), date(2026, 1, 19), date(2026, 1, 18)) is None


def test_there_is_no_working_day_between_two_hitches() -> None:
    assert last_working_day(FORTNIGHTS, date(2026, 1, 18), date(2026, 2, 1)) is None


def test_a_hitch_too_short_for_a_working_day_has_none() -> None:
    short = Rotation(date(2026, 1, 5), on=1, off=1)
    assert not any(is_working(short, date(2026, 1, day)) for day in range(1, 10))
    assert last_working_day(short, date(2026, 1, 1), date(2026, 3, 1)) is None


@given(rotations, days, days)
def test_the_last_working_day_is_found_by_walking_back_day_by_day(rotation: Rotation, first: date, last: date) -> None:
    walked = last
    while walked >= first and not is_working(rotation, walked):
        walked -= timedelta(days=1)
    assert last_working_day(rotation, first, last) == (walked if walked >= first else None)


@given(st.lists(st.just(Rotation()) | rotations, min_size=1), days, days)
def test_many_hands_are_answered_as_each_alone(given_rotations: list[Rotation], first: date, last: date) -> None:
    each = hitches(given_rotations, np.arange(len(given_rotations)))
    found = each.last_working(np.full((1, len(given_rotations)), last.toordinal(), dtype=np.int32))[0]
    alone = [last_working_day(rotation, date.min, last) for rotation in given_rotations]
    assert found.tolist() == [day.toordinal() if day else 0 for day in alone]
    for rotation, following in zip(given_rotations, each.next_cycle(first).tolist(), strict=True):
        if rotation.start is None:
            assert following == 0
        else:
            assert cycle(rotation, date.fromordinal(following)) == cycle(rotation, first) + 1
            assert cycle(rotation, date.fromordinal(following - 1)) == cycle(rotation, first)


def test_a_hitch_too_short_has_no_working_days_among_many_either() -> None:
    each = hitches([Rotation(date(2026, 1, 5), on=1, off=1), FORTNIGHTS, Rotation()], np.array([0, 1, 2]))
    assert each.has_working_days.tolist() == [False, True, True]
