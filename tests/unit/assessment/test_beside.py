"""US figures beside SI ones, in questions and in answers."""

from __future__ import annotations

from fractions import Fraction

import pytest

from tests.unit.assessment import samples
from trainer.core.beside import BESIDE, beside, pair_of, rounded
from trainer.core.marking import mark_task, measured, readable, right_answer
from trainer.core.shown import show_task, worded
from trainer.core.workings import FUNCTIONS
from trainer.errors import BadInput

DRAWN = {"indicator": "110", "block": "20"}


@pytest.mark.parametrize(
    ("value", "suffix", "text"),
    [
        ("3000", "ft", "9843"),
        ("90", "lb", "198"),
        ("30", "lb", "66.1"),
        ("0.8", "in", "0.0315"),
        ("1200", "ppg", "10"),
        ("31.088", "lbft", "20.9"),
        ("774.8", "klbf", "174"),
        ("0", "lb", "0"),
        ("120", "klb", "265"),
    ],
)
def test_a_figure_is_told_to_three_places_by_its_exact_factor(value: str, suffix: str, text: str) -> None:
    assert beside(value, BESIDE[suffix]) == text


def test_a_pound_and_a_foot_are_what_they_are_defined_as() -> None:
    assert BESIDE["lb"].size == Fraction("0.45359237")
    assert BESIDE["ft"].size == Fraction("0.3048")
    assert rounded(Fraction(-66.14)) == "-66.1"
    assert pair_of("%") is None


def test_a_question_fills_both_units_and_leaves_what_is_not_drawn() -> None:
    asked = "{length} m ({length_ft} ft), {other} {length_lbs} {figure:x}"
    assert worded(asked, {"length": "3000"}) == "3000 m (9843 ft), {other} {length_lbs} {figure:x}"


@pytest.mark.parametrize("typed", ["90", "90,0", "198.4 klb", "198,4klb", " 90 t "])
def test_a_number_counts_in_the_unit_behind_it(typed: str) -> None:
    task = samples.work_out()
    assert mark_task(task, typed, DRAWN, FUNCTIONS).right
    assert readable(task, typed) == typed.strip()


def test_the_same_number_in_the_other_unit_is_not_right() -> None:
    assert not mark_task(samples.work_out(), "90 klb", DRAWN, FUNCTIONS).right
    assert measured(samples.work_out(), "100 klb") == Fraction("45.359237")


def test_a_mistake_is_named_in_either_unit() -> None:
    assert samples.text("mistake block") in mark_task(samples.work_out(), "242.5 klb", DRAWN, FUNCTIONS).whys


@pytest.mark.parametrize("typed", ["abc", "abc klb", "klb", "t", "90 lb", "1e3 t", ""])
def test_what_is_no_number_is_refused_with_its_unit(typed: str) -> None:
    with pytest.raises(BadInput) as caught:
        readable(samples.work_out(), typed)
    assert caught.value.code == "not-a-number"


def test_the_units_that_may_be_chosen_go_to_the_screen_si_first() -> None:
    assert show_task(samples.work_out(), (), "en").units == ("t", "klb")


def test_a_right_number_is_told_as_a_person_would_write_it() -> None:
    key = right_answer(samples.work_out(), {"indicator": "110.3333333", "block": "20"}, FUNCTIONS)
    # Half a tonne or one in a hundred is right, so a tenth of a tonne is told.
    assert key == "90.3"
