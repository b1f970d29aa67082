"""How likely a form is passed: by a blind guesser, by someone who knows half, by a competent hand.

A form is fair when the first two almost never pass it and the third almost always does. Every critical item must be
right, so ``P(pass) = product of the critical rates * P(the others reach cut - criticals)``; the second factor is a
Poisson-binomial tail, found exactly by convolution.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import comb, factorial, prod

from trainer.core.banks import Bank
from trainer.core.checklists import MET, STATES
from trainer.core.forms import is_ordinary
from trainer.core.placing import share_right
from trainer.core.tasks import (
    ChooseAll,
    ChooseOne,
    JudgeDrawing,
    PlaceCrew,
    PointAt,
    PutInOrder,
    ReadSheet,
    Task,
    TickSteps,
    WorkOut,
)
from trainer.errors import BadInput

__all__ = [
    "BLIND_AT_MOST",
    "COMPETENT",
    "COMPETENT_AT_LEAST",
    "COMPETENT_CRITICAL",
    "HALF_AT_MOST",
    "PassCurve",
    "curve",
    "guess_rate",
    "partial_rate",
    "pass_probability",
    "repeat_probability",
]

BLIND_AT_MOST = 0.001
HALF_AT_MOST = 0.05
COMPETENT_AT_LEAST = 0.90

COMPETENT = 0.95
"""Chance that a competent hand gets an ordinary item right."""

COMPETENT_CRITICAL = 0.99
"""Chance that a competent hand gets a critical item right."""

_NUMERIC_GUESS = 0.05


@dataclass(frozen=True, slots=True)
class PassCurve:
    """Chance of passing for a blind guesser, for someone who knows half, and for a competent hand."""

    blind: float
    half: float
    competent: float

    @property
    def is_acceptable(self) -> bool:
        """Whether the form may be used: the first two low enough, the third high enough."""
        return self.blind <= BLIND_AT_MOST and self.half <= HALF_AT_MOST and self.competent >= COMPETENT_AT_LEAST


def pass_probability(rates: Iterable[float], cut: int, critical: Iterable[float] = ()) -> float:
    """The chance of a pass: every ``critical`` item right and at least ``cut`` right in all.

    ``rates`` are the chances of the items that are not critical. Raises ``ValueError`` for a chance outside 0 to 1.
    """
    others, musts = tuple(rates), tuple(critical)
    if not all(0.0 <= each <= 1.0 for each in (*others, *musts)):
        raise ValueError("a chance lies between 0 and 1")
    needed = max(0, cut - len(musts))
    # The sum is clipped because a thousand roundings may leave it a hair above 1.
    return prod(musts) * min(1.0, sum(_right_count(others)[needed:]))


def _right_count(rates: Sequence[float]) -> list[float]:
    """The distribution of the number right: the chance of 0, 1, ... ``len(rates)``."""
    chances = [1.0]
    for rate in rates:
        wrong = [each * (1.0 - rate) for each in chances] + [0.0]
        right = [0.0] + [each * rate for each in chances]
        chances = [a + b for a, b in zip(wrong, right, strict=True)]
    return chances


def partial_rate(known: float, guess: float) -> float:
    """The chance of a right answer for someone who knows the share ``known`` and guesses the rest."""
    return known + (1.0 - known) * guess


def guess_rate(task: Task) -> float:
    """The chance that a blind guess at ``task`` is right, taking it as obvious how many to choose."""
    match task:
        case ChooseOne(options=options) | JudgeDrawing(options=options):
            return _subset_rate(len(options), 1)
        case ReadSheet(options=told):
            # Each option is as likely to be the right one, by how a sheet is drawn.
            return _subset_rate(len(told), 1)
        case ChooseAll(options=options):
            return _subset_rate(len(options), sum(each.right for each in options))
        case PointAt(spots=spots):
            return _subset_rate(len(spots), sum(each.right for each in spots))
        case PutInOrder(steps=steps):
            return 1.0 / factorial(len(steps))
        case PlaceCrew():
            return share_right(task)
        case TickSteps(rows=rows):
            # What went well reads as met; of the others it is taken as obvious that they are anything but that.
            return 1.0 / float((len(STATES) - 1) ** sum(row.state != MET for row in rows))
        case WorkOut():
            return _NUMERIC_GUESS


def _subset_rate(of: int, chosen: int) -> float:
    """One over the ways to choose ``chosen`` of ``of``; 1 where there is nothing to choose from."""
    return 1.0 / max(1, comb(of, chosen))


def curve(bank: Bank) -> PassCurve:
    """The pass curve of the easiest form that could be drawn from ``bank``.

    Forms differ in their kinds of task. Taking in each critical objective and each topic the variants that are easiest
    to guess bounds every form from above, so a bank that is acceptable here never gives an unfair form. Enemies are
    not looked at, which can only make the bound more careful. Raises ``BadInput("form-shortfall")`` naming the topic
    that has too few items.
    """
    critical = [max(each) for each in _critical_rates(bank)]
    others = [rate for each in _topic_rates(bank) for rate in each]
    cut = bank.blueprint.cut

    def passes(known: float) -> float:
        return pass_probability(
            [partial_rate(known, each) for each in others], cut, [partial_rate(known, each) for each in critical]
        )

    competent = pass_probability([COMPETENT] * len(others), cut, [COMPETENT_CRITICAL] * len(critical))
    return PassCurve(blind=passes(0.0), half=passes(0.5), competent=competent)


def _critical_rates(bank: Bank) -> Iterator[list[float]]:
    """The guess rates of each critical objective's variants."""
    for objective in bank.objectives:
        if objective.critical:
            rates = [guess_rate(item.task) for item in bank.items if item.objective == objective.id]
            if not rates:
                raise BadInput("form-shortfall", topic=objective.topic)
            yield rates


def _topic_rates(bank: Bank) -> Iterator[list[float]]:
    """For each topic the quota of rates that are easiest to guess."""
    for topic, quota in bank.blueprint.topics.items():
        rates = sorted((guess_rate(item.task) for item in bank.items if is_ordinary(bank, item, topic)), reverse=True)
        if len(rates) < quota:
            raise BadInput("form-shortfall", topic=topic)
        yield rates[:quota]


def repeat_probability(points: int, items: int, cut: int) -> float:
    """The chance that someone with ``points`` of ``items`` right reaches ``cut`` on a parallel form.

    Beta-binomial with the uniform prior, ``P(BetaBin(items, points + 1, items - points + 1) >= cut)``, summed in whole
    numbers: ``P(j) = C(points + j, j) * C(2 items - points - j, items - j) / C(2 items + 1, items)``.
    """
    if not 0 <= points <= items:
        raise ValueError("points lie between 0 and items")
    ways = sum(comb(points + j, j) * comb(2 * items - points - j, items - j) for j in range(max(0, cut), items + 1))
    return ways / comb(2 * items + 1, items)
