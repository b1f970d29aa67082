"""Every item of every bank can be answered: the right answer counts, and each wrong one gives its own reason."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from trainer.core.banks import Item
from trainer.core.checklists import STATES
from trainer.core.forms import drawn_order, drawn_parameters
from trainer.core.marking import mark, right_answer, worked_key
from trainer.core.placing import places, right_places
from trainer.core.sheets import as_drawn
from trainer.core.shown import show_task, to_answer, to_handles
from trainer.core.tasks import (
    Answer,
    ChooseAll,
    ChooseOne,
    JudgeDrawing,
    PlaceCrew,
    PointAt,
    PutInOrder,
    ReadSheet,
    TickSteps,
    WorkOut,
)
from trainer.core.telling import told
from trainer.core.text import Text
from trainer.core.workings import FUNCTIONS
from trainer.curriculum import load

APP = Path(__file__).parents[3]
SEEDS = ("first", "second", "third")
ITEMS = [(bank.id, item) for bank in load(APP, APP).banks.values() for item in bank.items]

Wrong = Iterator[tuple[Answer, Text]]


@pytest.fixture(params=ITEMS, ids=[f"{bank}: {item.id}" for bank, item in ITEMS])
def item(request: pytest.FixtureRequest) -> Item:
    found = request.param[1]
    assert isinstance(found, Item)
    return found


def key_of(item: Item, seed: str) -> Answer:
    return right_answer(item.task, drawn_parameters(item.task, seed, item.id), FUNCTIONS)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_right_answer_is_marked_right_also_by_way_of_a_browser(item: Item, seed: str) -> None:
    parameters, order = drawn_parameters(item.task, seed, item.id), drawn_order(item.task, seed, item.id)
    sent = to_handles(item.task, order, key_of(item, seed))
    marked = mark(item, to_answer(item.task, order, sent), parameters, FUNCTIONS)
    assert marked.right
    assert marked.whys

    shown = show_task(item.task, order, "es", parameters)
    assert len(shown.choices) == len(order)


@pytest.mark.parametrize("seed", SEEDS)
def test_each_wrong_answer_is_marked_wrong_and_gives_its_own_reason(item: Item, seed: str) -> None:
    parameters = drawn_parameters(item.task, seed, item.id)
    for answer, why in wrong_ones(item, seed):
        marked = mark(item, answer, parameters, FUNCTIONS)
        assert not marked.right, answer
        said = [*marked.whys, *(each.why for each in told(as_drawn(item.task, parameters), answer))]
        assert why in said, answer


def wrong_ones(item: Item, seed: str) -> Wrong:
    """Wrong answers, each with the reason that belongs to it."""
    key = key_of(item, seed)
    match item.task:
        case ChooseOne(options=options) | JudgeDrawing(options=options):
            yield from ((each.id, each.why) for each in options if not each.right)
        case ChooseAll(options=options):
            chosen = {each.id for each in options if each.right}
            yield from ((tuple(sorted(chosen ^ {each.id})), each.why) for each in options)
        case PointAt(spots=spots):
            chosen = {each.part for each in spots if each.right}
            yield from ((tuple(sorted(chosen ^ {each.part})), each.why) for each in spots)
        case PutInOrder(steps=steps):
            names = [each.id for each in steps]
            for place in range(len(steps) - 1):
                turned = [*names[:place], names[place + 1], names[place], *names[place + 2 :]]
                yield tuple(turned), steps[place].why
        case PlaceCrew():
            assert not isinstance(key, str | tuple)
            yield from misplaced(item.task, key)
        case WorkOut(mistakes=mistakes):
            parameters = drawn_parameters(item.task, seed, item.id)
            for name, why in mistakes.items():
                yield f"{float(worked_key(item.task, name, parameters, FUNCTIONS)):.6f}", why
        case TickSteps(rows=rows):
            assert isinstance(key, dict)
            yield from (({**key, row.id: (state,)}, row.why) for row in rows for state in STATES if state != row.state)
        case ReadSheet(options=told_options):
            yield from ((each.id, each.why) for each in told_options if each.id != key)


def misplaced(task: PlaceCrew, key: object) -> Wrong:
    """The right crew with one of them on each wrong spot instead."""
    assert isinstance(key, dict)
    for spot, why in task.whys.items():
        first = next(iter(key))
        moved = {**key, first: key[first][1:], spot: key[first][:1]}
        placed = {name: there for name, there in moved.items() if there}
        if places(task, placed) not in right_places(task):
            yield placed, why


def test_two_wrong_choices_of_one_item_never_share_a_reason(item: Item) -> None:
    if isinstance(item.task, ChooseOne | ChooseAll):
        whys = [each.why["en"] for each in item.task.options if not each.right]
        assert len(set(whys)) == len(whys)
