"""Placing a crew on the handles: which placings are right, whoever is called A and whoever B."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import permutations
from math import comb, factorial, prod
from typing import TypeAlias

from trainer.core.tasks import PlaceCrew

__all__ = ["Places", "places", "right_places", "share_right"]

Places: TypeAlias = "frozenset[tuple[str, tuple[str, ...]]]"
"""(spot, persons there, sorted) of each spot that is not empty."""


def places(task: PlaceCrew, placed: Mapping[str, tuple[str, ...]]) -> Places:
    """Who stands where when the tokens are ``placed``. Raises ``KeyError`` for a token that the task has not."""
    owner = {token.id: token.person for token in task.tokens}
    return _places({spot: tuple(owner[each] for each in there) for spot, there in placed.items()})


def _places(layout: Mapping[str, tuple[str, ...]]) -> Places:
    return frozenset((spot, tuple(sorted(there))) for spot, there in layout.items() if there)


def right_places(task: PlaceCrew) -> frozenset[Places]:
    """Every right way to stand: each layout under each renaming of the persons."""
    persons = sorted({token.person for token in task.tokens})
    return frozenset(
        _places({spot: tuple(names[who] for who in there) for spot, there in layout.items()})
        for layout in task.layouts
        for names in _renamings(layout, persons)
    )


def _renamings(layout: Mapping[str, tuple[str, ...]], persons: list[str]) -> Iterator[dict[str, str]]:
    """Each way to call the layout's persons by the names of the crew."""
    named = sorted({who for there in layout.values() for who in there})
    return (dict(zip(named, order, strict=True)) for order in permutations(persons, len(named)))


def share_right(task: PlaceCrew) -> float:
    """The share of right placings among all placings of every token with at most ``at_most`` a spot."""
    owners = [token.person for token in task.tokens]
    right = sum(_token_placings(each, owners) for each in right_places(task))
    return right / max(1, _all_placings(len(owners), len(task.spots), task.at_most))


def _token_placings(standing: Places, owners: list[str]) -> int:
    """How many placings of single tokens give ``standing``; none where a person's tokens do not all fit."""
    ways = 1
    for person in set(owners):
        counts = [there.count(person) for _, there in standing]
        if sum(counts) != owners.count(person):
            return 0
        ways *= factorial(sum(counts)) // prod(factorial(each) for each in counts)
    return ways


def _all_placings(tokens: int, spots: int, at_most: int) -> int:
    """How many ways ``tokens`` different tokens go to ``spots`` spots, at most ``at_most`` each."""
    ways = [1] + [0] * tokens
    for _ in range(spots):
        ways = [
            sum(comb(placed, here) * ways[placed - here] for here in range(min(at_most, placed) + 1))
            for placed in range(tokens + 1)
        ]
    return ways[tokens]
