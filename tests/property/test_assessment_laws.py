"""Laws of forms, marking, pass curves, statistics and observation that hold for every draw."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from itertools import permutations, product
from random import Random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from tests.unit.assessment import samples
from trainer.core import itemstats
from trainer.core.answers import from_json, to_json
from trainer.core.banks import Bank
from trainer.core.forms import decimal_text, draw, drawn_order, drawn_parameters, grid, option_ids, unit_hash
from trainer.core.marking import mark_task, number, result, right_answer, worked_key
from trainer.core.observation import MET, STATES, judge, to_stand_down
from trainer.core.passcurve import curve, guess_rate, partial_rate, pass_probability, repeat_probability
from trainer.core.placing import places, right_places
from trainer.core.records import StepSeen
from trainer.core.shown import to_answer, to_handles
from trainer.core.tasks import Answer, ChooseAll, PlaceCrew, PointAt, PutInOrder, Task, TickSteps, WorkOut
from trainer.core.workings import FUNCTIONS

BANK = samples.bank(4)
SEEDS = st.text(max_size=20)
RATES = st.lists(st.floats(0, 1), max_size=8)
COUNTS = st.dictionaries(st.sampled_from([item.id for item in BANK.items]), st.integers(0, 3))
TASKS = st.sampled_from([task for task in samples.ALL_TASKS if not isinstance(task, WorkOut)])
TABLES = st.lists(st.lists(st.sampled_from([0.0, 1.0]), min_size=4, max_size=4), min_size=4, max_size=12)


@st.composite
def shuffled(draw_from: st.DrawFn, bank: Bank = BANK) -> Bank:
    """The same bank with items, objectives and topics in another order."""
    items = draw_from(st.permutations(bank.items))
    objectives = draw_from(st.permutations(bank.objectives))
    topics = dict(draw_from(st.permutations(list(bank.blueprint.topics.items()))))
    return replace(
        bank, items=tuple(items), objectives=tuple(objectives), blueprint=replace(bank.blueprint, topics=topics)
    )


def all_answers(task: Task) -> list[Answer]:
    """Every answer that the task can be given, but for numbers."""
    ids = option_ids(task)
    match task:
        case ChooseAll() | PointAt():
            picks = product([False, True], repeat=len(ids))
            return [tuple(sorted(each for each, is_in in zip(ids, pick, strict=True) if is_in)) for pick in picks]
        case PutInOrder():
            return list(permutations(ids))
        case PlaceCrew():
            ways = product([None, *ids], repeat=len(task.tokens))
            return [placed for way in ways if (placed := _placed(task, way)) is not None]
        case TickSteps():
            ways = product(STATES, repeat=len(ids))
            return [{row: (state,) for row, state in zip(ids, way, strict=True)} for way in ways]
        case _:
            return list(ids)


def _placed(task: PlaceCrew, way: tuple[str | None, ...]) -> dict[str, tuple[str, ...]] | None:
    found: dict[str, tuple[str, ...]] = {}
    for token, spot in zip(task.tokens, way, strict=True):
        if spot is not None:
            found[spot] = (*found.get(spot, ()), token.id)
    return found if all(len(there) <= task.at_most for there in found.values()) else None


def _met_rows(answer: Answer) -> set[str]:
    assert isinstance(answer, dict)
    return {row for row, ticked in answer.items() if ticked == (MET,)}


@given(SEEDS, SEEDS)
def test_the_hash_lies_from_zero_up_to_one(seed: str, name: str) -> None:
    assert 0 <= unit_hash(seed, name) < 1


@given(SEEDS, COUNTS, COUNTS, shuffled())
def test_a_form_is_given_by_its_seed_and_counts_and_not_by_the_order_of_the_bank(
    seed: str, seen: dict[str, int], exposure: dict[str, int], other: Bank
) -> None:
    assert draw(BANK, seed, seen, exposure) == draw(other, seed, seen, exposure)


@given(SEEDS, COUNTS, COUNTS)
def test_every_form_meets_its_blueprint(seed: str, seen: dict[str, int], exposure: dict[str, int]) -> None:
    form = draw(BANK, seed, seen, exposure)
    items = [BANK.item(each.item_id) for each in form.items]
    objectives = Counter(item.objective for item in items if item)
    assert len({each.item_id for each in form.items}) == 12
    assert [objectives[each.id] for each in BANK.objectives if each.critical] == [1, 1, 1]
    for topic, quota in BANK.blueprint.topics.items():
        taken = [objectives[f"{topic}-{n}"] for n in (1, 2)]
        assert sum(taken) == quota
        assert max(taken) - min(taken) <= 1


@given(SEEDS, st.sets(st.sampled_from(["must-where", "must-timing", "must-grip", "where-1", "timing-2", "grip-1"])))
def test_a_pass_is_points_and_every_critical_objective(seed: str, missed: set[str]) -> None:
    form = draw(BANK, seed, {}, {})
    answers: dict[str, Answer] = {}
    for each in form.items:
        item = BANK.item(each.item_id)
        if item is not None and item.objective not in missed:
            answers[item.id] = right_answer(item.task, each.parameters, FUNCTIONS)
    found = result(BANK, form, answers, FUNCTIONS)
    assert found.points == len(answers)
    assert set(found.critical_missed) == {name for name in missed if name.startswith("must")}
    assert found.passed is (found.points >= 10 and not found.critical_missed)


@pytest.mark.parametrize("task", [task for task in samples.ALL_TASKS if not isinstance(task, WorkOut)])
def test_exactly_the_key_is_right_among_all_answers_and_a_guess_finds_it_as_often_as_said(task: Task) -> None:
    drawn = drawn_parameters(task, "seed", "item")
    key = right_answer(task, drawn, FUNCTIONS)
    every = all_answers(task)
    right = [each for each in every if mark_task(task, each, drawn, FUNCTIONS).right]
    if isinstance(task, PlaceCrew):
        assert all(isinstance(each, dict) and places(task, each) in right_places(task) for each in right)
        complete = [each for each in every if isinstance(each, dict) and sum(map(len, each.values())) == 4]
        assert guess_rate(task) == pytest.approx(len(right) / len(complete))
    else:
        assert right == [key]
    if isinstance(task, ChooseAll | PointAt):
        as_many = [each for each in every if len(each) == len(key)]
        assert guess_rate(task) == pytest.approx(1 / len(as_many))
    if isinstance(task, TickSteps):
        as_well = [each for each in every if isinstance(each, dict) and _met_rows(each) == _met_rows(key)]
        assert guess_rate(task) == pytest.approx(1 / len(as_well))


@given(SEEDS, st.fractions(-10, 10))
def test_a_number_is_right_exactly_within_its_tolerance(seed: str, off: Fraction) -> None:
    task = samples.work_out()
    parameters = drawn_parameters(task, seed, "item")
    key = worked_key(task, task.function, parameters, FUNCTIONS)
    typed = decimal_text(round(key + off, 3))
    is_near = abs(number(typed) - key) <= max(number("0.5"), number("0.01") * abs(key))
    assert mark_task(task, typed, parameters, FUNCTIONS).right is is_near
    assert mark_task(task, typed.replace(".", ","), parameters, FUNCTIONS).right is is_near


@given(SEEDS)
def test_drawn_numbers_stand_on_their_grid(seed: str) -> None:
    task = samples.work_out()
    drawn = drawn_parameters(task, seed, "item")
    assert all(drawn[name] in grid(parameter) for name, parameter in task.parameters.items())


@given(TASKS, SEEDS, st.data())
def test_every_answer_survives_handles_and_json(task: Task, seed: str, data: st.DataObject) -> None:
    given_answer = data.draw(st.sampled_from(all_answers(task)))
    order = drawn_order(task, seed, "item")
    assert to_answer(task, order, to_handles(task, order, given_answer)) == given_answer
    assert from_json(to_json(given_answer)) == given_answer


@given(RATES, RATES, st.integers(0, 12))
def test_the_pass_probability_is_what_counting_every_outcome_gives(
    rates: list[float], critical: list[float], cut: int
) -> None:
    total = 0.0
    for outcome in product([0, 1], repeat=len(rates)):
        if sum(outcome) + len(critical) >= cut:
            total += float(np.prod([rate if hit else 1 - rate for rate, hit in zip(rates, outcome, strict=True)]))
    assert pass_probability(rates, cut, critical) == pytest.approx(total * float(np.prod(critical)), abs=1e-12)


@given(st.lists(st.floats(0, 1), min_size=1, max_size=12), st.integers(0, 12), st.floats(0, 1))
def test_knowing_more_never_lowers_the_chance_of_a_pass(guesses: list[float], cut: int, known: float) -> None:
    less = pass_probability([partial_rate(known / 2, each) for each in guesses], cut)
    more = pass_probability([partial_rate(known, each) for each in guesses], cut)
    assert more >= less - 1e-12


@given(SEEDS)
def test_the_curve_bounds_every_form_that_is_drawn(seed: str) -> None:
    mixed = replace(
        BANK, items=tuple(replace(item, task=samples.choose_one(1 + n % 4)) for n, item in enumerate(BANK.items))
    )
    form = draw(mixed, seed, {}, {})
    items = [item for each in form.items if (item := mixed.item(each.item_id))]
    rates = [partial_rate(0.5, guess_rate(item.task)) for item in items if not item.objective.startswith("must")]
    musts = [partial_rate(0.5, guess_rate(item.task)) for item in items if item.objective.startswith("must")]
    assert pass_probability(rates, 10, musts) <= curve(mixed).half + 1e-12


@given(st.integers(1, 30).flatmap(lambda k: st.tuples(st.integers(0, k), st.just(k), st.integers(0, k))))
def test_the_parallel_form_is_beta_binomial(case: tuple[int, int, int]) -> None:
    points, items, cut = case
    expected = stats.betabinom.sf(cut - 1, items, points + 1, items - points + 1)
    assert repeat_probability(points, items, cut) == pytest.approx(float(expected), abs=1e-9)


@given(TABLES, st.randoms(use_true_random=False))
def test_statistics_do_not_depend_on_the_order_of_people(table: list[list[float]], random: Random) -> None:
    other = list(table)
    random.shuffle(other)
    for statistic in (itemstats.difficulty, itemstats.item_rest, itemstats.discrimination):
        assert statistic(other) == pytest.approx(statistic(table), abs=1e-9)
    for single in (itemstats.alpha, itemstats.sem):
        assert single(other) == pytest.approx(single(table), abs=1e-9)


@given(st.integers(1, 200).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
def test_wilson_holds_the_share_inside_zero_to_one(case: tuple[int, int]) -> None:
    right, n = case
    low, high = itemstats.wilson(right, n) or (1.0, 0.0)
    assert 0.0 <= low <= right / n <= high <= 1.0


@given(st.lists(st.lists(st.integers(0, 40), min_size=3, max_size=3), min_size=3, max_size=3))
def test_full_agreement_is_one_and_nothing_is_more(table: list[list[int]]) -> None:
    for statistic in (itemstats.kappa, itemstats.ac1):
        found = statistic(table)
        assert found is None or found <= 1.0 + 1e-12
        diagonal = [[table[i][i] if i == j else 0 for j in range(3)] for i in range(3)]
        assert statistic(diagonal) in (None, pytest.approx(1.0))


STEPS = st.fixed_dictionaries({step.id: st.sampled_from(STATES) for step in samples.checklist().steps})


@given(STEPS, st.permutations([step.id for step in samples.checklist().steps]))
def test_a_sheet_is_judged_the_same_in_whatever_order_it_was_ticked(states: dict[str, str], order: list[str]) -> None:
    sheet = samples.checklist()
    ticked = [StepSeen(step, states[step], note="-") for step in order]
    assert judge(sheet, ticked) == judge(sheet, ticked[::-1])
    assert to_stand_down(sheet, ticked) == to_stand_down(sheet, ticked[::-1])


@given(STEPS)
def test_whoever_would_be_stood_down_is_not_yet(states: dict[str, str]) -> None:
    sheet = samples.checklist()
    ticked = [StepSeen(step, state, note="-") for step, state in states.items()]
    outcomes = judge(sheet, ticked)
    assert all(outcomes[competency] == "not yet" for competency in to_stand_down(sheet, ticked))


@given(STEPS, st.sampled_from([step.id for step in samples.checklist().steps]))
def test_meeting_one_step_more_never_makes_a_clean_one_not_yet(states: dict[str, str], step: str) -> None:
    sheet = samples.checklist()
    before = judge(sheet, [StepSeen(name, state, note="-") for name, state in states.items()])
    better = states | {step: "met"}
    after = judge(sheet, [StepSeen(name, state, note="-") for name, state in better.items()])
    assert all(after[name] == "clean" for name, outcome in before.items() if outcome == "clean")
