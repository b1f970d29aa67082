"""The Python side of the parts: what a browser sends is checked, and its files say nothing they may not."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from trainer.web import parts
from trainer.web.parts import mounting
from trainer.web.parts.matrix_table import checked as checked_cell
from trainer.web.parts.place_crew import checked as checked_layout
from trainer.web.parts.shapes import Cell, Column, Row, Ticked
from trainer.web.parts.step_ticks import checked as checked_ticks

FOLDER = Path(parts.__file__).parent
SCRIPTS = sorted(FOLDER.glob("*.js"))


@pytest.mark.parametrize(
    ("value", "found"),
    [
        (["b", "a"], ("b", "a")),
        ([], ()),
        (["a", "a"], None),
        (["z"], None),
        ("a", None),
        ([1], None),
        (None, None),
    ],
)
def test_only_distinct_known_ids_are_taken_from_a_browser(value: object, found: tuple[str, ...] | None) -> None:
    assert mounting.known(value, ["a", "b", "c"]) == found


@pytest.mark.parametrize(
    ("value", "found"),
    [
        ({"s1": ["b", "a"], "s2": []}, {"s1": ("a", "b")}),
        ({"s1": ["a"], "s2": ["a"]}, None),
        ({"s1": ["a", "b", "c"]}, None),
        ({"elsewhere": ["a"]}, None),
        ({"s1": "a"}, None),
        ([], None),
    ],
)
def test_a_layout_names_known_spots_and_each_token_once(value: object, found: object) -> None:
    assert checked_layout(value, ["a", "b", "c"], ["s1", "s2"], at_most=2) == found


@pytest.mark.parametrize(
    ("value", "found"),
    [
        ({"s1": {"state": "met"}}, {"s1": Ticked("met")}),
        (
            {"s1": {"state": "not met", "own_act": False, "note": "joint 4"}},
            {"s1": Ticked("not met", False, "joint 4")},
        ),
        ({"s1": {"state": "splendid"}}, None),
        ({"s9": {"state": "met"}}, None),
        ({"s1": {"state": "met", "note": "x" * 401}}, None),
        ({"s1": "met"}, None),
    ],
)
def test_a_tick_names_a_known_step_and_state(value: object, found: object) -> None:
    assert checked_ticks(value, ["s1", "s2"]) == found


@pytest.mark.parametrize(
    ("value", "found"), [(["r", "c"], ("r", "c")), (["r", "z"], None), (["r"], None), (None, None), ([1, 2], None)]
)
def test_a_picked_cell_is_one_of_the_table(value: object, found: tuple[str, str] | None) -> None:
    assert checked_cell(value, [Column("c", "C")], [Row("r", "R", (Cell(""),))]) == found


@pytest.mark.parametrize("script", SCRIPTS, ids=lambda path: path.name)
def test_no_script_makes_markup_of_text(script: Path) -> None:
    text = script.read_text(encoding="utf-8")

    assert not re.search(r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|eval\(|new Function", text)
    assert "http://" not in text.replace("http://www.w3.org/2000/svg", "")
    assert "https://" not in text


def test_every_part_has_its_script() -> None:
    named = {path.stem for path in FOLDER.glob("*.py")} - {"__init__", "mounting", "shapes"}

    assert named == {path.stem for path in SCRIPTS} - {"common"}


def test_all_names_what_the_package_gives() -> None:
    assert sorted(parts.__all__) == parts.__all__
    assert all(hasattr(parts, name) for name in parts.__all__)
