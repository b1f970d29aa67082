"""The pass curve gives the published numbers and bounds every form."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.unit.assessment import samples
from trainer.core.banks import Blueprint
from trainer.core.passcurve import curve, guess_rate, partial_rate, pass_probability, repeat_probability
from trainer.errors import BadInput

HALF = 0.5


def test_the_half_knower_passes_eight_of_ten_too_often() -> None:
    once = pass_probability([partial_rate(HALF, 1 / 4)] * 10, 8)
    assert once == pytest.approx(0.21, abs=0.005)
    assert 1 - (1 - once) ** 3 == pytest.approx(0.51, abs=0.005)


def test_the_default_form_holds_its_bounds() -> None:
    found = curve(samples.bank())
    assert found.blind <= 0.001
    assert found.half == pytest.approx(0.042, abs=0.0005)
    assert found.competent == pytest.approx(0.962, abs=0.0005)
    assert found.is_acceptable


def test_a_form_without_critical_items_lets_the_half_knower_through() -> None:
    bank = samples.bank()
    easy = replace(
        bank,
        objectives=tuple(replace(each, critical=False) for each in bank.objectives),
        items=tuple(replace(each, task=samples.choose_one()) for each in bank.items),
        blueprint=Blueprint({"where": 4, "timing": 3, "grip": 3}, items=10, cut=8),
    )
    assert not curve(easy).is_acceptable
    assert curve(easy).half == pytest.approx(0.211, abs=0.001)


def test_averages_hide_the_missed_critical_item() -> None:
    ability = 0.80
    ungated = pass_probability([ability] * 10, 8)
    gated = pass_probability([ability] * 7, 8, [ability] * 3)
    assert 1 - gated / ungated == pytest.approx(0.36, abs=0.005)


@pytest.mark.parametrize(("points", "chance"), [(8, 0.55), (9, 0.74), (10, 0.91)])
def test_a_parallel_form_would_be_passed_as_often_as_published(points: int, chance: float) -> None:
    assert repeat_probability(points, 10, 8) == pytest.approx(chance, abs=0.005)


def test_a_cut_below_the_criticals_asks_only_for_the_criticals() -> None:
    assert pass_probability([0.1, 0.1], 2, [0.5, 0.5]) == pytest.approx(0.25)


def test_a_cut_beyond_the_form_is_never_reached() -> None:
    assert pass_probability([1.0, 1.0], 3) == 0.0


def test_a_chance_outside_zero_to_one_is_refused() -> None:
    with pytest.raises(ValueError, match="between 0 and 1"):
        pass_probability([1.2], 1)


def test_guess_rates_follow_the_kind_of_task() -> None:
    assert guess_rate(samples.choose_one()) == pytest.approx(1 / 4)
    assert guess_rate(samples.choose_all()) == pytest.approx(1 / 10)
    assert guess_rate(samples.put_in_order()) == pytest.approx(1 / 24)
    assert guess_rate(samples.point_at()) == pytest.approx(1 / 10)
    assert guess_rate(samples.judge_drawing()) == pytest.approx(1 / 3)
    assert guess_rate(samples.work_out()) == pytest.approx(0.05)


def test_placing_a_crew_is_guessed_as_often_as_counting_every_placing_says() -> None:
    # 204 placings of four tokens on four spots, two at most: 4^4 - 4 (all on one) - 4*3*4 (three on one) = 204.
    # Right ones: whose end is whose (2), which hand of each is on the middle (2 * 2).
    assert guess_rate(samples.place_crew()) == pytest.approx(8 / 204)


def test_the_curve_takes_the_variants_that_are_easiest_to_guess() -> None:
    bank = samples.bank()
    easier = replace(
        bank,
        items=tuple(
            replace(each, task=samples.choose_one(1)) if each.id == "where-1-0" else each for each in bank.items
        ),
    )
    assert curve(easier).half > curve(bank).half


def test_a_bank_that_is_too_small_names_the_topic() -> None:
    bank = samples.bank()
    short = replace(bank, items=tuple(each for each in bank.items if not each.objective.startswith("timing")))
    with pytest.raises(BadInput) as caught:
        curve(short)
    assert caught.value.values == {"topic": "timing"}
