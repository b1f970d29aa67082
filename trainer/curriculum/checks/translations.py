"""Rules on languages: errors where the site calls a language complete, else one warning a file.

A sentence that is the same in English is a warning, too: most often somebody meant to translate it later.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from trainer.core.glossary import looks_untranslated
from trainer.core.text import DEFAULT_LANGUAGE
from trainer.curriculum.loaded import TERMS, Loaded
from trainer.curriculum.nodes import Fields, Listed, Node, Path, Scalar, label, locate
from trainer.curriculum.shaping import LANGUAGE, NO_LANGUAGE
from trainer.errors import Problem

__all__ = ["Lacking", "lacking", "same_as_english", "sentences_of", "untranslated", "without_language"]


def untranslated(loaded: Loaded) -> list[Problem]:
    """Sentences of the root's own files that are not there in a language of the site."""
    return [
        problem for file, node, language in _own_files(loaded) for problem in _of_file(loaded, file, node, language)
    ]


@dataclass(frozen=True, slots=True)
class Lacking:
    """A sentence that is not there in some language: where it stands, and the English one."""

    file: str
    line: int
    english: str


def lacking(loaded: Loaded, language: str) -> tuple[Lacking, ...]:
    """Every sentence of the root's own files that is not there in ``language``; none are lacking in English."""
    return tuple(
        Lacking(file, locate(node, path), said[DEFAULT_LANGUAGE])
        for file, node in loaded.nodes.items()
        if (loaded.root / file).is_file()
        for path, said in sentences_of(node)
        if not said.get(language)
    )


def without_language(loaded: Loaded) -> list[Problem]:
    """Sentences without languages as problems, where the site calls another one complete; loading only warns."""
    complete = loaded.site.complete if loaded.site is not None else ()
    if not any(language != DEFAULT_LANGUAGE for language in complete):
        return []
    return [replace(each, is_warning=False) for each in loaded.problems if each.what == NO_LANGUAGE]


def same_as_english(loaded: Loaded) -> list[Problem]:
    """Sentences of the root's own files that are word for word English in another language: warnings."""
    todo = f'translate it, or put the words that are meant to be alike under "same" in {TERMS}'
    return [
        loaded.problem(file, (*path, language), f"the same in {language} as in English", todo, warning=True)
        for file, node, language in _own_files(loaded)
        if file != TERMS
        for path, said in sentences_of(node)
        if looks_untranslated(said[DEFAULT_LANGUAGE], said.get(language, ""), _same(loaded, language))
    ]


def _same(loaded: Loaded, language: str) -> tuple[str, ...]:
    return loaded.terms[language].same if language in loaded.terms else ()


def _own_files(loaded: Loaded) -> Iterator[tuple[str, Node, str]]:
    """Each of the root's own files with each language beside English that it should hold."""
    if loaded.site is None:
        return
    wanted = dict.fromkeys((*loaded.site.languages, *loaded.site.complete))
    for file, node in loaded.nodes.items():
        if (loaded.root / file).is_file():
            yield from ((file, node, language) for language in wanted if language != DEFAULT_LANGUAGE)


def _of_file(loaded: Loaded, file: str, node: Node, language: str) -> Iterator[Problem]:
    sentences = list(sentences_of(node))
    lacking = [path for path, languages in sentences if language not in languages]
    if loaded.site is not None and language in loaded.site.complete:
        yield from (
            loaded.problem(file, path, f"not in {language}, which site.yaml calls complete", f"add {language}: ...")
            for path in lacking
        )
    elif lacking:
        what = f"{len(lacking)} of {len(sentences)} sentences are not in {language}"
        yield loaded.problem(file, (), what, "shown in English until they are translated", warning=True)


def sentences_of(node: Node, path: Path = ()) -> Iterator[tuple[Path, Mapping[str, str]]]:
    """Each sentence's place, and the sentence by language."""
    match node:
        case Fields(pairs=pairs) if _is_sentence(node):
            yield path, {key.text: value.text for key, value in pairs if isinstance(value, Scalar)}
        case Fields(pairs=pairs):
            for key, value in pairs:
                yield from sentences_of(value, (*path, key.text))
        case Listed(entries=entries):
            for number, entry in enumerate(entries, 1):
                yield from sentences_of(entry, (*path, label(entry, number)))
        case Scalar():
            return


def _is_sentence(node: Fields) -> bool:
    return node.key(DEFAULT_LANGUAGE) is not None and all(
        LANGUAGE.fullmatch(key.text) and isinstance(value, Scalar) for key, value in node.pairs
    )
