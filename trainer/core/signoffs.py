"""Sign-offs that deserve a second look: two who sign for each other, and competence on one person's word.

A mark is not a reproach and changes no standing; it tells the coordinator where another pair of eyes is due.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import combinations

from trainer.core.observation import ASSESSMENT, CLEAN, PRACTICE

__all__ = ["MUTUAL_DAYS", "Mark", "Watch", "as_one", "marks"]

MUTUAL_DAYS = 30


@dataclass(frozen=True, slots=True)
class Watch:
    """One competency on one sheet: who watched whom on which day and tour, for which purpose, with which outcome."""

    hand: str
    observer: str
    competency: str
    day: date
    tour: str
    purpose: str
    outcome: str


@dataclass(frozen=True, slots=True)
class Mark:
    """Something to look at again.

    ``mutual``: ``people`` signed each other off within 30 days. ``one-observer``: each of ``people`` holds it on the
    sole word of the one before. ``trained-by-observer``: the second was practised and signed off by the first alone.
    """

    kind: str
    competency: str
    people: tuple[str, ...]
    day: date


def as_one(watches: Iterable[Watch]) -> list[Watch]:
    """The watches, those of one observer, hand, competency and purpose in one tour counted as one, the last given."""
    last = {(each.hand, each.observer, each.competency, each.purpose, each.day, each.tour): each for each in watches}
    return sorted(last.values(), key=lambda each: (each.day, each.tour, each.hand, each.observer, each.competency))


def marks(watches: Iterable[Watch]) -> list[Mark]:
    """Every mark, by competency, day, kind and people; only assessments that were clean sign anybody off."""
    found: list[Mark] = []
    by_competency: defaultdict[str, list[Watch]] = defaultdict(list)
    for each in as_one(watches):
        by_competency[each.competency].append(each)
    for competency, group in by_competency.items():
        clean = [each for each in group if each.purpose == ASSESSMENT and each.outcome == CLEAN]
        found += _mutual(competency, clean)
        found += _one_observer(competency, clean)
        found += _trained(competency, clean, [each for each in group if each.purpose == PRACTICE])
    return sorted(found, key=lambda mark: (mark.competency, mark.day, mark.kind, mark.people))


def _mutual(competency: str, clean: Sequence[Watch]) -> Iterator[Mark]:
    """One mark for each two people who signed each other off within 30 days, on the later day."""
    latest: dict[tuple[str, ...], date] = {}
    for one, other in combinations(clean, 2):
        if (one.hand, one.observer) == (other.observer, other.hand):
            pair, day = tuple(sorted((one.hand, one.observer))), max(one.day, other.day)
            if abs((one.day - other.day).days) <= MUTUAL_DAYS:
                latest[pair] = max(day, latest.get(pair, day))
    return (Mark("mutual", competency, pair, day) for pair, day in latest.items())


def _only_observer(clean: Sequence[Watch]) -> dict[str, tuple[str, int, date]]:
    """Each hand signed off by one person only: that person, how often, and the last day."""
    by_hand: defaultdict[str, list[Watch]] = defaultdict(list)
    for each in clean:
        by_hand[each.hand].append(each)
    return {
        hand: (group[0].observer, len(group), group[-1].day)
        for hand, group in by_hand.items()
        if len({each.observer for each in group}) == 1
    }


def _one_observer(competency: str, clean: Sequence[Watch]) -> Iterator[Mark]:
    """A chain of three or more, or one person who signed the same hand off again and again."""
    sole = _only_observer(clean)
    observers = {observer for observer, _, _ in sole.values()}
    for hand, (_, times, day) in sole.items():
        chain = _chain(hand, sole)
        # The end of a chain tells all of it; links inside it are told with the end.
        if (len(chain) > 2 and hand not in observers) or (len(chain) == 2 and times > 1):
            yield Mark("one-observer", competency, chain, day)


def _chain(hand: str, sole: dict[str, tuple[str, int, date]]) -> tuple[str, ...]:
    """The people from the first to ``hand``, each on the sole word of the one before; a ring is cut where it closes."""
    people = [hand]
    while people[0] in sole and sole[people[0]][0] not in people:
        people.insert(0, sole[people[0]][0])
    return tuple(people)


def _trained(competency: str, clean: Sequence[Watch], practice: Sequence[Watch]) -> Iterator[Mark]:
    """A hand whose only observer also practised with him beforehand."""
    pairs = {(each.observer, each.hand) for each in practice}
    for hand, (observer, _, day) in _only_observer(clean).items():
        if (observer, hand) in pairs:
            yield Mark("trained-by-observer", competency, (observer, hand), day)
