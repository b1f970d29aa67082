"""Rules on whether a bank tells who knows from who guesses: pass curve and repeated items. ``telling`` has the keys."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from trainer.core.banks import Bank, Item
from trainer.core.passcurve import BLIND_AT_MOST, COMPETENT_AT_LEAST, HALF_AT_MOST, PassCurve, curve
from trainer.core.tasks import PlaceCrew, PointAt
from trainer.curriculum.checks.tasks import words_of
from trainer.curriculum.loaded import Loaded, bank_file
from trainer.errors import BadInput, Problem

__all__ = ["near_duplicates", "pass_curves", "unfair"]

_ALIKE = 0.85
"""Share of words in common from which two items ask the same thing."""


def pass_curves(loaded: Loaded) -> list[tuple[str, PassCurve]]:
    """The pass curve of each bank from which a form can be drawn, by bank id."""
    found = []
    for bank in loaded.banks.values():
        try:
            found.append((bank.id, curve(bank)))
        except BadInput:
            continue  # `drawable` says what is missing
    return found


def unfair(loaded: Loaded) -> list[Problem]:
    """Banks whose easiest form lets a guesser through or keeps a competent hand out."""
    return [
        loaded.problem(bank_file(name), ("blueprint",), what, todo)
        for name, each in pass_curves(loaded)
        if adds_up(loaded.banks[name])
        for what, todo in _out_of_range(each)
    ]


def adds_up(bank: Bank) -> bool:
    """Whether the numbers of the blueprint agree; as long as they do not, a pass curve says nothing."""
    plan, critical = bank.blueprint, sum(each.critical for each in bank.objectives)
    return plan.items == sum(plan.topics.values()) + critical and plan.cut <= plan.items


def _out_of_range(each: PassCurve) -> Iterator[tuple[str, str]]:
    harder, easier = "use kinds that are harder to guess, or raise the cut", "lower the cut, or have fewer must-knows"
    if each.competent < COMPETENT_AT_LEAST and (each.half > HALF_AT_MOST or each.blind > BLIND_AT_MOST):
        harder = easier = "write a longer form, with kinds that are harder to guess"
    if each.blind > BLIND_AT_MOST:
        yield f"a blind guesser passes with {each.blind:.4f}, more than {BLIND_AT_MOST}", harder
    if each.half > HALF_AT_MOST:
        yield f"someone who knows half passes with {each.half:.3f}, more than {HALF_AT_MOST}", harder
    if each.competent < COMPETENT_AT_LEAST:
        what = f"a competent hand passes with {each.competent:.3f}, less than {COMPETENT_AT_LEAST}"
        yield what, easier


def near_duplicates(loaded: Loaded) -> list[Problem]:
    """Items of one bank that ask nearly the same in nearly the same words, so that they are no second variant."""
    return [
        loaded.problem(
            bank_file(bank.id),
            ("items", other.id),
            f'asks nearly the same as "{one.id}"',
            "make it another situation, or take one of the two out",
        )
        for bank in loaded.banks.values()
        for (one, its), (other, others) in combinations([(each, _all_words(each)) for each in bank.items], 2)
        if _alikeness(its, others) >= _ALIKE
    ]


def _all_words(item: Item) -> frozenset[str]:
    """The words of question and options in English, and the parts that can be pointed at."""
    told = (item.text, *((item.situation,) if item.situation else ()))
    sentences = [*(each["en"] for each in told), *(each["en"] for each in words_of(item.task))]
    words = {word.strip(".,;:!?\"'()").casefold() for sentence in sentences for word in sentence.split()}
    return frozenset(words | set(_parts(item)))


def _parts(item: Item) -> Iterator[str]:
    match item.task:
        case PointAt(picture=picture, spots=spots):
            yield from (f"{picture.name}:{spot.part}" for spot in spots)
            yield from (f"{picture.name}+{part}" for part in picture.show)
        case PlaceCrew(picture=picture, spots=names, tokens=tokens):
            yield from (f"{picture.name}:{name}" for name in names)
            yield from (token.id for token in tokens)
        case _:
            return


def _alikeness(one: frozenset[str], other: frozenset[str]) -> float:
    return len(one & other) / max(1, len(one | other))
