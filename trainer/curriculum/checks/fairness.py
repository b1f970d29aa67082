"""Rules on whether a bank tells who knows from who guesses: pass curve, tell-tale keys, repeated items."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import combinations

from trainer.core.banks import Bank, Item
from trainer.core.passcurve import BLIND_AT_MOST, COMPETENT_AT_LEAST, HALF_AT_MOST, PassCurve, curve, pass_probability
from trainer.core.tasks import ChooseOne, Option, PlaceCrew, PointAt
from trainer.curriculum.checks.tasks import words_of
from trainer.curriculum.loaded import Loaded, bank_file
from trainer.errors import BadInput, Problem

__all__ = ["near_duplicates", "pass_curves", "telling_keys", "unfair"]

_BY_CHANCE = 0.001
"""A habit is what an author who has none would show in fewer than one bank of a thousand: with four options a key that
is the longest in 7 of 8 items, 9 of 12, 11 of 17. Fifty banks in two languages then hardly ever accuse anybody wrongly,
and who always takes the longest gains less than by knowing half. Our own banks stand at one in four, at most 8 of 21.
"""

_ALWAYS = 4
"""In so many items or more, a key that gives itself away every time is one, whatever the chance."""

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
        for what, todo in _out_of_range(each)
    ]


def _out_of_range(each: PassCurve) -> Iterator[tuple[str, str]]:
    harder = "use kinds that are harder to guess, or raise the cut"
    if each.blind > BLIND_AT_MOST:
        yield f"a blind guesser passes with {each.blind:.4f}, more than {BLIND_AT_MOST}", harder
    if each.half > HALF_AT_MOST:
        yield f"someone who knows half passes with {each.half:.3f}, more than {HALF_AT_MOST}", harder
    if each.competent < COMPETENT_AT_LEAST:
        what = f"a competent hand passes with {each.competent:.3f}, less than {COMPETENT_AT_LEAST}"
        yield what, "lower the cut, or have fewer critical objectives"


def telling_keys(loaded: Loaded) -> list[Problem]:
    """Banks in which the right option can be told by its length or its place in the file."""
    return [
        loaded.problem(bank_file(bank.id), ("items",), what, todo)
        for bank in loaded.banks.values()
        for what, todo in (*_by_length(bank), *_by_place(bank))
    ]


def _choices(bank: Bank) -> list[tuple[Option, ...]]:
    return [
        item.task.options
        for item in bank.items
        if isinstance(item.task, ChooseOne) and sum(each.right for each in item.task.options) == 1
    ]


def _is_habit(count: int, choices: list[tuple[Option, ...]], rivals: int = 1) -> bool:
    """Whether ``count`` of ``choices`` are too many for chance, where any of ``rivals`` could have come to as many."""
    if count == len(choices) >= _ALWAYS:
        return True
    return pass_probability([1 / len(options) for options in choices], count) * rivals < _BY_CHANCE


def _by_length(bank: Bank) -> Iterator[tuple[str, str]]:
    choices = _choices(bank)
    for language in sorted({language for item in bank.items for language in item.text}):
        longest = sum(_key_is_longest(options, language) for options in choices)
        if _is_habit(longest, choices):
            what = f"the right option is the longest in {longest} of {len(choices)} items ({language})"
            yield what, "shorten it, or make the wrong ones as full"


def _key_is_longest(options: tuple[Option, ...], language: str) -> bool:
    lengths = [(len((each.text or {}).get(language, "")), each.right) for each in options]
    right = max((length for length, is_right in lengths if is_right), default=0)
    return all(right > length for length, is_right in lengths if not is_right)


def _by_place(bank: Bank) -> Iterator[tuple[str, str]]:
    choices = _choices(bank)
    places = Counter(next(n for n, each in enumerate(options, 1) if each.right) for options in choices)
    for place, count in places.most_common(1):
        if _is_habit(count, choices, rivals=max(map(len, choices))):
            yield f"the right option is number {place} in {count} of {len(choices)} items", "put it elsewhere in some"


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
    sentences = [item.text["en"], *(each["en"] for each in words_of(item.task))]
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
