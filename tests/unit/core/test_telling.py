"""What is told of an answer: all of it in a quiz, enough for the next try in a lesson."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from trainer.core.tasks import ChooseAll, ChooseOne, Option, Picture, PlaceCrew, PointAt, PutInOrder, Spot, Token
from trainer.core.telling import LATE, MISSED, RIGHT, WRONG, hint, told


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


def test_steps_are_right_in_their_place_and_wrong_where_they_stand_too_early() -> None:
    assert marks(ORDER, ("a", "c", "b")) == {"a": RIGHT, "b": LATE, "c": WRONG}
    assert {each.id: each.first for each in told(ORDER, ("c", "b", "a"))} == {"a": "", "b": "a", "c": "a"}


def test_weight_before_the_brake_is_what_is_wrong_and_not_the_brake() -> None:
    floor = PutInOrder(tuple(option(each, True) for each in ("brake", "in", "clear", "slack", "hold", "open")))
    given = ("slack", "in", "clear", "brake", "hold", "open")
    assert marks(floor, given) == {
        "brake": LATE, "in": WRONG, "clear": WRONG, "slack": WRONG, "hold": RIGHT, "open": RIGHT,
    }  # fmt: skip
    (said,) = hint(floor, given).told
    assert (said.id, said.first, said.why) == ("slack", "brake", {"en": "why brake"})


@given(st.permutations(["a", "b", "c", "d", "e"]))
def test_an_order_is_blamed_for_each_step_before_one_that_precedes_it_and_for_no_other(given: list[str]) -> None:
    task = PutInOrder(tuple(option(each, True) for each in "abcde"))
    early = {each.id for each in told(task, tuple(given)) if each.mark == WRONG}
    assert early == {one for place, one in enumerate(given) if any(other < one for other in given[place:])}
    assert bool(early) is (given != sorted(given))


def test_a_crew_is_told_of_the_spots_that_take_a_hand() -> None:
    assert marks(CREW, {"gap": ("t",)}) == {"gap": WRONG}
    assert marks(CREW, {"h": ("t",)}) == {}


def test_a_hint_on_one_choice_never_names_the_right_one() -> None:
    assert [each.id for each in hint(ONE, "b").told] == ["b"]


def test_a_hint_on_an_order_names_the_first_step_that_stands_too_early_with_the_reason_of_what_comes_first() -> None:
    assert [(each.id, each.first, each.why) for each in hint(ORDER, ("c", "a", "b")).told] == [
        ("c", "a", {"en": "why a"})
    ]
    assert [(each.id, each.first) for each in hint(ORDER, ("a", "c", "b")).told] == [("c", "b")]
    assert hint(ORDER, ("a", "b", "c")).told == ()


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
