"""Rules on how plainly lessons and items are worded, for a tired hand who may read in a second language.

The limits lie where published scales draw a line and where our own content leaves room. Of 14,700 sentences in both
languages half have at most 6 words, 99 in 100 at most 16, and 999 in 1,000 at most 23; of 513 scenes and items the
plainness runs from 80 (middle 101) in English and from 69 (middle 88) in Spanish.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from trainer.curriculum.checks.translations import sentences_of
from trainer.curriculum.loaded import Loaded, bank_file, lesson_file
from trainer.curriculum.nodes import Path
from trainer.curriculum.plainness import SCALES, hardest_words, plainness, sentences_in, words_in
from trainer.errors import Problem

__all__ = ["FEWEST_WORDS", "LEAST_PLAIN", "LONGEST_SENTENCE", "MOST_WORDS", "hard_to_read"]

MOST_WORDS: Final = 25
"""Words in one sentence from which it is told as a warning: plain-language rules draw the line at 20 to 25."""

LONGEST_SENTENCE: Final = 28
"""Words in one sentence that are still read; more are refused. Our longest has 27."""

LEAST_PLAIN: Final[Mapping[str, float]] = {"en": 70.0, "es": 65.0}
"""The least plainness of a text, and of a scene or an item on the whole: where both scales begin to call a text fairly
easy, which is read by who has been to school for six or seven years. A procedure in office words comes to 50 or less,
on either; the hardest of our own texts stand at 72 in English and at 74 in Spanish."""

FEWEST_WORDS: Final = 40
"""Words below which a formula says little, for it was made on samples of a hundred: one name of a tool decides it."""

_PLAYED: Final = ("scenes", "items")
"""Where a sentence stands that a hand works with."""

_SHOWN: Final = 9
"""Words of a sentence by which an author finds it."""


@dataclass(frozen=True, slots=True)
class _Said:
    """One sentence of a file with its place, down to the language."""

    path: Path
    sentence: str


def hard_to_read(loaded: Loaded) -> list[Problem]:
    """Sentences that are too long, and texts, scenes and items that are hard to read: refused.

    A sentence a little over ``MOST_WORDS`` is a warning, and so is any in a title or an objective, which is a list.
    """
    files = [*map(lesson_file, loaded.lessons), *map(bank_file, loaded.banks)]
    return [
        problem
        for file in files
        for (_, language), said in _passages(loaded, file).items()
        for problem in (*_long(loaded, file, said, language), *_hard(loaded, file, said, language))
    ]


def _passages(loaded: Loaded, file: str) -> Mapping[tuple[Path, str], Sequence[_Said]]:
    """All that is read in one scene, item or other part of ``file`` in one language."""
    found: dict[tuple[Path, str], list[_Said]] = {}
    for path, by_language in sentences_of(loaded.nodes[file]):
        # A talk is said in one go, its three points one after the other.
        passage = path[:1] if path[0] == "talk" else path[:2]
        for language, text in by_language.items():
            said = (_Said((*path, language), each) for each in sentences_in(text))
            found.setdefault((passage, language), []).extend(said)
    return found


def _long(loaded: Loaded, file: str, said: Sequence[_Said], language: str) -> Iterator[Problem]:
    for each in said:
        count = len(words_in(each.sentence))
        if count > MOST_WORDS:
            what = f"{count} words in one sentence ({language}): {_quoted(each.sentence)}"
            todo = "write two sentences, one thing to see or do in each"
            is_warning = count <= LONGEST_SENTENCE or each.path[0] not in _PLAYED
            yield loaded.problem(file, each.path, what, todo, warning=is_warning)


def _hard(loaded: Loaded, file: str, said: Sequence[_Said], language: str) -> Iterator[Problem]:
    """One problem a passage at most: of the first text in it that is hard by itself, else of the whole."""
    if language not in SCALES or said[0].path[0] not in (*_PLAYED, "talk"):
        return
    # What is only said aloud may name things one after the other, as long as the talk on the whole is plain.
    is_read = said[0].path[0] in _PLAYED
    texts = [tuple(each) for _, each in groupby(said, key=lambda each: each.path)] if is_read else []
    for part in (*texts, said):
        sentences = [each.sentence for each in part]
        is_long_enough = sum(len(words_in(each)) for each in sentences) >= FEWEST_WORDS
        if is_long_enough and (found := plainness(sentences, language)) < LEAST_PLAIN[language]:
            worst = min(part, key=lambda each: plainness([each.sentence], language))
            wanted = f"plainness {found:.0f}, at least {LEAST_PLAIN[language]:.0f} wanted"
            what = f"reads hard ({language}): {wanted}, hardest here: {_quoted(worst.sentence)}"
            words = ", ".join(hardest_words(worst.sentence, language))
            everyday = f", and everyday words for: {words}" if words else ""
            yield loaded.problem(file, worst.path, what, f"write shorter sentences with one verb{everyday}")
            return


def _quoted(sentence: str) -> str:
    """The sentence as far as it takes to find it in its file."""
    words = sentence.split()
    return f'"{" ".join(words[:_SHOWN])}{" ..." if len(words) > _SHOWN else ""}"'
