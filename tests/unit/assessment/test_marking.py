"""Exactly the key is right, whatever the kind of task; what cannot be read is refused, never guessed at."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from tests.unit.assessment import samples
from trainer.core.forms import draw
from trainer.core.marking import Marked, mark, mark_task, number, readable, result, right_answer, uncertain
from trainer.core.tasks import Answer, Task
from trainer.core.workings import FUNCTIONS
from trainer.errors import BadInput

DRAWN = {"indicator": "110", "block": "20", "top": "0.9", "middle": "0.35", "bottom": "0.04", "grain": "7"}


def marked(task: Task, answer: Answer | None) -> Marked:
    """``answer`` marked with the drawn numbers of this page."""
    return mark_task(task, answer, DRAWN, FUNCTIONS)


@pytest.mark.parametrize("task", samples.ALL_TASKS)
def test_the_right_answer_is_right_and_a_blank_is_not(task: Task) -> None:
    assert marked(task, right_answer(task, DRAWN, FUNCTIONS)).right
    blank = marked(task, None)
    assert blank.blank
    assert not blank.right
    assert blank.whys


def test_one_wrong_choice_gives_its_own_reason() -> None:
    found = marked(samples.choose_one(), "bad-1")
    assert not found.right
    assert found.whys == (samples.text("why bad-1"),)
    assert found.key == "good"


def test_all_right_ones_and_no_other_must_be_chosen() -> None:
    assert marked(samples.choose_all(), ("good-b", "good-a")).right
    part = marked(samples.choose_all(), ("good-a",))
    assert not part.right
    assert part.whys == (samples.text("why good-b"),)
    assert marked(samples.choose_all(), ("good-a", "good-b", "bad-a")).whys == (samples.text("why bad-a"),)
    assert not marked(samples.choose_all(), ()).right


def test_an_order_is_right_only_whole() -> None:
    assert marked(samples.put_in_order(), ("first", "second", "third", "fourth")).right
    swapped = marked(samples.put_in_order(), ("first", "second", "fourth", "third"))
    assert not swapped.right
    assert swapped.whys == (samples.text("why third"), samples.text("why fourth"))


def test_every_right_place_and_no_other_must_be_pointed_at() -> None:
    assert marked(samples.point_at(), ("edge", "gap")).right
    assert marked(samples.point_at(), ("gap", "deck")).whys == (samples.text("why edge"), samples.text("why deck"))


def test_a_crew_stands_right_whoever_is_called_what_and_whichever_hand_it_is() -> None:
    task = samples.place_crew()
    assert marked(task, {"handle-1": ("a-left",), "handle-2": ("a-right", "b-left"), "handle-3": ("b-right",)}).right
    assert marked(task, {"handle-1": ("b-right",), "handle-2": ("a-left", "b-left"), "handle-3": ("a-right",)}).right


def test_a_crew_with_one_man_on_both_ends_or_a_hand_left_over_stands_wrong() -> None:
    task = samples.place_crew()
    crossed = {"handle-1": ("a-left",), "handle-2": ("b-left", "b-right"), "handle-3": ("a-right",)}
    assert not marked(task, crossed).right
    assert not marked(task, {"handle-1": ("a-left",), "handle-2": ("a-right", "b-left")}).right
    gap = marked(task, {"gap": ("a-left",), "handle-2": ("a-right", "b-left"), "handle-3": ("b-right",)})
    assert gap.whys == (samples.text("why gap"), samples.text("why crew"))


def test_a_number_is_right_within_the_larger_tolerance() -> None:
    # Key 90 t: max(0.5, 0.9) = 0.9.
    assert marked(samples.work_out(), "90.9").right
    assert marked(samples.work_out(), " 89,1 ").right
    assert not marked(samples.work_out(), "90.91").right


def test_a_float_key_does_not_move_the_edge_of_the_tolerance() -> None:
    # 2.3 as a float lies below 2.3, so that 2.4 would miss a tolerance of 0.1 by a hair.
    task = replace(samples.work_out(), absolute="0.1", relative="0", parameters={"indicator": ("2.3", "1", 1)})
    only = {"load-on-slips": lambda indicator: indicator * 3 / 3, "indicator-alone": lambda indicator: indicator}
    assert mark_task(task, "2.4", {"indicator": "2.3"}, only).right
    assert mark_task(task, "2.2", {"indicator": "2.3"}, only).right
    assert not mark_task(task, "2.401", {"indicator": "2.3"}, only).right


def test_a_common_mistake_is_named() -> None:
    assert marked(samples.work_out(), "110").whys == (samples.text("mistake block"), samples.text("why load"))
    assert marked(samples.work_out(), "3").whys == (samples.text("why load"),)


@pytest.mark.parametrize(
    ("typed", "value"),
    [("12,5", "12.5"), ("12.5", "12.5"), ("-3", "-3"), ("−3", "-3"), (",5", "0.5"), ("12.", "12"), ("+7", "7")],
)
def test_a_number_is_understood_with_either_decimal_mark(typed: str, value: str) -> None:
    assert number(typed) == Fraction(value)


@pytest.mark.parametrize(
    "typed",
    ["", "abc", "12 t", "1,234.5", "1.234,5", "1 234", "1e3", "nan", "inf", "--2", ".", "1/2", "٣", "1" * 31, "12_0"],
)
def test_what_is_no_number_is_refused_and_never_truncated(typed: str) -> None:
    with pytest.raises(BadInput) as caught:
        number(typed)
    assert caught.value.code == "not-a-number"


@pytest.mark.parametrize(
    ("task", "answer", "code"),
    [
        (samples.choose_one(), "nothing", "not-offered"),
        (samples.choose_one(), ("good",), "not-offered"),
        (samples.choose_all(), ("good-a", "nothing"), "not-offered"),
        (samples.put_in_order(), ("first", "second"), "not-all-ordered"),
        (samples.put_in_order(), ("first", "first", "second", "third"), "not-all-ordered"),
        (samples.point_at(), "gap", "not-offered"),
        (samples.place_crew(), {"gap": ("nobody",)}, "not-offered"),
        (samples.place_crew(), {"nowhere": ("a-left",)}, "not-offered"),
        (samples.place_crew(), {"gap": ("a-left",), "handle-1": ("a-left",)}, "not-offered"),
        (samples.place_crew(), {"gap": ("a-left", "a-right", "b-left")}, "too-many-here"),
        (samples.work_out(), "many", "not-a-number"),
        (samples.tick_steps(), {"first": ("met",), "second": ("met",), "third": ("met",)}, "not-all-ticked"),
        (samples.tick_steps(), {"first": ("met",), "fifth": ("met",)}, "not-offered"),
        (samples.tick_steps(), {"first": ("well",)}, "not-offered"),
        (samples.tick_steps(), {"first": ("met", "not met")}, "not-offered"),
    ],
)
def test_an_answer_that_cannot_be_is_refused(task: Task, answer: Answer, code: str) -> None:
    with pytest.raises(BadInput) as caught:
        readable(task, answer)
    assert caught.value.code == code


def test_a_mistake_within_the_tolerance_is_found_over_the_whole_grid() -> None:
    assert list(uncertain(samples.work_out(), FUNCTIONS)) == []
    wide = replace(samples.work_out(), absolute="18.5")
    found = list(uncertain(wide, FUNCTIONS))
    assert {each.parameters["block"] for each in found} == {"18", "18.5"}
    assert len(found) == 18


def test_a_function_that_gives_no_number_is_found_too() -> None:
    task = replace(samples.work_out(), parameters={"block": ("0", "1", 2)}, mistakes={})
    found = list(uncertain(task, {"load-on-slips": lambda block: 1 / block}))
    assert [each.parameters for each in found] == [{"block": "0"}]


def answers_with(wrong: set[str], seed: str = "seed") -> tuple[int, tuple[str, ...], bool]:
    """Points, critical misses and pass of a form all right but for the items of these objectives."""
    bank = samples.bank()
    form = draw(bank, seed, {}, {})
    answers: dict[str, Answer] = {}
    for each in form.items:
        item = bank.item(each.item_id)
        assert item is not None
        if item.objective not in wrong:
            answers[each.item_id] = right_answer(item.task, each.parameters, FUNCTIONS)
    found = result(bank, form, answers, FUNCTIONS)
    return found.points, found.critical_missed, found.passed


def test_a_pass_takes_the_points_and_every_critical_objective() -> None:
    assert answers_with(set()) == (12, (), True)
    assert answers_with({"grip-1", "grip-2"}) == (10, (), True)
    assert answers_with({"grip-1", "where-1"})[2] is False
    assert answers_with({"must-timing"}) == (11, ("must-timing",), False)


def test_missed_items_come_critical_first_with_the_reason_of_the_item() -> None:
    bank = samples.bank()
    form = draw(bank, "seed", {}, {})
    missed = result(bank, form, {}, FUNCTIONS).missed
    assert [each.critical for each in missed] == [True] * 3 + [False] * 9
    assert all(samples.text(f"reason {each.item.id}") in each.marked.whys for each in missed)


def test_an_item_that_changed_since_it_was_drawn_is_not_marked() -> None:
    bank = samples.bank()
    form = draw(bank, "seed", {}, {})
    newer = replace(bank, items=tuple(replace(each, version=2) for each in bank.items))
    with pytest.raises(BadInput) as caught:
        result(newer, form, {}, FUNCTIONS)
    assert caught.value.code == "quiz-changed"


def test_the_reason_of_the_item_is_not_said_twice() -> None:
    item = replace(samples.item("x", "o", samples.choose_one()), why=samples.text("why good"))
    assert mark(item, "good", {}, FUNCTIONS).whys == (samples.text("why good"),)
