"""Rules on keys that give themselves away: by length, likeness to the other options, place in the file, or a word."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from math import comb
from typing import TypeAlias

from trainer.core.banks import Bank
from trainer.core.passcurve import pass_probability
from trainer.core.tasks import ChooseOne, Option
from trainer.curriculum.loaded import Loaded, bank_file
from trainer.errors import Problem

__all__ = ["telling_keys", "telling_words"]

Measure: TypeAlias = Callable[[Sequence[str]], list[float]]
"""One figure for each sentence of a choice."""

_BY_CHANCE = 0.001
"""A habit is what an author who has none would show in fewer than one bank of a thousand: with four options a key that
is the longest in 7 of 8 items, 9 of 12, 11 of 17. Fifty banks in two languages then hardly ever accuse anybody wrongly,
and who always takes the longest gains less than by knowing half. Our own banks stand at one in four, at most 8 of 21.
"""

_ALWAYS = 4
"""In so many items or more, a key that gives itself away every time is one, whatever the chance."""

_OUTSTANDING = 4
"""A word that tells one option from the others in fewer choices than this is no cue that anybody would learn."""


def telling_keys(loaded: Loaded) -> list[Problem]:
    """Banks in which the right option can be told by its length, its likeness to the others or its place."""
    return [
        loaded.problem(bank_file(bank.id), ("items",), what, todo)
        for bank in loaded.banks.values()
        for what, todo in (*_by_measure(bank), *_by_place(bank))
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


def _by_measure(bank: Bank) -> Iterator[tuple[str, str]]:
    """Habits of the right option of having most of something in one language."""
    choices = _choices(bank)
    for language in sorted({language for item in bank.items for language in item.text}):
        for measure, what, todo in _MEASURES:
            standing_out = sum(_key_has_most(options, language, measure) for options in choices)
            if _is_habit(standing_out, choices):
                yield f"the right option {what} in {standing_out} of {len(choices)} items ({language})", todo


def _key_has_most(options: tuple[Option, ...], language: str, measure: Measure) -> bool:
    measured = measure([(each.text or {}).get(language, "") for each in options])
    right = max((value for each, value in zip(options, measured, strict=True) if each.right), default=0.0)
    return all(right > value for each, value in zip(options, measured, strict=True) if not each.right)


def _lengths(sentences: Sequence[str]) -> list[float]:
    return [len(each) for each in sentences]


def _likeness(sentences: Sequence[str]) -> list[float]:
    """How many other sentences have a word of each, on the average of its words.

    Wrong options are often made from the right one, so that it is the one with most in common with all others.
    """
    said = [_words(each) for each in sentences]
    counted = Counter(word for words in said for word in words)
    return [sum(counted[word] - 1 for word in words) / max(1, len(words)) for words in said]


_MEASURES: tuple[tuple[Measure, str, str], ...] = (
    (_lengths, "is the longest", "shorten it, or make the wrong ones as full"),
    (
        _likeness,
        "shares most words with the others",
        "let two wrong options have words in common with each other instead",
    ),
)
"""What of the options is measured, what is said where the right one has most of it, and what to do."""


def _by_place(bank: Bank) -> Iterator[tuple[str, str]]:
    choices = _choices(bank)
    places = Counter(next(n for n, each in enumerate(options, 1) if each.right) for options in choices)
    for place, count in places.most_common(1):
        if _is_habit(count, choices, rivals=max(map(len, choices))):
            yield f"the right option is number {place} in {count} of {len(choices)} items", "put it elsewhere in some"


def telling_words(loaded: Loaded) -> list[Problem]:
    """Words by which the right option can be told without knowing why, such as a safe word that no wrong one uses.

    Who sits many quizzes learns such words from all of them, so they are counted over every bank of a language.
    """
    banks = [(bank, _choices(bank)) for bank in loaded.banks.values()]
    return [
        loaded.problem(bank_file(most), ("items",), what, f'let wrong options say "{word}" too, or the right ones less')
        for language in sorted({name for _, every in banks for each in every for name in each[0].text or ()})
        for word, what, most in _by_word(banks, language)
    ]


def _by_word(banks: Iterable[tuple[Bank, list[tuple[Option, ...]]]], language: str) -> Iterator[tuple[str, str, str]]:
    """Each telling word, what it tells, and the bank that uses it most."""
    right: Counter[str] = Counter()
    found: Counter[str] = Counter()
    where: dict[str, Counter[str]] = {}
    for bank, choices in banks:
        for options in choices:
            for word, is_right in _standing_out(options, language):
                found[word] += 1
                right[word] += is_right
                where.setdefault(word, Counter())[bank.id] += is_right
    tried = {word: count for word, count in found.items() if count >= _OUTSTANDING}
    for word, count in sorted(tried.items()):
        if _at_least(right[word], count) * len(tried) < _BY_CHANCE:
            what = f'where one option says "{word}" it is right in {right[word]} of {count} items ({language})'
            yield word, what, where[word].most_common(1)[0][0]


def _standing_out(options: tuple[Option, ...], language: str) -> Iterator[tuple[str, bool]]:
    """Each word that one option has and the others have not, and whether that option is the right one."""
    said = [(_words((each.text or {}).get(language, "")), each.right) for each in options]
    counted = Counter(word for words, _ in said for word in words)
    yield from ((word, is_right) for words, is_right in said for word in words if counted[word] == 1)


def _words(sentence: str) -> frozenset[str]:
    bare = sentence.casefold().replace("'s", "")
    return frozenset("".join(c if c.isalpha() else " " for c in bare).split())


def _at_least(right: int, of: int) -> float:
    """The chance that ``right`` of so many are right where each is with one in four."""
    return float(sum(comb(of, k) * 3 ** (of - k) for k in range(right, of + 1))) / 4.0**of
