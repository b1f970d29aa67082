"""How hard a sentence is to read: its words counted, and the two formulas that fit the languages we write in.

English: reading ease (Flesch 1948), ``206.835 - 1.015 W - 84.6 S``. Spanish: perspicuity (Szigriszt-Pazos 1993),
``206.835 - W - 62.3 S``, a re-fitting of the same idea, because a Spanish word has more syllables than an English one
that is just as plain. ``W`` is words a sentence, ``S`` syllables a word; the higher, the plainer, and both scales name
their bands alike: 90 and up very easy, down to 30 and below, which is read at a university.

As Flesch counts, a colon or semicolon ends a sentence too: what is marked off is read as a thought of its own.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from typing import Final

__all__ = ["SCALES", "hardest_words", "plainness", "sentences_in", "syllables", "words_in"]

_WORD = re.compile(r"[^\W\d_]+(?:['’-][^\W\d_]+)*|\d+(?:[.,]\d+)*|\{[\w:-]+\}")
_END = re.compile(r"(?:(?<=[.!?…:;])|(?<=[.!?…:;][\"”»')]))\s+")
_EN_VOWELS = re.compile(r"[aeiouy]+")
_EN_SILENT = re.compile(r"(?<=[^aeiouy])(?<![^aeiouyl]l)(?:e|(?<![szxcg])(?<!sh)(?<!ch)es|(?<![td])ed)$")
_EN_APART = re.compile(r"[aeiouy]ing$")
_ES_STRONG: Final = frozenset("aeoáéóíú")
_ES_VOWELS: Final = _ES_STRONG | frozenset("iuü")
# In que, qui, gue and gui the u is only written.
_ES_MUTE = re.compile(r"(?<=[qg])u(?=[eiéí])")
_HARD_SYLLABLES = 3


def sentences_in(text: str) -> tuple[str, ...]:
    """The sentences of ``text`` that hold a word, as written."""
    return tuple(each.strip() for each in _END.split(text) if _WORD.search(each))


def words_in(sentence: str) -> tuple[str, ...]:
    """Its words; a figure, or the place of one, is a word."""
    return tuple(_WORD.findall(sentence))


def _english(word: str) -> int:
    groups = len(_EN_VOWELS.findall(word)) + bool(_EN_APART.search(word))
    return groups - 1 if groups > 1 and _EN_SILENT.search(word) else groups


def _spanish(word: str) -> int:
    """Two vowels are one syllable where one of them is a weak i or u without an accent."""
    word = _ES_MUTE.sub("", word).replace("h", "")
    count, before = 0, ""
    for letter in word.removesuffix("y") + ("i" if word.endswith("y") else ""):
        if letter in _ES_VOWELS and (before not in _ES_VOWELS or (letter in _ES_STRONG and before in _ES_STRONG)):
            count += 1
        before = letter
    return count


_SYLLABLES: Final[Mapping[str, Callable[[str], int]]] = {"en": _english, "es": _spanish}
SCALES: Final[Mapping[str, tuple[float, float]]] = {"en": (1.015, 84.6), "es": (1.0, 62.3)}
"""Language -> what a word a sentence and a syllable a word take off."""

_FULL: Final = 206.835


@lru_cache(maxsize=1 << 16)
def syllables(word: str, language: str) -> int:
    """How many syllables ``word`` has by the rules of spelling, at least 1; a figure counts as 1."""
    return max(1, _SYLLABLES[language](word.casefold()))


def plainness(sentences: Sequence[str], language: str) -> float:
    """How plainly ``sentences`` (at least one) read together, by the formula of ``language``, one of ``SCALES``."""
    words = [word for each in sentences for word in words_in(each)]
    a_word, a_syllable = SCALES[language]
    spoken = sum(syllables(word, language) for word in words)
    return _FULL - a_word * len(words) / len(sentences) - a_syllable * spoken / len(words)


def hardest_words(sentence: str, language: str, most: int = 3) -> tuple[str, ...]:
    """Its words of three syllables and more, the longest first, at most ``most``."""
    long = [word for word in dict.fromkeys(words_in(sentence)) if syllables(word, language) >= _HARD_SYLLABLES]
    return tuple(sorted(long, key=lambda word: -syllables(word, language))[:most])
