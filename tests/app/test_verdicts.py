"""What stands beside each part of an answer: a danger stays a danger, whether or not it was found."""

from __future__ import annotations

import pytest

from trainer.core.tasks import DANGER, FAULT, FIT, ChooseAll, ChooseOne, Option, Picture, PointAt, PutInOrder, Spot
from trainer.core.telling import hint, told
from trainer.web import cached
from trainer.web.parts import Verdict
from trainer.web.verdicts import beside

SPOTS = (
    Spot("gap", True, {"en": "It closes."}),
    Spot("pipe-top", True, {"en": "It turns."}),
    Spot("handle-1", False, {"en": "The place for a hand."}),
)
ORDER = ("gap", "pipe-top", "handle-1")
WORDS = cached.all_words()


def point(asks: str) -> PointAt:
    return PointAt(Picture("slips-above"), SPOTS, asks)


def after(asks: str, *chosen: str, language: str = "en") -> dict[str, Verdict]:
    """What stands beside each once all is told, by the part."""
    task = point(asks)
    said = beside(task, ORDER, told(task, chosen), WORDS[language])
    return {part: said[f"o{n}"] for n, part in enumerate(ORDER, start=1) if f"o{n}" in said}


def test_a_danger_is_drawn_as_one_and_whether_it_was_found_is_said_apart() -> None:
    said = after(DANGER, "gap", "handle-1")
    assert {part: (each.place, each.mark, each.said) for part, each in said.items()} == {
        "gap": ("danger", "right", "Found"),
        "pipe-top": ("danger", "missed", "Not found"),
        "handle-1": ("safe", "wrong", "Not a danger"),
    }


def test_where_all_were_found_the_safe_places_are_told_as_well() -> None:
    said = after(DANGER, "gap", "pipe-top")
    assert said["handle-1"] == Verdict("", "The place for a hand.", "", "safe")


def test_a_fault_has_words_of_its_own_in_each_language() -> None:
    said = after(FAULT, "gap", "handle-1", language="es")
    assert [(each.place, each.said) for each in said.values()] == [
        ("fault", "Encontrado"), ("fault", "No encontrado"), ("sound", "No es una falla"),
    ]  # fmt: skip


def test_what_fits_is_marked_as_ever() -> None:
    said = after(FIT, "gap", "handle-1")
    assert [(part, each.place, each.mark, each.said) for part, each in said.items()] == [
        ("gap", "", "right", "Right"), ("pipe-top", "", "missed", "Right, but left out"),
        ("handle-1", "", "wrong", "Not right"),
    ]  # fmt: skip


SEVERAL = tuple(Option(each, each != "c", {"en": f"Why {each}."}, {"en": each}) for each in "abc")


@pytest.mark.parametrize(
    ("language", "said"),
    [
        ("en", ("Part of the answer", "Part of the answer, but left out", "Not part of the answer")),
        ("es", ("Va en la respuesta", "Va en la respuesta, y faltó", "No va en la respuesta")),
    ],
)
def test_of_several_options_it_is_said_what_is_part_of_the_answer_and_of_none_that_it_is_not_right(
    language: str, said: tuple[str, ...]
) -> None:
    # What one waits at, say: the safe act taken too is not wrong, it is only no part of the answer.
    task = ChooseAll(SEVERAL)
    found = beside(task, ("a", "b", "c"), told(task, ("a", "c")), WORDS[language])
    assert tuple(each.said for each in found.values()) == said
    assert [each.mark for each in found.values()] == ["right", "missed", "wrong"]


def test_of_one_option_out_of_several_it_is_said_whether_it_is_right() -> None:
    task = ChooseOne(SEVERAL[1:])
    found = beside(task, ("b", "c"), told(task, "c"), WORDS["en"])
    assert [each.said for each in found.values()] == ["Right", "Not right"]


@pytest.mark.parametrize("chosen", [("handle-1",), ("gap", "handle-1")])
def test_a_hint_gives_no_danger_away(chosen: tuple[str, ...]) -> None:
    task = point(DANGER)
    said = beside(task, ORDER, hint(task, chosen).told, WORDS["en"])
    assert {each: verdict.place for each, verdict in said.items()} == {"o3": "safe"}


def test_a_step_too_early_says_what_comes_before_it() -> None:
    steps = tuple(Option(each, True, {"en": f"Why {each}."}, {"en": f"Do {each}"}) for each in "abc")
    task = PutInOrder(steps)
    said = beside(task, ("c", "a", "b"), hint(task, ("c", "a", "b")).told, WORDS["en"])
    assert said == {"o1": Verdict("wrong", "Before it comes: Do a. Why a.", "Too early")}
