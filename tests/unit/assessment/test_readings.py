"""Drawn sheets: who gets which, what each reads as, and how far it keeps from what cannot be told by eye."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.unit.assessment import samples
from trainer.core.forms import drawn_parameters, grid
from trainer.core.marking import mark_task
from trainer.core.passcurve import guess_rate
from trainer.core.readings import DIVISION, DRAWINGS, READINGS, contact_of, filled, reading
from trainer.core.sheets import as_drawn
from trainer.core.tasks import GRAIN, ChooseOne, ReadSheet
from trainer.core.workings import FUNCTIONS
from trainer.curriculum import load
from trainer.mechanics import next_step, read_imprint

APP = Path(__file__).parents[3]
TASK = samples.read_sheet()
SHARES = st.decimals(0, 1, places=2).map(str)
GRAINS = st.integers(0, 9999).map(str)


def read(function: str, **figures: object) -> tuple[str, bool]:
    found = reading(function, {name: str(value) for name, value in figures.items()})
    return found.key, found.is_clear


def test_no_two_of_twelve_people_get_the_same_sheet_and_each_gets_his_own_again() -> None:
    drawn = [drawn_parameters(TASK, f"attempt-{n}", "item") for n in range(12)]
    assert len({tuple(sorted(each.items())) for each in drawn}) == 12
    assert drawn == [drawn_parameters(TASK, f"attempt-{n}", "item") for n in range(12)]


def test_each_option_is_right_as_often_as_the_guess_rate_says() -> None:
    keys = Counter(reading(TASK.function, drawn_parameters(TASK, str(n), "item")).key for n in range(1500))
    assert set(keys) == {"full", "top-only", "partial"}
    assert guess_rate(TASK) == pytest.approx(1 / 3)
    assert all(abs(count / 1500 - guess_rate(TASK)) < 0.05 for count in keys.values())


def test_the_order_of_the_options_in_the_file_changes_no_sheet() -> None:
    turned = replace(TASK, options=TASK.options[::-1])
    assert [drawn_parameters(turned, str(n), "i") for n in range(20)] == [
        drawn_parameters(TASK, str(n), "i") for n in range(20)
    ]


def test_a_drawn_sheet_is_a_choice_with_one_right_option_and_its_reasons() -> None:
    figures = {"top": "0.9", "middle": "0.35", "bottom": "0.04", GRAIN: "3"}
    drawn = as_drawn(TASK, figures)
    assert isinstance(drawn, ChooseOne)
    assert [each.id for each in drawn.options if each.right] == ["top-only"]
    # What follows is that of taking it for something else, so the right option has none.
    assert [each.then for each in drawn.options] == [samples.text("then full"), None, samples.text("then partial")]
    assert mark_task(TASK, "top-only", figures, FUNCTIONS).right
    assert mark_task(TASK, "full", figures, FUNCTIONS).whys == (samples.text("why full"),)


def test_a_sheet_that_no_option_speaks_of_is_an_error_and_not_a_guess() -> None:
    with pytest.raises(ValueError, match="no option says no-record"):
        as_drawn(TASK, {"top": "0", "middle": "0", "bottom": "0"})


@given(SHARES, SHARES, SHARES, st.integers(0, 3).map(str), SHARES, GRAINS)
def test_a_clear_imprint_reads_the_same_whatever_the_grain(
    top: str, middle: str, bottom: str, weak: str, loss: str, grain: str
) -> None:
    figures = {"top": top, "middle": middle, "bottom": bottom, "weak": weak, "loss": loss}
    plain = reading("imprint-verdict", {**figures, GRAIN: "0"})
    if plain.is_clear:
        assert reading("imprint-verdict", {**figures, GRAIN: grain}).key == plain.key


@given(SHARES, SHARES, SHARES, GRAINS)
def test_a_verdict_is_that_of_the_mechanics_on_the_contact_that_is_drawn(
    top: str, middle: str, bottom: str, grain: str
) -> None:
    figures = {"top": top, "middle": middle, "bottom": bottom, GRAIN: grain}
    verdict = read_imprint(contact_of(filled("paper-test", figures)), 0.4).verdict
    assert reading("imprint-verdict", figures).key == verdict.replace(" ", "-")
    assert (reading("imprint-step", figures).key == "out-of-service") is next_step(verdict).startswith("out of service")


@pytest.mark.parametrize(
    ("figures", "is_clear"),
    [
        ({"top": 0.95, "middle": 0.95, "bottom": 0.95}, True),
        ({"top": 0.91, "middle": 0.91, "bottom": 0.91}, False),
        ({"top": 0.9, "middle": 0.3, "bottom": 0.1}, True),
        ({"top": 0.9, "middle": 0.3, "bottom": 0.18}, False),
        ({"top": 0.6, "middle": 0.4, "bottom": 0.15}, False),
        ({"top": 0.9, "middle": 0.9, "bottom": 0.9, "weak": 1, "loss": 0.6}, True),
        ({"top": 0.9, "middle": 0.9, "bottom": 0.9, "weak": 1, "loss": 0.4}, False),
        ({}, True),
        ({"top": 0.05, "middle": 0.05, "bottom": 0.05}, False),
    ],
)
def test_an_imprint_close_to_a_limit_is_not_clear(figures: dict[str, float], is_clear: bool) -> None:
    assert read("imprint-verdict", **figures)[1] is is_clear


@pytest.mark.parametrize(
    ("figures", "step"),
    [
        ({"top": 0.97, "middle": 0.97, "bottom": 0.97}, "old-slips-out"),
        ({"top": 0.9, "middle": 0.3, "bottom": 0.0}, "bowl-or-bushing"),
        ({"top": 0.0, "middle": 0.3, "bottom": 0.9}, "size-or-bowl"),
        ({"top": 0.9, "middle": 0.9, "bottom": 0.9, "weak": 2, "loss": 0.8}, "segments-or-pipe"),
        ({"top": 0.5, "middle": 0.5, "bottom": 0.5}, "bowl-or-bushing"),
        ({}, "test-again"),
    ],
)
def test_a_second_test_says_what_was_wrong(figures: dict[str, float], step: str) -> None:
    assert read("imprint-second-step", **figures) == (step, True)


@pytest.mark.parametrize(
    ("figures", "verdict", "step"),
    [
        ({"wear": 0.1}, ("sound", True), "go-on"),
        ({"wear": 0.8}, ("worn", True), "out"),
        ({"wear": 0.4}, ("worn", False), "out"),
        ({"packed": 0.7}, ("packed", True), "clean"),
        ({"packed": 0.2}, ("packed", False), "clean"),
        ({"missing": 3}, ("missing", True), "out"),
        ({"missing": 7}, ("missing", False), "out"),
        ({"reversed": 2}, ("reversed", True), "out"),
        ({"reversed": 2, "wear": 0.8}, ("reversed", False), "out"),
    ],
)
def test_dies_have_one_plain_fault_or_none(figures: dict[str, float], verdict: tuple[str, bool], step: str) -> None:
    assert read("dies-verdict", **figures) == verdict
    assert read("dies-step", **figures)[0] == step


@pytest.mark.parametrize(
    ("figures", "limit", "place"),
    [
        ({"middle": 0.8}, ("within", True), ("within", True)),
        ({"middle": 1.0}, ("within", False), ("within", False)),
        ({"middle": 1.2}, ("over", True), ("middle", True)),
        ({"middle": 1.1}, ("over", False), ("middle", False)),
        ({"bottom": 2.0, "top": 0.8}, ("over", True), ("bottom", True)),
        ({"bottom": 2.0, "top": 1.4}, ("over", True), ("bottom", False)),
        # An edge touches somewhere.
        ({"top": 2.0, "middle": 0.2, "bottom": 0.2}, ("over", False), ("top", False)),
        ({"middle": 3.0, "tick": 0.1}, ("over", False), ("middle", False)),
    ],
)
def test_a_gap_is_clear_from_one_leaf_off_the_limit(
    figures: dict[str, float], limit: tuple[str, bool], place: tuple[str, bool]
) -> None:
    assert read("gap-limit", limit=1.0, **figures) == limit
    assert read("gap-place", limit=1.0, **figures) == place


# Limits 120, 100 and 80 t for one, two and three bands, told from 10 t under on; the block weighs 20 t.
@pytest.mark.parametrize(
    ("figures", "said"),
    [
        ({"indicator": 128, "bands": 1}, ("under", True)),
        ({"indicator": 130, "bands": 1}, ("near", False)),
        ({"indicator": 132, "bands": 1}, ("near", True)),
        ({"indicator": 138, "bands": 1}, ("near", True)),
        ({"indicator": 140, "bands": 1}, ("near", False)),
        ({"indicator": 142, "bands": 1}, ("over", True)),
        # One and the same load in each row; its reading alone, or new pipe's row, would say something else.
        ({"indicator": 106, "bands": 1}, ("under", True)),
        ({"indicator": 106, "bands": 2}, ("under", True)),
        ({"indicator": 106, "bands": 3}, ("over", True)),
        ({"indicator": 114, "bands": 2}, ("near", True)),
        ({"indicator": 114, "bands": 2, "block": 25}, ("under", False)),
        ({"indicator": 114, "bands": 2, "near": 4}, ("under", True)),
        # Between two divisions, or a board that does not fall, nobody is to read.
        ({"indicator": 107, "bands": 3}, ("over", False)),
        ({"indicator": 128, "bands": 1, "limit-2": 120}, ("under", False)),
        ({"indicator": 128, "bands": 1, "limit-3": 101}, ("under", False)),
        # Behind mud it is clear only where the rows do not all say the same.
        ({"indicator": 114, "bands": 0}, ("unread", True)),
        ({"indicator": 80, "bands": 0}, ("unread", False)),
        ({"indicator": 150, "bands": 0}, ("unread", False)),
        ({"indicator": 113, "bands": 0}, ("unread", False)),
    ],
)
def test_a_load_is_held_against_the_row_of_its_own_joint(figures: dict[str, float], said: tuple[str, bool]) -> None:
    assert read("load-verdict", **figures) == said


INDICATORS, BLOCKS = st.integers(0, 80).map(lambda each: 2 * each), st.integers(1, 60)


@given(INDICATORS, BLOCKS, st.integers(1, 60), st.integers(1, 3))
def test_one_division_read_wrong_makes_no_other_answer_of_a_clear_load(
    indicator: int, block: int, near: int, bands: int
) -> None:
    key, is_clear = read("load-verdict", indicator=indicator, block=block, near=near, bands=bands)
    beside = {read("load-verdict", indicator=at, block=block, near=near, bands=bands)[0]
              for at in (indicator - DIVISION + 1, indicator + DIVISION - 1)}  # fmt: skip
    assert not is_clear or beside == {key}


def test_each_board_that_can_be_drawn_catches_a_common_mistake() -> None:
    loaded = load(APP, APP)
    tasks = [item.task for item in loaded.banks["load-pipe"].items]
    tasks += [scene.task for scene in loaded.lessons["load-pipe"].scenes if scene.task is not None]
    boards = [task for task in tasks if isinstance(task, ReadSheet) and task.drawing == "load-board"]
    assert len(boards) == 3
    mistakes = [{"block": "0"}, *({"bands": bands} for bands in "123")]
    for task in boards:
        for figures in every_sheet(task):
            answers = {reading(task.function, {**figures, **mistake}).key for mistake in mistakes}
            assert answers - {reading(task.function, figures).key}, figures


def every_sheet(task: ReadSheet) -> Iterator[dict[str, str]]:
    for sheet in (sheet for option in task.options for sheet in option.sheets):
        for values in product(*(grid(each) for each in sheet.values())):
            yield dict(zip(sheet, values, strict=True))


def test_every_reading_is_of_a_drawing_and_has_answers() -> None:
    assert {each.drawing for each in READINGS.values()} == set(DRAWINGS)
    assert all(len(each.answers) > 1 for each in READINGS.values())
    assert all(GRAIN in drawing for drawing in DRAWINGS.values())
