"""A tailgate: what can be talked about, three points, three questions, and what to talk about next."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.unit.actions.rig import CATALOGUE
from tests.unit.assessment import samples
from trainer.core.banks import Bank
from trainer.core.catalogue import Catalogue
from trainer.core.lessons import Lesson, TalkPoint
from trainer.core.tailgate import (
    LATE,
    LED,
    LEFT,
    QUESTIONS,
    THROUGHOUT,
    draw_questions,
    drawn_for,
    has_passed,
    is_one_tap,
    points,
    questions,
    topics,
)
from trainer.core.talktopics import RECENT, Answered, RunsOut, Why, first_answers, missed, propose
from trainer.core.tasks import ChooseOne
from trainer.errors import BadInput

TODAY = date(2026, 3, 2)
HANDS = st.text("abcdefgh", min_size=1, max_size=6)


def bank(enemies: tuple[tuple[str, str], ...] = ()) -> Bank:
    """The made-up bank with every item of one tap marked for tailgates, and some that are not."""
    made = samples.bank(enemies=enemies)
    return replace(made, items=tuple(replace(item, tailgate=True) for item in made.items))


def catalogue(of: Bank) -> Catalogue:
    """The small rig's, with that bank."""
    return replace(CATALOGUE, banks={"q": of})


def test_a_topic_has_a_lesson_and_three_questions_of_one_tap() -> None:
    assert topics(catalogue(bank())) == ("hands",)
    assert topics(catalogue(samples.bank())) == ()
    assert topics(replace(catalogue(bank()), lessons={})) == ()
    marked = {"where-1-0", "where-1-1", "must-where-0", "must-where-1", "must-where-2"}
    few = replace(bank(), items=tuple(replace(item, tailgate=item.id in marked) for item in bank().items))
    assert topics(catalogue(few)) == ()


def test_an_item_that_takes_more_than_one_tap_is_never_asked() -> None:
    asked = [item for item in bank().items if is_one_tap(item)]
    assert asked
    assert all(isinstance(item.task, ChooseOne) for item in asked)


@given(st.uuids())
def test_the_three_questions_are_the_same_for_the_same_tailgate_whatever_the_order_of_the_bank(seed: object) -> None:
    one, other = bank(), replace(bank(), items=bank().items[::-1])
    drawn = [item.id for item in draw_questions(one, str(seed), {})]
    assert drawn == [item.id for item in draw_questions(other, str(seed), {})]
    assert len({one.item(name).objective for name in drawn}) == QUESTIONS  # type: ignore[union-attr]


def test_what_was_asked_before_comes_last() -> None:
    known = [item for item in bank().items if is_one_tap(item)]
    asked = {item.id: 1 for item in known if not item.id.endswith("-2")}
    assert all(item.id.endswith("-2") for item in draw_questions(bank(), "seed", asked))


def test_enemies_never_meet_and_a_shortfall_is_said() -> None:
    pairs = tuple((f"where-1-{n}", each.id) for n in range(3) for each in bank().items)
    hostile = bank(pairs)
    drawn = {item.id for item in draw_questions(hostile, "seed", {})}
    assert not drawn & {"where-1-0", "where-1-1", "where-1-2"}
    only = replace(hostile, items=tuple(item for item in hostile.items if item.objective == "where-1"))
    with pytest.raises(BadInput, match="form-shortfall"):
        draw_questions(only, "seed", {})


@given(st.uuids(), HANDS)
def test_each_person_sees_the_same_options_in_an_order_that_is_always_his(seed: object, hand: str) -> None:
    item = next(item for item in bank().items if is_one_tap(item))
    drawn = drawn_for(item, str(seed), hand)
    assert sorted(drawn.options) == ["bad-0", "bad-1", "bad-2", "good"]
    assert drawn == drawn_for(item, str(seed), hand)


def test_the_orders_of_a_crew_differ() -> None:
    item = next(item for item in bank().items if is_one_tap(item))
    assert len({drawn_for(item, "seed", f"hand-{n}").options for n in range(12)}) > 6


@pytest.mark.parametrize(
    ("how", "right", "is_pass"),
    [
        (THROUGHOUT, 3, True),
        (THROUGHOUT, 2, False),
        (LATE, 3, False),
        (LEFT, 3, False),
        (LED, 3, False),
        ("", 3, False),
    ],
)
def test_passed_is_there_throughout_and_all_three_right(how: str, right: int, is_pass: bool) -> None:
    assert has_passed(how, right) is is_pass


def lesson() -> Lesson:
    """Five decisions, each with a right answer and its reason."""
    scene = samples.lesson().scenes[0]
    names = ("one", "two", "three", "four", "five")
    return replace(samples.lesson(), scenes=tuple(replace(scene, id=each, title=samples.text(each)) for each in names))


def titles(made: Iterable[TalkPoint]) -> list[str]:
    return [each.title["en"] for each in made]


