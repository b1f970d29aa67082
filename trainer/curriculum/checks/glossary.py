"""Rules on a site's own words: each stands for a word that may be replaced, and is given in both its forms."""

from __future__ import annotations

import re
from collections.abc import Iterator
from difflib import get_close_matches

from trainer.core.glossary import SiteWord, Term
from trainer.curriculum.checks.translations import sentences_of
from trainer.curriculum.loaded import SITE, TERMS, Loaded
from trainer.curriculum.nodes import Path
from trainer.errors import Problem

__all__ = ["own_words"]

_GENDERS = ("", "m", "f")


def own_words(loaded: Loaded) -> list[Problem]:
    """Words of the site's glossary that replace nothing, or replace it so that a sentence no longer agrees."""
    if loaded.site is None:
        return []
    return [*_unknown(loaded), *_no_gender(loaded), *_other_gender(loaded)]


def _words(loaded: Loaded) -> Iterator[tuple[str, str, SiteWord, Term | None]]:
    """Each word of the glossary: its language, the usual word, the site's own, and the term if it is one."""
    for language, words in (loaded.site.glossary if loaded.site else {}).items():
        terms = loaded.terms[language].words if language in loaded.terms else {}
        for name, word in words.items():
            yield language, name, word, terms.get(name)


def _unknown(loaded: Loaded) -> Iterator[Problem]:
    for language, name, _, term in _words(loaded):
        if term is None:
            known = list(loaded.terms[language].words) if language in loaded.terms else []
            near = get_close_matches(name, known, n=1, cutoff=0.6)
            todo = f'did you mean "{near[0]}"?' if near else f"write one of {TERMS}: {', '.join(known) or 'none yet'}"
            yield loaded.problem(SITE, ("glossary", language, name), f'there is no term "{name}"', todo)


def _no_gender(loaded: Loaded) -> Iterator[Problem]:
    named: list[tuple[str, Path, str]] = [
        (SITE, ("glossary", language, name, "gender"), word.gender) for language, name, word, _ in _words(loaded)
    ]
    named += [
        (TERMS, (language, "words", name, "gender"), term.gender)
        for language, terms in loaded.terms.items()
        for name, term in terms.words.items()
    ]
    for file, path, gender in named:
        if gender not in _GENDERS:
            yield loaded.problem(file, path, f'expected m or f, got "{gender}"', "write m or f")


def _other_gender(loaded: Loaded) -> Iterator[Problem]:
    """One warning for a word of another gender: what agrees with it further away is not changed by itself."""
    for language, name, word, term in _words(loaded):
        if term is not None and word.gender not in ("", term.gender):
            count = _sentences_with(loaded, language, name, term.many)
            yield loaded.problem(
                SITE,
                ("glossary", language, name),
                f"another gender than the usual word, which stands in {count} sentences",
                "read them, and give what no longer agrees as phrases",
                warning=True,
            )


def _sentences_with(loaded: Loaded, language: str, *forms: str) -> int:
    found = re.compile(rf"\b(?:{'|'.join(map(re.escape, forms))})\b", re.IGNORECASE)
    said = (each.get(language, "") for node in loaded.nodes.values() for _, each in sentences_of(node))
    return sum(bool(found.search(sentence)) for sentence in said)
