"""On-screen words: content/words/LANGUAGE.yaml, nested keys joined by dots, places in braces (``Hello {name}``).

Nothing on screen or on paper is worded in code. A sentence that a language lacks is English; one that English lacks
is a mistake of the program and raises ``KeyError``.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from types import MappingProxyType

from trainer.core.glossary import Say, looks_untranslated
from trainer.core.text import DEFAULT_LANGUAGE, Text, pick
from trainer.curriculum.nodes import Fields, Node, Scalar
from trainer.curriculum.shaping import LANGUAGE
from trainer.curriculum.yaml_reader import read_file
from trainer.errors import BadContent, Problem, TrainerError

__all__ = ["FOLDER", "Words", "in_own_words", "load", "problems"]

FOLDER = "content/words"

_PLACE = re.compile(r"\{([a-z][a-z0-9_]*)\}")


def _as_written(sentence: str) -> str:
    return sentence


_NO_WORDS: Mapping[str, Collection[str]] = MappingProxyType({})
_NO_SENTENCES: Mapping[str, str] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Words:
    """The sentences of one language by key, and the English ones behind them.

    ``own`` puts the site's own words into a sentence of this language; ``own_key`` names them, for whoever keeps what
    was said.
    """

    language: str
    sentences: Mapping[str, str]
    english: Mapping[str, str] = field(default_factory=lambda: _NO_SENTENCES)
    own: Say = _as_written
    own_key: str = ""

    def has(self, key: str) -> bool:
        """Whether there is such a sentence, be it only in English."""
        return key in self.sentences or key in self.english

    def say(self, key: str, **values: object) -> str:
        """The sentence under ``key``, its places filled. Raises ``KeyError`` for a key or value that is missing."""
        sentence = self.sentences.get(key) or self.english[key]
        return _PLACE.sub(lambda place: str(values[place[1]]), sentence)

    def count(self, key: str, n: int, **values: object) -> str:
        """The sentence for ``n`` things: ``key.one`` for one, else ``key.other``; ``{count}`` is the number."""
        return self.say(f"{key}.{'one' if n == 1 else 'other'}", **{"count": n, **values})

    def error(self, error: TrainerError) -> str:
        """What went wrong and what to do next; a plain general sentence for an error that has none of its own."""
        key = f"error.{error.code}"
        if not self.has(key):
            return self.say("error.other", code=error.code)
        return self.say(key, **error.values)

    def pick(self, text: Text) -> str:
        """The sentence of content in this language, else in English."""
        return pick(text, self.language)

    def called(self, text: Text) -> str:
        """The same for a sentence straight from a file, which the catalogue has not put into the site's words yet."""
        return self.own(pick(text, self.language))


@dataclass(frozen=True, slots=True)
class _File:
    """One words file as read: each sentence with its line."""

    name: str
    sentences: Mapping[str, tuple[str, int]]
    problems: tuple[Problem, ...]


def load(root: Path, fallback_root: Path) -> Mapping[str, Words]:
    """Words by language, English first: ``root``'s own sentences over those of ``fallback_root``.

    Raises ``BadContent`` when a file cannot be read as it is.
    """
    files = list(_files(root, fallback_root))
    found = tuple(problem for _, file in files for problem in file.problems)
    if found:
        raise BadContent(found)
    merged: dict[str, dict[str, str]] = {DEFAULT_LANGUAGE: {}}
    for language, file in files:
        merged.setdefault(language, {}).update({key: sentence for key, (sentence, _) in file.sentences.items()})
    english = MappingProxyType(merged[DEFAULT_LANGUAGE])
    return MappingProxyType({name: Words(name, MappingProxyType(each), english) for name, each in merged.items()})


def in_own_words(there: Mapping[str, Words], say: Mapping[str, Say], key: str) -> Mapping[str, Words]:
    """``there`` with the site's own words put into the sentences of each language in ``say``; ``key`` names them."""
    return MappingProxyType(
        {
            language: replace(each, sentences=_own(each.sentences, say[language]), own=say[language], own_key=key)
            if language in say
            else each
            for language, each in there.items()
        }
    )


def _own(sentences: Mapping[str, str], say: Say) -> Mapping[str, str]:
    return MappingProxyType({key: say(sentence) for key, sentence in sentences.items()})


