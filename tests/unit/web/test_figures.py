"""The page of figures without a browser: both units, axes, dials, and words for everything that can be out of range."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer import mechanics, words
from trainer.errors import MechanicsRangeError
from trainer.web import figures_list
from trainer.web.figures_axes import both_axis, one_axis, round_places
from trainer.web.figures_frame import said_of
from trainer.web.figures_turned import Span, Turn, dial_of
from trainer.web.figures_units import PAIRS, Both
from trainer.web.parts.dials import Dial, checked

APP = Path(words.__file__).resolve().parent.parent
COMPLETE = ("en", "es")
LANGUAGES = {code: each for code, each in words.load(APP, APP).items() if code in COMPLETE}
SI, US = Both("SI"), Both("US")
PARTS = ("formula", "assumes", "valid", "source")


def arguments() -> set[str]:
    """Every argument that a formula of the mechanics can refuse."""
    found: set[str] = set()
    for path in sorted(Path(mechanics.__file__).parent.glob("*.py")):
        for call in (node for node in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(node, ast.Call)):
            found |= set(_refused_by(call))
    return found


def _refused_by(call: ast.Call) -> Iterator[str]:
    named = ast.unparse(call.func)
    if (named.endswith(".check") or named in ("MechanicsRangeError", "numbers", "_verdict")) and call.args:
        first = call.args[0]
        if isinstance(first, ast.Constant) and isinstance(first.value, str):
            yield first.value


@pytest.mark.parametrize("language", sorted(LANGUAGES))
def test_whatever_is_out_of_range_is_said_in_words(language: str) -> None:
    names = arguments()
    assert len(names) > 20
    said = LANGUAGES[language]
    lacking = {each for each in names if f"figures.range-{each.replace('_', '-')}" not in said.sentences}
    assert lacking == set()
    for name in names:
        sentence = said_of(said, MechanicsRangeError(name, 1.0, "an English phrase"))
        assert "English phrase" not in sentence


@pytest.mark.parametrize("language", sorted(LANGUAGES))
@pytest.mark.parametrize("figure", [each.name for each in figures_list.FIGURES])
def test_every_figure_says_its_formula_assumptions_range_and_source(language: str, figure: str) -> None:
    said = LANGUAGES[language].sentences
    assert {f"figures.{each}-{figure}" for each in ("name", "tile")} <= set(said)
    assert {f"figures.{figure}-{part}-1" for part in PARTS} <= set(said)


def test_a_figure_is_told_in_both_units_the_first_one_first() -> None:
    assert SI.line(774_800.0, "load") == "775 kN (174.2 klbf)"
    assert US.line(774_800.0, "load") == "174.2 klbf (775 kN)"
    assert US.split(0.127, "thin") == ("5.000 in", "127.00 mm")
    assert (SI.other, US.other) == ("US", "SI")


@given(value=st.floats(1e-3, 1e7), name=st.sampled_from(sorted(PAIRS)), first=st.sampled_from(("SI", "US")))
def test_what_is_shown_is_taken_as_the_same_figure(value: float, name: str, first: str) -> None:
    both = Both(first)
    assert both.taken(both.shown(value, name), name) == pytest.approx(value, rel=1e-9)


@given(low=st.floats(-1e6, 1e6), width=st.floats(1e-2, 1e7))
def test_round_places_lie_within_and_are_a_handful(low: float, width: float) -> None:
    places = round_places(low, low + width)
    assert all(low - 1e-6 * width <= each <= low + width * (1 + 1e-6) for each in places)
    assert 1 <= len(places) <= 8


def test_an_axis_has_round_figures_in_both_units_at_their_own_places() -> None:
    axis = both_axis(SI, 0.0, 930e3, "load")
    assert [text for _, text in axis.ticks] == ["0", "200", "400", "600", "800"]
    assert [text for _, text in axis.far] == ["0", "50", "100", "150", "200"]
    assert axis.far[1][0] == pytest.approx(50 * 4448.2216, rel=1e-6)
    assert (axis.title, axis.far_title) == ("kN", "klbf")
    assert [text for _, text in one_axis(0.0, 0.3, "").ticks] == ["0", "0.05", "0.1", "0.15", "0.2", "0.25", "0.3"]


SPEED = Turn("speed", 1.0, Span(0, 3, 0.1), Span(0, 10, 0.25), "speed")


def test_a_dial_shows_the_first_unit_and_how_many_of_the_other_go_into_it() -> None:
    dial = dial_of(SPEED, 1.0, US, "Speed")
    assert (dial.unit, dial.other, dial.high, dial.step) == ("ft/s", "m/s", 10, 0.25)
    assert dial.times == pytest.approx(0.3048)
    assert dial_of(SPEED, 1.0, SI, "Speed").times == pytest.approx(3.28084, rel=1e-6)


def test_a_dial_reaches_as_far_as_the_sites_own_figure() -> None:
    assert dial_of(SPEED, 9.0, SI, "Speed").high == 9.0


TWO = (Dial("a", "A", 0, 10, 1, "m"), Dial("b", "B", 0, 1, 0.1, ""))


@pytest.mark.parametrize(
    "value",
    [
        None, [], {"a": 1}, {"a": 1, "b": 0, "c": 2}, {"a": "1", "b": 0}, {"a": True, "b": 0},
        {"a": float("nan"), "b": 0}, {"a": float("inf"), "b": 0},
    ],
)  # fmt: skip
def test_what_a_browser_sends_that_is_no_figure_is_not_taken(value: object) -> None:
    assert checked(value, TWO) is None


def test_a_figure_outside_its_dial_is_brought_back_to_its_end() -> None:
    assert checked({"a": 99, "b": -1}, TWO) == {"a": 10.0, "b": 0.0}


def test_the_list_has_a_figure_for_each_name_once() -> None:
    names = [each.name for each in figures_list.FIGURES]
    assert len(names) == len(set(names)) == 7
    assert figures_list.named("stop") is not None
    assert figures_list.named("nothing") is None
