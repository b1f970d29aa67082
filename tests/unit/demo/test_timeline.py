"""The made-up rig's history, before anybody plays it."""

from __future__ import annotations

from collections import defaultdict

from trainer.demo.scenario import Event, Scenario, load
from trainer.demo.timeline import STORIES, timeline


def _joined(scenario: Scenario) -> dict[str, int]:
    return {each.id: each.joined for each in scenario.people}


def _told(scenario: Scenario, does: str) -> list[Event]:
    return [each for each in timeline(scenario) if each.does == does]


def test_the_same_scenario_gives_the_same_history() -> None:
    assert timeline(load()) == timeline(load())


def test_events_stand_in_the_order_of_their_days_and_none_lies_in_the_future() -> None:
    days = [each.day for each in timeline(load())]
    assert days == sorted(days)
    assert days[-1] < 0


def test_everybody_joins_once_and_before_anything_else_of_his() -> None:
    events = timeline(load())
    first: dict[str, str] = {}
    for each in events:
        if each.who:
            first.setdefault(each.who, each.does)
    assert set(first.values()) == {"join"}
    assert len(_told(load(), "join")) == len(load().people)


def test_nobody_watches_himself_has_the_brake_beside_it_or_watches_before_he_came() -> None:
    scenario = load()
    joined = _joined(scenario)
    for each in _told(scenario, "watch"):
        assert each.by not in (each.who, each.brake), each
        assert each.brake != each.who, each
        assert all(joined[name] <= each.day for name in (each.by, each.brake) if name), each


def test_the_first_two_watches_of_a_story_are_by_two_people() -> None:
    scenario = load()
    watches: defaultdict[str, list[str]] = defaultdict(list)
    for each in _told(scenario, "watch"):
        watches[each.who].append(each.by)
    for person in scenario.people:
        if person.story != "none":
            assert len(set(watches[person.id][:2])) == 2, person


def test_every_story_is_told_by_somebody_on_the_rig() -> None:
    assert {each.story for each in load().people} == set(STORIES)
