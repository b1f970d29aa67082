"""Lifting and sharing against the published equation and worked figures."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from trainer.errors import MechanicsRangeError
from trainer.mechanics import handle_shares, lifting_index, recommended_weight, team_capacity

BEST = {
    "horizontal": 0.25,
    "vertical": 0.75,
    "travel": 0.25,
    "asymmetry_deg": 0.0,
    "per_minute": 0.2,
    "hours": 1.0,
    "coupling": "good",
}
EVEN = (0.0, 120.0, 240.0)
# (lifts per minute, hours) -> multiplier below 0.75 m, and from there up
TABLE = {
    0.2: ((1.00, 0.95, 0.85), (1.00, 0.95, 0.85)),
    0.5: ((0.97, 0.92, 0.81), (0.97, 0.92, 0.81)),
    1: ((0.94, 0.88, 0.75), (0.94, 0.88, 0.75)),
    2: ((0.91, 0.84, 0.65), (0.91, 0.84, 0.65)),
    3: ((0.88, 0.79, 0.55), (0.88, 0.79, 0.55)),
    4: ((0.84, 0.72, 0.45), (0.84, 0.72, 0.45)),
    5: ((0.80, 0.60, 0.35), (0.80, 0.60, 0.35)),
    6: ((0.75, 0.50, 0.27), (0.75, 0.50, 0.27)),
    7: ((0.70, 0.42, 0.22), (0.70, 0.42, 0.22)),
    8: ((0.60, 0.35, 0.18), (0.60, 0.35, 0.18)),
    9: ((0.52, 0.30, 0.00), (0.52, 0.30, 0.15)),
    10: ((0.45, 0.26, 0.00), (0.45, 0.26, 0.13)),
    11: ((0.41, 0.00, 0.00), (0.41, 0.23, 0.00)),
    12: ((0.37, 0.00, 0.00), (0.37, 0.21, 0.00)),
    13: ((0.00, 0.00, 0.00), (0.34, 0.00, 0.00)),
    14: ((0.00, 0.00, 0.00), (0.31, 0.00, 0.00)),
    15: ((0.00, 0.00, 0.00), (0.28, 0.00, 0.00)),
    15.01: ((0.00, 0.00, 0.00), (0.00, 0.00, 0.00)),
}


def weight(**changes: float | str) -> float:
    return recommended_weight(**{**BEST, **changes})  # type: ignore[arg-type]


def test_the_best_lift_is_the_load_constant() -> None:
    assert weight() == pytest.approx(23.0)


def test_the_worked_lift_comes_out() -> None:
    lift = (0.40, 0.45, 0.50, 30.0, 1.0, 8.0, "fair")
    assert recommended_weight(*lift) == pytest.approx(7.67, abs=0.005)
    assert lifting_index(30.0, *lift) == pytest.approx(3.9, abs=0.05)


@pytest.mark.parametrize("rate", TABLE)
@pytest.mark.parametrize(("column", "hours"), [(0, 1.0), (1, 2.0), (2, 8.0)])
def test_every_frequency_multiplier_is_the_printed_one(rate: float, column: int, hours: float) -> None:
    low, high = (side[column] for side in TABLE[rate])
    assert weight(vertical=0.7, per_minute=rate, hours=hours) == pytest.approx(23 * 0.985 * low)
    assert weight(per_minute=rate, hours=hours) == pytest.approx(23 * high)


def test_rates_between_rows_are_interpolated_and_slower_ones_are_the_slowest() -> None:
    assert weight(per_minute=1.5) == pytest.approx(23 * 0.925)
    assert weight(per_minute=0.0) == weight(per_minute=0.2)


def test_a_rate_just_past_the_column_is_nothing() -> None:
    assert weight(per_minute=12.5, hours=2.0) == 0.0
    assert weight(per_minute=8.5, hours=8.0, vertical=0.5) == 0.0


@pytest.mark.parametrize(
    ("argument", "last", "past"),
    [("horizontal", 0.63, 0.631), ("vertical", 1.75, 1.751), ("travel", 1.75, 1.751), ("asymmetry_deg", 135, 135.1)],
)
def test_past_the_equations_limits_no_weight_is_recommended(argument: str, last: float, past: float) -> None:
    assert weight(**{argument: last}) > 0
    assert weight(**{argument: past}) == 0


def test_short_reach_and_short_travel_count_as_twenty_five_centimetres() -> None:
    assert weight(horizontal=0.1, travel=0.0) == weight()


@pytest.mark.parametrize(("coupling", "low", "high"), [("good", 1.0, 1.0), ("fair", 0.95, 1.0), ("poor", 0.9, 0.9)])
def test_the_grip_counts_as_printed(coupling: str, low: float, high: float) -> None:
    assert weight(coupling=coupling, vertical=0.7) == pytest.approx(23 * 0.985 * low)
    assert weight(coupling=coupling) == pytest.approx(23 * high)


@pytest.mark.parametrize(
    ("argument", "value"),
    [
        ("horizontal", -0.1),
        ("vertical", -0.1),
        ("travel", -0.1),
        ("asymmetry_deg", -1.0),
        ("asymmetry_deg", 181.0),
        ("per_minute", -1.0),
        ("hours", 0.0),
        ("hours", 8.1),
        ("coupling", "greasy"),
    ],
)
def test_a_lift_that_cannot_be_is_refused(argument: str, value: float | str) -> None:
    with pytest.raises(MechanicsRangeError) as refused:
        weight(**{argument: value})
    assert (refused.value.argument, refused.value.value) == (argument, value)


def test_a_lift_without_a_recommended_weight_has_no_index() -> None:
    with pytest.raises(MechanicsRangeError) as refused:
        lifting_index(30.0, 0.64, 0.75, 0.25, 0.0, 1.0, 8.0, "good")
    assert refused.value.argument == "recommended_weight"


def test_three_even_handles_share_a_centred_set() -> None:
    assert handle_shares(90.0, EVEN, 0.30).tolist() == pytest.approx([30, 30, 30])


def test_a_centre_toward_one_handle_loads_it_as_worked() -> None:
    assert handle_shares(90.0, EVEN, 0.30, (0.06, 0.0)).tolist() == pytest.approx([42, 24, 24])


def test_two_people_share_as_they_hold_the_three_handles() -> None:
    one, two, three = handle_shares(90.0, EVEN, 0.30)
    assert (one + two, three) == pytest.approx((60, 30))
    assert (one + two / 2, three + two / 2) == pytest.approx((45, 45))


def test_a_centre_outside_the_handles_makes_one_hold_down() -> None:
    assert handle_shares(90.0, EVEN, 0.30, (-0.2, 0.0))[0] == pytest.approx(-10)


@pytest.mark.parametrize("angles", [(), (0.0,), (0.0, 90.0), (0.0, 0.0, 120.0), (45.0, 45.0, 45.0)])
def test_handles_that_cannot_balance_the_set_are_refused(angles: Sequence[float]) -> None:
    with pytest.raises(MechanicsRangeError) as refused:
        handle_shares(90.0, angles, 0.30)
    assert (refused.value.argument, refused.value.value) == ("angles_deg", angles)


def test_two_opposite_handles_balance_a_centred_set() -> None:
    assert handle_shares(90.0, (0.0, 180.0), 0.30).tolist() == pytest.approx([45, 45])


def test_an_offset_of_one_distance_is_refused() -> None:
    with pytest.raises(MechanicsRangeError) as refused:
        handle_shares(90.0, EVEN, 0.30, (0.1,))
    assert refused.value.argument == "offset"


@pytest.mark.parametrize(("team", "total"), [([30.0], 30.0), ([30.0, 24.0], 36.0), ([30.0, 24.0, 36.0], 45.0)])
def test_a_team_lifts_less_than_its_sum(team: list[float], total: float) -> None:
    assert team_capacity(team) == pytest.approx(total)


@pytest.mark.parametrize("team", [[], [20.0] * 4])
def test_a_team_of_none_or_four_is_refused(team: list[float]) -> None:
    with pytest.raises(MechanicsRangeError) as refused:
        team_capacity(team)
    assert refused.value.argument == "capacities"
