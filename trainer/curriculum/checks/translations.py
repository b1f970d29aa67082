"""Rules on languages: errors where the site calls a language complete, else one warning a file."""

from __future__ import annotations

from collections.abc import Iterator

from trainer.core.text import DEFAULT_LANGUAGE
from trainer.curriculum.loaded import Loaded
from trainer.curriculum.nodes import Fields, Listed, Node, Path, Scalar, label
from trainer.curriculum.shaping import LANGUAGE
from trainer.errors import Problem

__all__ = ["untranslated"]


def untranslated(loaded: Loaded) -> list[Problem]:
    """Sentences of the root's own files that are not there in a language of the site."""
    if loaded.site is None:
        return []
    wanted = dict.fromkeys((*loaded.site.languages, *loaded.site.complete))
    return [
        problem
        for file, node in loaded.nodes.items()
        if (loaded.root / file).is_file()
        for language in wanted
        if language != DEFAULT_LANGUAGE
        for problem in _of_file(loaded, file, node, language)
    ]


def _of_file(loaded: Loaded, file: str, node: Node, language: str) -> Iterator[Problem]:
    sentences = list(_sentences(node, ()))
    lacking = [path for path, languages in sentences if language not in languages]
    if loaded.site is not None and language in loaded.site.complete:
        yield from (
            loaded.problem(file, path, f"not in {language}, which site.yaml calls complete", f"add {language}: ...")
            for path in lacking
        )
    elif lacking:
        what = f"{len(lacking)} of {len(sentences)} sentences are not in {language}"
        yield loaded.problem(file, (), what, "shown in English until they are translated", warning=True)


def _sentences(node: Node, path: Path) -> Iterator[tuple[Path, frozenset[str]]]:
    """Each sentence's place with its languages."""
    match node:
        case Fields(pairs=pairs) if _is_sentence(node):
            yield path, frozenset(key.text for key, _ in pairs)
        case Fields(pairs=pairs):
            for key, value in pairs:
                yield from _sentences(value, (*path, key.text))
        case Listed(entries=entries):
            for number, entry in enumerate(entries, 1):
                yield from _sentences(entry, (*path, label(entry, number)))
        case Scalar():
            return


def _is_sentence(node: Fields) -> bool:
    return node.key(DEFAULT_LANGUAGE) is not None and all(
        LANGUAGE.fullmatch(key.text) and isinstance(value, Scalar) for key, value in node.pairs
    )
