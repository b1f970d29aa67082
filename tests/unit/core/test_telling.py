"""What is told of an answer: all of it in a quiz, enough for the next try in a lesson."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from trainer.core.tasks import ChooseAll, ChooseOne, Option, Picture, PlaceCrew, PointAt, PutInOrder, Spot, Token
from trainer.core.telling import MISSED, RIGHT, WRONG, hint, told


def option(name: str, right: bool) -> Option:
    return Option(name, right, {"en": f"why {name}"}, {"en": name})


ONE = ChooseOne((option("a", True), option("b", False), option("c", False)))
ALL = ChooseAll((option("a", True), option("b", True), option("c", False), option("d", False)))
ORDER = PutInOrder((option("a", True), option("b", True), option("c", True)))
POINT = PointAt(Picture("p"), tuple(Spot(each, each != "z", {"en": each}) for each in "xyz"))
TOKENS = (Token("t", "p", {"en": "T"}),)
CREW = PlaceCrew(Picture("p"), TOKENS, ("h", "gap"), ({"h": ("p",)},), {"gap": {"en": "closes"}}, {"en": "so"})


def marks(task: object, answer: object) -> dict[str, str]:
    return {each.id: each.mark for each in told(task, answer)}  # type: ignore[arg-type]


def test_one_choice_is_told_with_the_right_one_beside_it() -> None:
    assert marks(ONE, "b") == {"a": MISSED, "b": WRONG}
    assert marks(ONE, "a") == {"a": RIGHT}


def test_a_blank_misses_everything_right_and_nothing_else() -> None:
    assert marks(ONE, None) == {"a": MISSED}
    assert marks(ALL, None) == {"a": MISSED, "b": MISSED}
    assert marks(POINT, None) == {"x": MISSED, "y": MISSED}
    assert set(marks(ORDER, None).values()) == {WRONG}
    assert marks(CREW, None) == {}


def test_steps_are_right_where_they_stand_in_their_place() -> None:
    assert marks(ORDER, ("a", "c", "b")) == {"a": RIGHT, "b": WRONG, "c": WRONG}


def test_a_crew_is_told_of_the_spots_that_take_a_hand() -> None:
    assert marks(CREW, {"gap": ("t",)}) == {"gap": WRONG}
    assert marks(CREW, {"h": ("t",)}) == {}


def test_a_hint_on_one_choice_never_names_the_right_one() -> None:
    assert [each.id for each in hint(ONE, "b").told] == ["b"]


def test_a_hint_on_an_order_names_the_first_step_out_of_place() -> None:
    assert [each.id for each in hint(ORDER, ("c", "a", "b")).told] == ["a"]


@given(st.sets(st.sampled_from("abcd")))
def test_a_hint_gives_away_one_missed_thing_at_most(chosen: set[str]) -> None:
    answer = tuple(sorted(chosen))
    said = hint(ALL, answer)
    wrong, missed = chosen - {"a", "b"}, {"a", "b"} - chosen
    named = {each.id for each in said.told}

    assert named & missed == named - wrong
    assert len(named & missed) <= 1
    assert not (named & missed) or not wrong
    assert len(named & missed) + said.left == len(missed)
