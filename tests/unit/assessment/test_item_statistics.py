"""Item statistics against worked numbers, and their silence where there is too little to go by."""

from __future__ import annotations

import numpy as np
import pytest

from trainer.core import itemstats

NAN = float("nan")

# Five people, four items; worked by hand below.
SCORES: list[list[float]] = [
    [1, 1, 1, 1],
    [1, 1, 1, 0],
    [1, 1, 0, 0],
    [1, 0, 0, 0],
    [0, 0, 0, 0],
]


def test_difficulty_counts_only_those_who_had_the_item() -> None:
    assert itemstats.difficulty([[1, NAN, NAN], [0, 1, NAN]]) == [0.5, 1.0, None]


def test_wilson_touches_zero_and_one_exactly() -> None:
    none, every = itemstats.wilson(0, 5), itemstats.wilson(5, 5)
    assert none is not None
    assert every is not None
    assert none[0] == 0.0
    assert every[1] == 1.0
    assert none[1] == pytest.approx(0.4345, abs=0.0001)
    assert every[0] == pytest.approx(0.5655, abs=0.0001)


def test_wilson_gives_the_textbook_interval() -> None:
    assert itemstats.wilson(81, 263) == pytest.approx((0.2553, 0.3662), abs=0.0001)


def test_wilson_says_nothing_about_nobody() -> None:
    assert itemstats.wilson(0, 0) is None


def test_item_rest_leaves_the_item_out_of_the_total() -> None:
    # Item 1 against the rest 3, 2, 1, 0, 0 (mean 1.2): sums of squares 0.8 and 6.8, of products 1.2.
    assert itemstats.item_rest(SCORES)[0] == pytest.approx(1.2 / (0.8 * 6.8) ** 0.5)


def test_item_rest_says_nothing_below_three_people_or_without_variance() -> None:
    assert itemstats.item_rest(SCORES[:2]) == [None] * 4
    assert itemstats.item_rest([[1, 0], [1, 1], [1, 0]]) == [None, None]


def test_item_rest_takes_no_missing_item_for_a_wrong_one() -> None:
    full = [[1, 1, 1], [1, 1, 1], [0, 0, 0], [0, 0, 1]]
    gaps: list[list[float]] = [[1, 1, 1], [1, 1, NAN], [0, 0, 0], [0, 0, 1]]
    assert itemstats.item_rest(gaps)[0] == pytest.approx(itemstats.item_rest(full)[0])


def test_discrimination_compares_top_and_bottom_groups() -> None:
    # n = 5: a group is floor(1.35 + .5) = 1 person.
    assert itemstats.discrimination(SCORES) == [1.0, 1.0, 1.0, 1.0]


def test_discrimination_shares_the_edge_of_a_group() -> None:
    scores = [[1, 1], [1, 0], [0, 1], [0, 0]]
    # Top 1 is the first; bottom 1 the last; item 1 is right at the top and wrong at the bottom.
    assert itemstats.discrimination(scores) == [1.0, 1.0]
    tied = [[1, 0], [0, 1], [1, 0], [0, 1]]
    assert itemstats.discrimination(tied) == [0.0, 0.0]


def test_discrimination_says_nothing_below_four_people() -> None:
    assert itemstats.discrimination(SCORES[:3]) == [None] * 4


def test_alpha_of_a_perfect_scale_of_like_items_is_one() -> None:
    assert itemstats.alpha([[1, 1, 1], [0, 0, 0], [1, 1, 1]]) == pytest.approx(1.0)


def test_alpha_gives_the_worked_number() -> None:
    # Item variances .2 .3 .3 .2 sum to 1.0; totals 4 3 2 1 0 have variance 2.5.
    assert itemstats.alpha(SCORES) == pytest.approx(4 / 3 * (1 - 1.0 / 2.5))


def test_alpha_may_be_negative() -> None:
    found = itemstats.alpha([[1, 0, 1], [0, 1, 0], [1, 0, 0], [0, 1, 1]])
    assert found is not None
    assert found < 0


@pytest.mark.parametrize("scores", [[[1], [0]], [[1, 0]], [[1, 0], [0, 1]]])
def test_alpha_says_nothing_without_two_items_two_people_and_variance(scores: list[list[int]]) -> None:
    assert itemstats.alpha(scores) is None
    assert itemstats.sem(scores) is None


def test_alpha_interval_is_feldts() -> None:
    low, high = itemstats.alpha_interval(0.8, 20, 10) or (0.0, 0.0)
    assert (low, high) == pytest.approx((0.6380, 0.9084), abs=0.0001)
    assert itemstats.alpha_interval(0.8, 2, 10) is None
    assert itemstats.alpha_interval(None, 20, 10) is None


def test_the_standard_error_of_measurement_is_in_points() -> None:
    reliability = itemstats.alpha(SCORES)
    assert reliability is not None
    assert itemstats.sem(SCORES) == pytest.approx(2.5**0.5 * (1 - reliability) ** 0.5)


def test_an_option_table_has_a_row_for_blank_and_for_the_key() -> None:
    rows = itemstats.option_table(["b", None, "b", "c"], key="a", rest=[3, 1, 2, 5])
    assert [row.option for row in rows] == ["a", "b", "c", itemstats.BLANK]
    assert [row.count for row in rows] == [0, 2, 1, 1]
    assert rows[0].is_key
    assert rows[1].share == 0.5
    assert rows[1].interval == itemstats.wilson(2, 4)
    assert rows[1].mean_rest == pytest.approx(2.5)
    assert rows[1].r == pytest.approx(float(np.corrcoef([1, 0, 1, 0], [3, 1, 2, 5])[0, 1]))
    assert rows[0].mean_rest is None


def test_kappa_drops_where_one_judgement_is_common_and_ac1_does_not() -> None:
    table = [[80, 10], [5, 5]]
    assert itemstats.kappa(table) == pytest.approx(0.32, abs=0.005)
    assert itemstats.ac1(table) == pytest.approx(0.81, abs=0.005)


def test_kappa_says_nothing_where_chance_always_agrees() -> None:
    assert itemstats.kappa([[20, 0], [0, 0]]) is None
    assert itemstats.ac1([[20, 0], [0, 0]]) == 1.0
    assert itemstats.kappa([[0, 0], [0, 0]]) is None


def test_three_clean_of_three_supports_only_a_third() -> None:
    assert itemstats.clean_run_bound(3) == pytest.approx(0.37, abs=0.005)
    assert itemstats.clean_run_bound(0) is None


def test_the_table_of_statistics_offers_the_pass_curve_too() -> None:
    assert itemstats.pass_probability([1.0], 1) == 1.0
    assert itemstats.repeat_probability(8, 10, 8) == pytest.approx(0.55, abs=0.005)
