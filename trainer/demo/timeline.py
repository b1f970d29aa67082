"""Eighteen months as one list of events: what the stories of `scenario.yaml` amount to, beside its own events."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import count
from random import Random

from trainer.demo.scenario import Event, Person, Scenario

__all__ = ["STORIES", "timeline"]

STORIES = {
    "first": "paper from before, then quiz and two watches while it is good, then a refresher each year",
    "steady": "lesson, quiz and two watches in the first hitches, then a refresher each year",
    "lapsing": "knew the work: quiz and two watches; this year's refresher has not happened",
    "none": "only the events that name the person",
}
"""What each story means."""

_ORDER = ("join", "paper", "move", "tailgate", "lesson", "watch", "quiz", "back", "paper-test", "allow", "void")
_LAST_DAY = -1
_REFRESHER = (285, 335)


def timeline(scenario: Scenario) -> tuple[Event, ...]:
    """Every event of the stories and of the scenario itself, in the order in which they happen.

    The same scenario gives the same list: chance comes from its seed only.
    """
    chance = Random(scenario.seed)  # noqa: S311 - a made-up history needs no secret
    events = [event for person in scenario.people for event in _story(scenario, person, chance)]
    told = [_completed(scenario, event) for event in scenario.events]
    return tuple(sorted([*events, *told], key=lambda each: (each.day, _ORDER.index(each.does))))


def _story(scenario: Scenario, person: Person, chance: Random) -> Iterator[Event]:
    yield Event(person.joined, "join", who=person.id, crew=person.crew, position=person.position)
    if person.story == "none":
        return
    if person.story == "first":
        yield Event(person.joined, "paper", who=person.id)
    start = person.joined + chance.randint(1, 9) if person.story == "first" else person.joined
    learned, *watched = _working(scenario, person, start, (0, 2, chance.randint(4, 7)))
    if person.story == "steady":
        # Whoever knows the work already goes straight to the quiz.
        yield Event(learned, "lesson", who=person.id)
    yield Event(learned, "quiz", who=person.id)
    earlier = ""
    for day in watched:
        watch = _watch(scenario, person, day, but=earlier)
        earlier = watch.by
        yield watch
    if person.story != "lapsing":
        yield from _refreshers(scenario, person, learned, chance)


def _refreshers(scenario: Scenario, person: Person, last: int, chance: Random) -> Iterator[Event]:
    """A quiz and a watch well inside each year, until the year that is not over yet."""
    while True:
        last, after = _working(scenario, person, last + chance.randint(*_REFRESHER), (0, 1))
        if after > _LAST_DAY:
            return
        yield Event(last, "quiz", who=person.id)
        yield _watch(scenario, person, after)


def _working(scenario: Scenario, person: Person, start: int, steps: tuple[int, ...]) -> list[int]:
    """The working days from ``start`` on that lie the given numbers of working days after the first one."""
    hitch = scenario.crews[person.crew]
    days = (day for day in count(start) if hitch.works_on(day) and _crew_on(scenario, person, day))
    first = [next(days) for _ in range(max(steps) + 1)]
    return [first[step] for step in steps]


def _watch(scenario: Scenario, person: Person, day: int, but: str = "") -> Event:
    """A watch on ``day`` by the first who can, ``but`` not by who watched before: two people must have seen it."""
    observer = next(each for each in _observers(scenario, person, day) if each != but)
    return Event(day, "watch", who=person.id, by=observer, brake=_brake(scenario, person, observer, day))


def _crew_on(scenario: Scenario, person: Person, day: int) -> str:
    """The crew that ``person`` works beside on ``day``: his own, for a pusher the day crew on its hitch, if any."""
    if person.position != "toolpusher":
        return person.crew
    days = (name for name, hitch in scenario.crews.items() if hitch.works_on(day) and not hitch.is_night)
    return next((name for name in days if any(each.position == "driller" for each in _people(scenario, name))), "")


def _people(scenario: Scenario, crew: str) -> list[Person]:
    return [each for each in scenario.people if each.crew == crew]


def _observers(scenario: Scenario, person: Person, day: int) -> list[str]:
    """Who can watch ``person`` on ``day``: the assistant driller of his crew, a pusher on hitch, the derrickhand."""
    beside = _people(scenario, _crew_on(scenario, person, day))
    pushers = [each for each in scenario.people if each.position == "toolpusher"]
    on_hitch = [each for each in pushers if scenario.crews[each.crew].works_on(day)]
    by_position = {each.position: each for each in beside}
    wanted = [by_position["assistant-driller"], *on_hitch, by_position["derrickhand"], by_position["driller"]]
    return [each.id for each in wanted if each.id != person.id and each.joined <= day]


def _brake(scenario: Scenario, person: Person, observer: str, day: int) -> str:
    """Who had the brake: the driller, else his assistant, whoever is neither watched nor watching; else no name."""
    beside = _people(scenario, _crew_on(scenario, person, day))
    for position in ("driller", "assistant-driller"):
        for each in beside:
            if each.position == position and each.id not in (person.id, observer):
                return each.id
    return ""


def _completed(scenario: Scenario, event: Event) -> Event:
    """A watch of the scenario's own with the brake filled in."""
    if event.does != "watch" or event.brake:
        return event
    brake = _brake(scenario, scenario.person(event.who), event.by, event.day)
    return replace(event, brake=brake)
