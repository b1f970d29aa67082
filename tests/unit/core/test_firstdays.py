"""The way of a new hand: its order and stages come from the catalogue, its steps from what was done."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

import pytest

from trainer.core.catalogue import Catalogue, Competency, Knowledge, Needs, Position, Practical, Rotation, Site
from trainer.core.durations import Duration
from trainer.core.firstdays import FirstDays, Stage, State, first_days
from trainer.core.matrix import Cell, Reason, Rule, Standing
from trainer.core.progress import PartProgress
from trainer.core.records import Part

START = date(2026, 1, 5)
YEAR = Duration(years=1)
HITCH = Rotation(START, 14, 14)
SITE = Site({"floorhand": Position("hand")}, {"day-1": HITCH, "any-day": Rotation()})
HELD = date(2027, 1, 1)


def competency(name: str, within: int | None = 200, after: Sequence[str] = (), touch: bool = False) -> Competency:
    """One with a quiz and two watches."""
    needs = Needs(Knowledge(name, YEAR), Practical("sheet", YEAR, first=2, assessors=2))
    return Competency(
        name,
        {"en": name},
        ("floorhand",),
        needs,
        after=tuple(after),
        within=None if within is None else Duration(days=within),
        until={"en": f"no {name}"},
        before_touch=touch,
    )


def cell(name: str, standing: Standing, rule: Rule, crew: str) -> Cell:
    return Cell("h", name, "floorhand", crew, standing, None, None, False, Reason(rule, "", None, None))


def parts(*, knows: bool, watches: int) -> tuple[PartProgress, PartProgress]:
    through = HELD if watches == 2 else None
    quiz = PartProgress(Part.KNOWLEDGE, HELD if knows else None, knows)
    return quiz, PartProgress(Part.PRACTICAL, through, watches == 2, watches, watches, 2, 2)


def way(
    *made: Competency,
    held: Sequence[str] = (),
    known: Sequence[str] = (),
    standings: Mapping[str, tuple[Standing, Rule]] | None = None,
    crew: str = "day-1",
    start: date = START,
) -> FirstDays:
    """The way of a hand who came on ``start``, holds ``held`` and has passed the quiz of ``known``."""
    usual = {
        each.id: (Standing.CURRENT, Rule.HOLDS) if each.id in held else (Standing.NOT_STARTED, Rule.NOTHING)
        for each in made
    }
    found = {**usual, **(standings or {})}
    return first_days(
        Catalogue(made, SITE, {}, {}, {}, ""),
        [cell(each.id, *found[each.id], crew) for each in made],
        {each.id: parts(knows=each.id in (*held, *known), watches=2 * (each.id in held)) for each in made},
        {each.id: start for each in made},
        frozenset(),
    )


def order(found: FirstDays) -> list[str]:
    return [each.competency for each in found.subjects]


def stages(found: FirstDays) -> dict[str, Stage]:
    return {each.competency: each.stage for each in found.subjects}


def nexts(found: FirstDays) -> list[tuple[str, str]]:
    return [(each.competency, step.what) for each in found.subjects for step in each.steps if step.state is State.NEXT]


def test_stages_come_in_their_order_and_within_each_what_is_due_first() -> None:
    made = way(
        competency("much-later"), competency("hitch", 14), competency("week", 7), competency("second", 5),
        competency("touch", 90, touch=True),
    )  # fmt: skip
    assert order(made) == ["touch", "second", "week", "hitch", "much-later"]
    assert stages(made) == {
        "touch": Stage.TOUCH, "second": Stage.DAYS, "week": Stage.DAYS, "hitch": Stage.HITCH,
        "much-later": Stage.LATER,
    }  # fmt: skip


def test_what_another_needs_first_is_pulled_before_it() -> None:
    made = way(competency("base"), competency("middle", 200, ["base"]), competency("early", 3, ["middle"]))
    assert order(made) == ["base", "middle", "early"]
    assert set(stages(made).values()) == {Stage.DAYS}


@pytest.mark.parametrize(
    ("within", "start", "stage"),
    [
        (7, START, Stage.DAYS),
        (8, START, Stage.HITCH),
        (28, START, Stage.HITCH),  # due on the first day of the second hitch: done in the first
        (29, START, Stage.LATER),
        (28, date(2026, 1, 20), Stage.HITCH),  # came in the days away
    ],
)
def test_what_is_due_by_the_second_hitch_is_done_in_the_first(within: int, start: date, stage: Stage) -> None:
    assert stages(way(competency("c", within), start=start)) == {"c": stage}


def test_without_a_rotation_four_weeks_are_taken_for_the_first_hitch() -> None:
    made = way(competency("in", 28), competency("out", 29), competency("never", None), crew="any-day")
    assert stages(made) == {"in": Stage.HITCH, "out": Stage.LATER, "never": Stage.LATER}


def test_one_thing_is_next_in_each_subject_up_to_the_first_part_with_something_to_learn() -> None:
    a, b, c = competency("a", touch=True), competency("b", touch=True), competency("c", 5)
    assert nexts(way(a, b, c)) == [("a", "quiz"), ("b", "quiz")]
    # Every lesson and quiz before the first touch comes before any watch of it.
    assert nexts(way(a, b, c, known=["a"])) == [("b", "quiz")]
    # Both wait for an observer: meanwhile the next part goes on.
    assert nexts(way(a, b, c, known=["a", "b"])) == [("a", "watch"), ("b", "watch"), ("c", "quiz")]


def test_after_the_first_touch_a_watch_need_not_wait_for_the_quiz_of_another_subject() -> None:
    a, b = competency("a", 5), competency("b", 5)
    assert nexts(way(a, b, known=["a"])) == [("a", "watch"), ("b", "quiz")]


def test_a_watch_that_opens_another_subject_before_the_first_touch_waits_for_none_of_it() -> None:
    first, second = competency("first", touch=True), competency("second", after=["first"], touch=True)
    assert nexts(way(first, second, known=["first"])) == [("first", "watch")]


def test_nothing_is_next_where_another_subject_comes_first_or_somebody_is_off_the_slips() -> None:
    first, second = competency("first", touch=True), competency("second", after=["first"], touch=True)
    made = way(first, second)
    assert [each.after for each in made.subjects] == [(), ("first",)]
    assert nexts(made) == [("first", "quiz")]
    assert nexts(way(first, second, held=["first"])) == [("second", "quiz")]
    off = {"first": (Standing.STOOD_DOWN, Rule.STOOD_DOWN)}
    assert nexts(way(first, second, standings=off)) == []


def test_what_is_not_held_stays_undone_and_what_ran_out_is_undone_again() -> None:
    made = way(
        competency("held", touch=True), competency("open", 5), competency("ran-out", touch=True),
        held=["held"], standings={"ran-out": (Standing.OVERDUE, Rule.EXPIRED)},
    )  # fmt: skip
    assert [(each.competency, each.until) for each in made.waiting] == [
        ("ran-out", {"en": "no ran-out"}), ("open", {"en": "no open"}),
    ]  # fmt: skip


def test_it_is_over_when_all_but_the_later_has_been_held() -> None:
    touch, later = competency("touch", touch=True), competency("later")
    assert not way(touch, later).is_over
    assert way(touch, later, held=["touch"]).is_over
    # Whoever is off the slips, or let something run out, is no new hand.
    for standing in ((Standing.STOOD_DOWN, Rule.STOOD_DOWN), (Standing.OVERDUE, Rule.EXPIRED)):
        assert way(touch, later, standings={"touch": standing}).is_over
    assert way().is_over
