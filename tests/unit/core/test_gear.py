"""Slip sets and bowls: proven by a full test, out by a defect or a failing test, back by a full test or a decision."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import count

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.core.durations import Duration
from trainer.core.gear import OUTCOMES, Event, Fitness, GearItem, GearRules, GearState, What, gear_states

TODAY = date(2026, 3, 2)
ITEMS = {
    "set-a": GearItem("slips", {"en": "Set A"}),
    "set-b": GearItem("slips", {"en": "Set B"}),
    "bowl-1": GearItem("bowl", {"en": "Bowl 1"}),
}
RULES = GearRules()
NUMBERS = count()


def event(what: What, outcome: str, ago: int = 0, gear: str = "set-a", bowl: str = "") -> Event:
    return Event(f"r{next(NUMBERS)}", gear, what, outcome, TODAY - timedelta(days=ago), "dee", bowl)


def paper(outcome: str, ago: int = 0, gear: str = "set-a") -> Event:
    return event(What.TEST, outcome, ago, gear, "bowl-1")


def state(*events: Event, gear: str = "set-a", rules: GearRules = RULES) -> GearState:
    return next(each for each in gear_states(ITEMS, events, rules, TODAY) if each.gear == gear)


def test_a_set_without_a_full_test_is_not_proven() -> None:
    assert state().fitness is Fitness.NOT_PROVEN
    assert state(event(What.CHECK, "good")).fitness is Fitness.NOT_PROVEN
    assert state(paper("no record")).fitness is Fitness.NOT_PROVEN


@pytest.mark.parametrize(
    ("ago", "fitness"),
    [
        (0, Fitness.IN_SERVICE),
        (75, Fitness.IN_SERVICE),
        (76, Fitness.SOON),
        (90, Fitness.SOON),
        (91, Fitness.PAST),
    ],
)
def test_a_full_test_proves_it_for_as_long_as_the_site_says(ago: int, fitness: Fitness) -> None:
    # Three months from 2 December end on 2 March, the day itself still counted.
    found = state(paper("full", ago))
    assert found.fitness is fitness
    assert found.test_due is not None
    assert (found.test_due < TODAY) == (fitness is Fitness.PAST)


def test_a_test_that_did_not_print_in_full_takes_the_set_out_and_a_full_one_brings_it_back() -> None:
    failed = state(paper("full", 30), paper("top only", 1))
    assert failed.fitness is Fitness.OUT
    assert failed.since is not None
    assert failed.since.outcome == "top only"
    assert failed.test_due is None
    assert state(paper("top only", 1), paper("full")).fitness is Fitness.IN_SERVICE


def test_a_sheet_without_a_print_changes_nothing() -> None:
    assert state(paper("full", 30), paper("no record")).fitness is Fitness.IN_SERVICE
    assert state(paper("partial", 3), paper("no record")).fitness is Fitness.OUT


@pytest.mark.parametrize(
    "out", [event(What.CHECK, "defect"), event(What.OUT, "out"), event(What.DIES, "count-short")], ids=lambda e: e.what
)
def test_what_is_not_the_tests_doing_is_only_lifted_by_a_named_decision(out: Event) -> None:
    assert state(paper("full", 30), out).fitness is Fitness.OUT
    assert state(paper("full", 30), out, event(What.CHECK, "good"), paper("full")).fitness is Fitness.OUT
    assert state(paper("full", 30), out, paper("full"), event(What.BACK, "back")).fitness is Fitness.IN_SERVICE


def test_back_in_service_without_a_full_test_is_not_proven() -> None:
    assert state(paper("partial", 3), event(What.BACK, "back")).fitness is Fitness.NOT_PROVEN


def test_new_dies_are_to_be_proven_where_the_site_asks_for_it() -> None:
    changed = (paper("full", 30), event(What.DIES, "done", 1))
    assert state(*changed).fitness is Fitness.NOT_PROVEN
    assert state(*changed, rules=GearRules(test_after_dies=False)).fitness is Fitness.IN_SERVICE


def test_what_ended_the_last_full_test_is_named_until_another_one() -> None:
    dies = event(What.DIES, "done", 5)
    ended = state(paper("full", 30), dies, event(What.DIES, "done", 2))
    assert (ended.ended, ended.tested) == (dies, TODAY - timedelta(days=30))
    assert state(paper("full", 30), dies, paper("full", 1)).ended is None
    failed = paper("top only", 3)
    assert state(paper("full", 30), failed, event(What.BACK, "back")).ended == failed
    # Where no test had proven it, nothing was ended; nor where the site lets new dies stand.
    assert state(dies).ended is None
    assert state(paper("full", 30), dies, rules=GearRules(test_after_dies=False)).ended is None
    assert state(paper("full", 30), paper("no record")).ended is None


def test_a_failing_set_does_not_take_the_bowl_out_with_it() -> None:
    events = (paper("full", 30), paper("uneven", 2))
    assert state(*events).fitness is Fitness.OUT
    assert state(*events, gear="bowl-1").fitness is Fitness.NOT_PROVEN
    assert state(*events, paper("full", 1, "set-b"), gear="bowl-1").fitness is Fitness.IN_SERVICE
    assert state(event(What.CHECK, "defect", gear="bowl-1"), gear="bowl-1").fitness is Fitness.OUT


def test_what_is_still_to_come_does_not_count_yet() -> None:
    assert state(paper("full", -1)).fitness is Fitness.NOT_PROVEN


EVENTS = st.builds(
    lambda pair, ago, gear: event(pair[0], pair[1], ago, gear, "bowl-1" if pair[0] is What.TEST else ""),
    st.sampled_from([(what, outcome) for what, outcomes in OUTCOMES.items() for outcome in outcomes]),
    st.integers(0, 200),
    st.sampled_from(["set-a", "set-b"]),
)


@given(st.lists(EVENTS, max_size=12).map(lambda found: sorted(found, key=lambda each: each.day)))
def test_a_set_in_service_always_has_a_full_test_that_is_good_today(events: list[Event]) -> None:
    for found in gear_states(ITEMS, events, RULES, TODAY):
        if found.fitness in (Fitness.IN_SERVICE, Fitness.SOON):
            assert found.since is None
            assert found.tested is not None
            assert found.test_due is not None
            assert found.test_due >= TODAY


@given(st.lists(EVENTS, max_size=12).map(lambda found: sorted(found, key=lambda each: each.day)))
def test_what_is_done_to_one_set_says_nothing_about_the_other(events: list[Event]) -> None:
    alone = [each for each in events if each.gear == "set-a"]
    assert state(*events) == state(*alone)


def test_a_longer_interval_of_the_site_counts() -> None:
    assert state(paper("full", 120), rules=GearRules(test_good_for=Duration(months=6))).fitness is Fitness.IN_SERVICE
