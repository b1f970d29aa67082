"""Slip sets and bowls: what was done to each, and whether it may stand in the table today.

A set is proven by a paper test that printed in full, for as long as the site says; dies changed since, it is to be
proven again where the site asks for that. A defect or a test that did not print in full takes it out of service. A
full test lifts what a test took out; anything else only the named decision of a competent person (``back``) does.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from trainer.core.durations import Duration, after, before
from trainer.core.text import Text

__all__ = [
    "BOWL",
    "MOST_DIES",
    "MOST_LOAD_KN",
    "OUTCOMES",
    "SLIPS",
    "Event",
    "Fitness",
    "GearItem",
    "GearRules",
    "GearState",
    "What",
    "gear_states",
    "needs_word",
]

SLIPS, BOWL = "slips", "bowl"

MOST_DIES = 120
"""More dies than any hand set has: a larger count is a slip of the finger."""

MOST_LOAD_KN = 4500
"""More load on the slips [kN] than any hand set is made for: a larger figure has the wrong unit."""


@dataclass(frozen=True, slots=True)
class GearItem:
    """A slip set or a bowl of the site: ``kind`` is ``slips`` or ``bowl``, ``segments`` how many a set has."""

    kind: str
    title: Text
    segments: int = 3


@dataclass(frozen=True, slots=True)
class GearRules:
    """The site's figures: how long a full test proves a set, the notice before that, and whether new dies end it.

    ``least_load_kn`` is the least load on the slips [kN] that counts as a test.
    """

    test_good_for: Duration = Duration(months=3)
    notice: Duration = Duration(days=14)
    test_after_dies: bool = True
    least_load_kn: int = 450


class What(StrEnum):
    """What is done to a slip set or a bowl."""

    CHECK = "check"
    DIES = "dies"
    TEST = "paper-test"
    OUT = "out"
    BACK = "back"


OUTCOMES: Mapping[What, tuple[str, ...]] = {
    What.CHECK: ("good", "defect"),
    What.DIES: ("done", "count-short"),
    What.TEST: ("full", "partial", "top only", "bottom only", "uneven", "no record"),
    What.OUT: ("out",),
    What.BACK: ("back",),
}
"""The outcomes that each may have; those of a test are its verdicts."""


class Fitness(StrEnum):
    """How a set or bowl stands, the first that applies."""

    OUT = "out of service"
    NOT_PROVEN = "not proven"
    PAST = "past its test"
    SOON = "test soon"
    IN_SERVICE = "in service"


@dataclass(frozen=True, slots=True)
class Event:
    """One ``gear`` record about ``gear``; a test of a set names its ``bowl`` too, else that is empty.

    ``load_kn`` is the load on the slips of a test [kN]; ``dies`` how many came out and went in at a die change. Both
    are ``None`` for anything else.
    """

    record_id: str
    gear: str
    what: What
    outcome: str
    day: date
    by: str
    bowl: str = ""
    load_kn: float | None = None
    dies: tuple[int, int] | None = None


@dataclass(frozen=True, slots=True)
class GearState:
    """A set or bowl on a day.

    ``since`` is the event that took it out of service. ``checked``, ``dies`` and ``tested`` are the last of each,
    ``tested`` a full one; ``test_due`` is the last day that it proves the set for, and ``ended`` the event after
    which it proves nothing any more: a die change, or a test that did not print in full.
    """

    gear: str
    item: GearItem
    fitness: Fitness
    since: Event | None = None
    checked: date | None = None
    dies: date | None = None
    tested: date | None = None
    test_due: date | None = None
    ended: Event | None = None


def needs_word(what: What, outcome: str) -> bool:
    """Whether it cannot be recorded without a word: on why, on what is wrong, or on who decided what."""
    return what in (What.OUT, What.BACK) or outcome in ("defect", "count-short")


def gear_states(
    items: Mapping[str, GearItem], events: Iterable[Event], rules: GearRules, today: date
) -> tuple[GearState, ...]:
    """Each of ``items`` on ``today``, in their order; ``events`` stand in the order in which they count."""
    counted = [each for each in events if each.day <= today]
    return tuple(_state(name, item, _about(name, item, counted), rules, today) for name, item in items.items())


def _about(name: str, item: GearItem, events: Sequence[Event]) -> list[Event]:
    """The events of ``name``; a bowl's own are also the tests of the sets that stood in it."""
    if item.kind == BOWL:
        return [each for each in events if name in (each.gear, each.bowl)]
    return [each for each in events if each.gear == name]


def _state(name: str, item: GearItem, events: Sequence[Event], rules: GearRules, today: date) -> GearState:
    state = GearState(name, item, Fitness.NOT_PROVEN)
    ended: Event | None = None
    for event in events:
        state = _after(state, event)
        if event.what is What.TEST and event.outcome == "full":
            ended = None
        elif _ends(event, rules):
            # The first that ended it is what people look for, not what came on top of it.
            ended = ended or event
    # Without a full test there is nothing that could have been ended.
    ended = ended if state.tested else None
    due = after(state.tested, rules.test_good_for) if state.tested and not ended else None
    return replace(state, fitness=_fitness(state, due, rules, today), test_due=due, ended=ended)


def _ends(event: Event, rules: GearRules) -> bool:
    """Whether no earlier full test proves anything after ``event``."""
    if event.what is What.TEST:
        return event.outcome not in ("full", "no record")
    return event.what is What.DIES and rules.test_after_dies


def _after(state: GearState, event: Event) -> GearState:
    """``state`` once ``event`` has happened."""
    match event.what, event.outcome:
        case What.CHECK, outcome:
            checked = replace(state, checked=event.day)
            return replace(checked, since=event) if outcome == "defect" else checked
        case What.DIES, outcome:
            return replace(state, dies=event.day, since=event if outcome == "count-short" else state.since)
        case What.TEST, "full":
            was_test = state.since is not None and state.since.what is What.TEST
            return replace(state, tested=event.day, since=None if was_test else state.since)
        case What.TEST, "no record":
            return state
        case What.BACK, _:
            return replace(state, since=None)
        case _:
            # A bowl is not taken out by one failing set: the test is repeated with new slips first.
            return state if state.item.kind == BOWL and event.gear != state.gear else replace(state, since=event)


def _fitness(state: GearState, due: date | None, rules: GearRules, today: date) -> Fitness:
    if state.since is not None:
        return Fitness.OUT
    if due is None:
        return Fitness.NOT_PROVEN
    if today > due:
        return Fitness.PAST
    return Fitness.SOON if today >= before(due, rules.notice) else Fitness.IN_SERVICE
