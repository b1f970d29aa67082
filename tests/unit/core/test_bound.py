"""Consequences bound to the site's rig: what is said, in which units, and what is left out where it is not known."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.unit.assessment import samples
from tests.unit.core import rigs
from trainer.core.bound import CONSEQUENCES, BoundFigure, figure_names, figures_of, sentences, told, value_of
from trainer.core.catalogue import Site
from trainer.core.durations import parse
from trainer.core.lessons import Lesson, Scene
from trainer.core.onsite import at_site
from trainer.core.rig import drill_pipe_length, sections
from trainer.core.tasks import ChooseOne, Option
from trainer.core.units import Kind
from trainer.errors import MechanicsRangeError
from trainer.mechanics import hanging_load, slip_load_history

RIG = rigs.RIG
STOP = BoundFigure("peak-of-stop", {"speed": "0.5 m/s"})
REST = BoundFigure("load-at-rest")
TEXT = {
    "en": "It jerks. At rest it is {figure:rest}. A stop makes it {figure:stop}.",
    "es": "Salta. Son {figure:rest}.",
}


def site(**figures: str) -> Site:
    return Site({}, {}, parse("P90D"), rig=RIG, figures=figures)


def lesson(**figures: BoundFigure) -> Lesson:
    """One scene whose first option says what follows on the rig."""
    options = (
        Option("a", False, samples.text("why"), samples.text("say"), TEXT),
        Option("b", True, samples.text("why")),
    )
    scene = Scene("only", samples.text("t"), samples.text("s"), task=ChooseOne(options), figures=figures)
    return replace(samples.lesson(), scenes=(scene,))


def then_of(made: Lesson) -> object:
    task = made.scenes[0].task
    assert isinstance(task, ChooseOne)
    return task.options[0].then


def test_a_peak_is_that_of_the_mechanics_on_the_whole_string_of_the_site() -> None:
    string = sections(RIG, drill_pipe_length(RIG))
    assert value_of(REST, RIG, {}) == pytest.approx(hanging_load(string, RIG.mud))
    assert value_of(STOP, RIG, {}) == pytest.approx(slip_load_history(string, RIG.mud, 0.5).peak)
    over = value_of(BoundFigure("peak-over-rest", {"speed": "0.5 m/s"}), RIG, {})
    assert over == pytest.approx(value_of(STOP, RIG, {}) / value_of(REST, RIG, {}))


def test_an_argument_may_be_one_of_the_sites_own_figures() -> None:
    named = BoundFigure("peak-of-stop", {"speed": "running_in"})
    assert value_of(named, RIG, {"running_in": "0.5 m/s"}) == value_of(STOP, RIG, {})
    with pytest.raises(ValueError, match="number"):
        value_of(named, RIG, {})


def test_shares_are_those_of_the_heaviest_set() -> None:
    mass = max(each.mass for each in RIG.slips.values())
    names = ("mass-of-set", "share-of-three", "share-of-two", "share-with-two-handles")
    assert [value_of(BoundFigure(each), RIG, {}) / mass for each in names] == pytest.approx([1, 1 / 3, 1 / 2, 2 / 3])


def test_the_sites_own_units_stand_first() -> None:
    assert told(464e3, Kind.FORCE, "SI") == "464 kN (104 klbf)"
    assert told(464e3, Kind.FORCE, "US") == "104 klbf (464 kN)"
    assert told(1.37, Kind.SHARE, "US") == "1.37"


def test_a_lesson_says_what_a_mistake_comes_to_on_this_rig() -> None:
    made = at_site(lesson(stop=STOP, rest=REST), site())
    said = figures_of({"stop": STOP, "rest": REST}, RIG, {})
    assert then_of(made) == {
        "en": f"It jerks. At rest it is {said['rest']}. A stop makes it {said['stop']}.",
        "es": f"Salta. Son {said['rest']}.",
    }
    assert set(made.scenes[0].reckoned) == set(said.values())
    # What a record names is the lesson as it is written.
    assert made.hash == lesson().hash


def test_what_cannot_be_worked_out_is_not_said() -> None:
    too_fast = BoundFigure("peak-of-stop", {"speed": "500 m/s"})
    with pytest.raises(MechanicsRangeError):
        value_of(too_fast, RIG, {})
    made = then_of(at_site(lesson(stop=too_fast, rest=REST), site()))
    assert isinstance(made, dict)
    assert made["en"].startswith("It jerks. At rest it is ")
    assert "A stop" not in made["en"]

    bare = at_site(lesson(stop=STOP, rest=REST), replace(site(), rig=None))
    assert then_of(bare) == {"en": "It jerks.", "es": "Salta."}
    assert bare.scenes[0].reckoned == ()


def test_a_lesson_without_figures_stays_the_object_that_it_is() -> None:
    assert at_site(samples.lesson(), site()) is not None
    plain = samples.lesson()
    assert at_site(plain, site()) is plain


def test_a_decimal_point_ends_no_sentence() -> None:
    assert sentences("Half a metre (1.6 ft) a second. {figure:x} it is.", {}) == "Half a metre (1.6 ft) a second."
    assert figure_names("{figure:x} and {figure:y-z} and {x}") == ("x", "y-z")


def test_every_consequence_can_be_worked_out_on_a_plain_rig() -> None:
    arguments = {"speed": "0.5 m/s", "length": "200 m"}
    for name, each in CONSEQUENCES.items():
        given = {argument: arguments[argument] for argument in each.arguments}
        assert value_of(BoundFigure(name, given), RIG, {}) > 0