def test_the_points_are_what_the_scenes_of_the_must_knows_come_to() -> None:
    taught = {"must-where": "five", "must-timing": "two", "must-grip": "four"}
    of = replace(bank(), items=tuple(replace(item, scene=taught.get(item.objective, "one")) for item in bank().items))
    made = points(lesson(), of, "seed")
    assert titles(made) == ["two", "four", "five"]
    assert {each.text["en"] for each in made} == {"well done"}
    assert all(each.picture is not None for each in made)


def test_other_decisions_fill_up_to_three_and_the_draw_differs_from_talk_to_talk() -> None:
    drawn = {tuple(titles(points(lesson(), bank(), str(seed)))) for seed in range(20)}
    assert all(len(each) == 3 for each in drawn)
    assert len(drawn) > 1


def test_points_that_the_lesson_writes_itself_are_taken_as_they_are() -> None:
    own = tuple(TalkPoint(samples.text(each), samples.text("say it")) for each in ("x", "y", "z"))
    assert points(replace(lesson(), talk=own), bank(), "seed") == own


def test_questions_that_were_rewritten_are_no_longer_found() -> None:
    drawn = draw_questions(bank(), "seed", {})
    names = [f"{item.id}:{item.version}" for item in drawn]
    assert questions(bank(), names) == drawn
    newer = replace(bank(), items=tuple(replace(item, version=2) for item in bank().items))
    assert questions(newer, names) is None
    assert questions(replace(bank(), items=()), names) is None


def said(
    hand: str = "ana",
    topic: str = "a",
    objective: str = "o",
    *,
    right: bool = False,
    critical: bool = False,
    ago: int = 10,
) -> Answered:
    """An answer of some days ago."""
    day = TODAY - timedelta(days=ago)
    return Answered(hand, topic, f"{objective}:1", objective, critical, right, day, (day.isoformat(), 1))


def whys(
    answered: Iterable[Answered] = (), runs_out: Iterable[RunsOut] = (), work: Iterable[str] = ()
) -> dict[str, list[str]]:
    """The kinds of reasons of each topic proposed."""
    found = propose(("a", "b", "c", "d"), runs_out, answered, work, TODAY)
    return {each.competency: [why.kind for why in each.whys] for each in found}


def test_only_the_first_answer_of_a_hand_to_an_item_counts() -> None:
    first, later = said(right=False, ago=10), said(right=True, ago=5)
    assert first_answers([later, first]) == (first,)
    assert first_answers([first, said("ben")]) == (first, said("ben"))


def test_what_is_missed_most_comes_first_and_must_knows_before_it() -> None:
    answered = [said("ana", objective="x"), said("ben", objective="x"), said("ana", objective="y", critical=True)]
    assert [(each.objective, each.wrong) for each in missed(answered, "a")] == [("y", 1), ("x", 2)]
    assert missed([said(right=True)], "a") == ()


def test_topics_come_in_their_order_each_with_its_reason() -> None:
    answered = [said(topic="b"), said("ben", topic="b"), said(topic="d", right=False, ago=RECENT.days + 9)]
    runs_out = [RunsOut("c", "ana", TODAY + timedelta(days=40)), RunsOut("a", "ben", TODAY + timedelta(days=20))]
    found = propose(("a", "b", "c", "d"), runs_out, answered, ["c"], TODAY)
    assert [each.competency for each in found] == ["a", "b", "c", "d"]
    assert found[0].whys == (Why("due", "ben", TODAY + timedelta(days=20)),)
    assert [why.kind for each in found for why in each.whys] == ["due", "missed", "work", "old"]


def test_a_topic_with_two_reasons_stands_once() -> None:
    assert whys([said(topic="b")], [RunsOut("b", "ana", TODAY)]) == {"b": ["due", "missed", "old"]}


def test_an_old_topic_is_one_missed_last_then_the_one_longest_ago() -> None:
    right = [said(topic="a", right=True, ago=90), said(topic="b", right=True, ago=30)]
    (old,) = [each for each in propose(("a", "b"), (), right, (), TODAY) if each.whys[0].kind == "old"]
    assert (old.competency, old.whys[0].was_missed) == ("a", False)
    # Missed longer ago than anything counts as missed now, so that only the old topic shows it.
    long_ago = [said(topic="b", ago=RECENT.days + 1), said(topic="a", right=True, ago=RECENT.days + 30)]
    (found,) = propose(("a", "b"), (), long_ago, (), TODAY)
    assert (found.competency, found.whys[0].was_missed) == ("b", True)
    # Once it was right, also at the same question, it is no longer missed.
    (again,) = propose(("a", "b"), (), [*long_ago, said(topic="b", right=True)], (), TODAY)
    assert (again.competency, again.whys[0].was_missed) == ("a", False)


def test_todays_work_takes_the_topic_that_was_asked_longest_ago_or_never() -> None:
    assert whys([said(topic="b", right=True)], work=["b", "c"])["c"] == ["work"]
    assert whys(work=["nothing of ours"]) == {}


def test_what_was_asked_today_is_no_old_topic_and_nothing_known_gives_nothing() -> None:
    assert whys([said(right=True, ago=0)]) == {}
    assert whys() == {}