def problems(
    root: Path,
    fallback_root: Path,
    complete: Iterable[str] = (),
    same: Mapping[str, Collection[str]] = _NO_WORDS,
    offered: Collection[str] | None = None,
) -> tuple[Problem, ...]:
    """Everything wrong with the words files.

    Each sentence of a language must be one of English with the same places; what a language lacks is an error for the
    ``complete`` ones, else one warning a file. One that is word for word English is a warning; ``same`` are the words
    that each language shares with English. With ``offered`` nothing is said of what another language than these lacks.
    """
    files = list(_files(root, fallback_root))
    english = {key: entry for name, file in files if name == DEFAULT_LANGUAGE for key, entry in file.sentences.items()}
    found = [problem for _, file in files for problem in (*file.problems, *_counts(file))]
    for language in sorted({name for name, _ in files} - {DEFAULT_LANGUAGE}):
        own = [file for name, file in files if name == language]
        found += (problem for file in own for problem in _against_english(file, english))
        found += (problem for file in own for problem in _left_english(file, english, same.get(language, ())))
        if offered is None or language in offered:
            found += _lacking(own[-1], {key for file in own for key in file.sentences}, english, language in complete)
    return tuple(found)


def _files(root: Path, fallback_root: Path) -> Iterator[tuple[str, _File]]:
    """Each words file with its language: the fallback's first, so that the root's own come after and win."""
    for folder in dict.fromkeys((fallback_root, root)):
        for path in sorted((folder / FOLDER).glob("*.yaml")):
            if LANGUAGE.fullmatch(path.stem):
                yield path.stem, _read(path)


def _read(path: Path) -> _File:
    name = f"{FOLDER}/{path.name}"
    node, found = read_file(path, name)
    sentences: dict[str, tuple[str, int]] = {}
    if node is not None:
        found += _flatten(node, "", name, sentences)
    return _File(name, MappingProxyType(sentences), tuple(found))


def _flatten(node: Node, key: str, file: str, into: dict[str, tuple[str, int]]) -> list[Problem]:
    """Puts each sentence below ``node`` into ``into`` and gives what is no sentence."""
    match node:
        case Scalar(value=value, text=text) if key and value is not None:
            into[key] = (text, node.line)
            return []
        case Fields(pairs=pairs):
            below = ((value, f"{key}.{name.text}" if key else name.text) for name, value in pairs)
            return [problem for value, longer in below for problem in _flatten(value, longer, file, into)]
        case _:
            return [Problem(file, node.line, key or "file", "no sentence", "write one in quotes, or keys below it")]


def _counts(file: _File) -> list[Problem]:
    """``one`` without ``other``: what is counted is rarely one."""
    return [
        Problem(file.name, line, key, 'no "other" beside it', f"add {key.removesuffix('.one')}.other")
        for key, (_, line) in file.sentences.items()
        if key.endswith(".one") and f"{key.removesuffix('.one')}.other" not in file.sentences
    ]


def _against_english(file: _File, english: Mapping[str, tuple[str, int]]) -> list[Problem]:
    found = []
    for key, (sentence, line) in file.sentences.items():
        if key not in english:
            found.append(Problem(file.name, line, key, "not in en.yaml", "add it there or take it out here"))
        elif _places(sentence) != _places(english[key][0]):
            shown = ", ".join(f"{{{name}}}" for name in sorted(_places(english[key][0]))) or "none"
            found.append(Problem(file.name, line, key, "other places than in en.yaml", f"write these: {shown}"))
    return found


def _left_english(file: _File, english: Mapping[str, tuple[str, int]], same: Collection[str]) -> Iterator[Problem]:
    todo = 'translate it, or put the words that are meant to be alike under "same" in content/terms.yaml'
    for key, (sentence, line) in file.sentences.items():
        if key in english and looks_untranslated(english[key][0], sentence, same):
            yield Problem(file.name, line, key, "the same as in English", todo, is_warning=True)


def _lacking(
    file: _File, keys: set[str], english: Mapping[str, tuple[str, int]], is_complete: bool
) -> Iterator[Problem]:
    lacking = [key for key in english if key not in keys]
    if is_complete:
        for key in lacking:
            yield Problem(file.name, 1, key, "not translated", "add it; en.yaml has the English sentence")
    elif lacking:
        what = f"{len(lacking)} of {len(english)} sentences are not translated"
        yield Problem(file.name, 1, "file", what, "shown in English until they are", is_warning=True)


def _places(sentence: str) -> frozenset[str]:
    return frozenset(_PLACE.findall(sentence))
