"""A form is drawn by its blueprint, and is the same wherever and whenever it is drawn again."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from tests.unit.assessment import samples
from trainer.core.forms import decimal_text, draw, drawn_order, drawn_parameters, grid, option_ids, unit_hash
from trainer.errors import BadInput

NOTHING: dict[str, int] = {}


def test_the_hash_is_the_one_written_down() -> None:
    # First 8 bytes of SHA-256("seed|item"), worked out with another program.
    assert unit_hash("seed", "item") == Fraction(0x83EB67B9E450A3DD, 2**64)


def test_a_form_has_one_variant_of_each_critical_objective_and_each_topic_to_its_quota() -> None:
    bank = samples.bank()
    form = draw(bank, "seed", NOTHING, NOTHING)
    drawn = [bank.item(each.item_id) for each in form.items]
    objectives = [each.objective for each in drawn if each]
    assert len(form.items) == 12
    assert [objectives.count(name) for name in ("must-where", "must-timing", "must-grip")] == [1, 1, 1]
    assert sum(name.startswith("where") for name in objectives) == 4
    assert sum(name.startswith("timing") for name in objectives) == 3
    assert sum(name.startswith("grip") for name in objectives) == 2


def test_new_objectives_come_before_a_second_item_of_the_same() -> None:
    bank = samples.bank()
    form = draw(bank, "seed", NOTHING, NOTHING)
    grips = [each.item_id for each in form.items if each.item_id.startswith("grip")]
    assert {each[: len("grip-1")] for each in grips} == {"grip-1", "grip-2"}


def test_items_this_hand_has_not_seen_come_first() -> None:
    bank = samples.bank()
    first = draw(bank, "one", NOTHING, NOTHING)
    again = draw(bank, "two", {each.item_id: 1 for each in first.items}, NOTHING)
    twice = {each.item_id for each in first.items} & {each.item_id for each in again.items}
    # Only the topic that has 6 items and is asked for 4 must ask two again.
    assert len(twice) == 2
    assert all(name.startswith("where") for name in twice)


def test_among_the_unseen_the_least_exposed_come_first() -> None:
    bank = samples.bank()
    exposure = {each.id: 5 for each in bank.items if not each.id.endswith("-2")}
    form = draw(bank, "seed", NOTHING, exposure)
    musts = [each.item_id for each in form.items if each.item_id.startswith("must")]
    assert sorted(musts) == ["must-grip-2", "must-timing-2", "must-where-2"]


def test_enemies_never_stand_in_one_form() -> None:
    bank = samples.bank(enemies=(("where-1-0", "where-2-0"), ("where-1-0", "must-where-1")))
    for seed in map(str, range(40)):
        names = {each.item_id for each in draw(bank, seed, NOTHING, NOTHING).items}
        assert not {"where-1-0", "where-2-0"} <= names
        assert not {"where-1-0", "must-where-1"} <= names


def test_a_shortfall_names_the_topic_and_never_gives_a_shorter_form() -> None:
    bank = samples.bank()
    short = replace(bank, items=tuple(each for each in bank.items if each.objective != "grip-2" or each.id == "x"))
    assert len(draw(short, "seed", NOTHING, NOTHING).items) == 12
    shorter = replace(bank, items=tuple(each for each in bank.items if not each.objective.startswith("grip")))
    with pytest.raises(BadInput) as caught:
        draw(shorter, "seed", NOTHING, NOTHING)
    assert (caught.value.code, caught.value.values) == ("form-shortfall", {"topic": "grip"})


def test_a_critical_objective_without_a_variant_is_a_shortfall_too() -> None:
    bank = samples.bank()
    short = replace(bank, items=tuple(each for each in bank.items if each.objective != "must-timing"))
    with pytest.raises(BadInput) as caught:
        draw(short, "seed", NOTHING, NOTHING)
    assert caught.value.values == {"topic": "timing"}


def test_the_form_keeps_versions_option_orders_and_parameters() -> None:
    bank = samples.bank()
    newer = replace(bank, items=tuple(replace(each, version=3) for each in bank.items))
    form = draw(newer, "seed", NOTHING, NOTHING)
    for each in form.items:
        item = newer.item(each.item_id)
        assert item is not None
        assert each.version == 3
        assert sorted(each.options) == sorted(option_ids(item.task))
        assert set(each.parameters) == ({"indicator", "block"} if each.item_id.startswith("must-grip") else set())


def test_another_seed_shows_options_in_another_order() -> None:
    orders = {drawn_order(samples.choose_all(), str(seed), "item") for seed in range(20)}
    assert len(orders) > 10


def test_parameters_are_exact_decimals_on_their_grid() -> None:
    task = samples.work_out()
    for seed in map(str, range(50)):
        drawn = drawn_parameters(task, seed, "item")
        assert drawn["indicator"] in grid(task.parameters["indicator"])
        assert drawn["block"] in grid(task.parameters["block"])
    assert grid(("100", "2.5", 3)) == ("100", "102.5", "105")
    assert grid(("0.1", "0.1", 3)) == ("0.1", "0.2", "0.3")
    assert grid(("-0.5", "0.25", 2)) == ("-0.5", "-0.25")


def test_a_number_without_an_exact_decimal_is_refused() -> None:
    with pytest.raises(ValueError, match="not a decimal"):
        decimal_text(Fraction(1, 3))
