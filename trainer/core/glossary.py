"""A site's own words: text is written with the usual word, and said with the one that the site uses.

The usual words that may be replaced, and their forms, are content's ``terms.yaml``; which of them a site says
differently is its own ``glossary``. Whole words only, singular for singular and plural for plural. Where the new word
has another gender, the little words right before it (el, los, una, del ...) change with it; what agrees further away
(*están llenos*) the site gives as ``phrases``, word for word, and these win.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from trainer.core.text import Text

__all__ = ["Glossary", "LanguageTerms", "Say", "SiteWord", "Term", "looks_untranslated", "sayer", "sayers"]

Say = Callable[[str], str]
"""A sentence as it is written to the sentence as this site says it."""


@dataclass(frozen=True, slots=True)
class Term:
    """A usual word that a site may replace; its singular is the key under which it stands.

    ``keep`` are phrases with the same word in another meaning, which stay as they are.
    """

    many: str
    gender: str = ""
    keep: tuple[str, ...] = ()
    means: Text | None = None


@dataclass(frozen=True, slots=True)
class LanguageTerms:
    """The replaceable words of one language. ``same`` are words that it shares with English, so that a sentence made of
    nothing else needs no translation."""

    words: Mapping[str, Term] = field(default_factory=dict)
    same: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SiteWord:
    """The site's own word, ``one`` and ``many``; its ``gender`` where it is another. ``phrases`` are said as given."""

    one: str
    many: str
    gender: str = ""
    phrases: Mapping[str, str] = field(default_factory=dict)


Glossary = Mapping[str, Mapping[str, SiteWord]]
"""Language -> usual word -> the site's own."""

_MASCULINE = (
    "el", "los", "un", "unos", "del", "al", "este", "estos", "ese", "esos", "otro", "otros", "algún", "algunos",
    "ningún", "todo el", "todos los", "el mismo", "los mismos", "el otro", "los otros", "el primer", "muchos", "pocos",
)  # fmt: skip
_FEMININE = (
    "la", "las", "una", "unas", "de la", "a la", "esta", "estas", "esa", "esas", "otra", "otras", "alguna", "algunas",
    "ninguna", "toda la", "todas las", "la misma", "las mismas", "la otra", "las otras", "la primera",
    "muchas", "pocas",
)  # fmt: skip
_LITTLE: Mapping[tuple[str, str], Mapping[str, str]] = MappingProxyType(
    {
        ("m", "f"): dict(zip(_MASCULINE, _FEMININE, strict=True)),
        ("f", "m"): dict(zip(_FEMININE, _MASCULINE, strict=True)),
    }
)
"""Spanish words that agree with the noun right after them, by the gender that is left and the one that is taken."""


_PLACE = re.compile(r"\{[^}]*\}")


def sayers(terms: Mapping[str, LanguageTerms], glossary: Glossary) -> Mapping[str, Say]:
    """How each language of ``glossary`` is said; a language without own words is not in it."""
    return {
        language: sayer(terms[language].words, words)
        for language, words in glossary.items()
        if language in terms and words
    }


def sayer(terms: Mapping[str, Term], words: Mapping[str, SiteWord]) -> Say:
    """A function that puts the site's ``words`` into a sentence. Words that are no term are left alone.

    All is replaced in one go, the longest first: a word that was just put in is never replaced again.
    """
    said = {found.casefold(): put for name, word in words.items() if name in terms
            for found, put in _forms(name, terms[name], word).items()}  # fmt: skip
    if not said:
        return _as_it_is
    longest_first = sorted(said, key=lambda each: (-len(each), each))
    # A place to be filled is found first and put back as it is: its name is no word of the sentence.
    pattern = re.compile(rf"{_PLACE.pattern}|\b(?:{'|'.join(map(re.escape, longest_first))})\b", re.IGNORECASE)
    return lambda sentence: pattern.sub(lambda found: _cased(found[0], said.get(found[0].casefold(), "")), sentence)


def _as_it_is(sentence: str) -> str:
    return sentence


def _forms(name: str, term: Term, word: SiteWord) -> dict[str, str]:
    """What is looked for, and what is put there instead."""
    forms = {name: word.one, term.many: word.many}
    little = _LITTLE.get((term.gender, word.gender), {})
    before = {f"{old} {form}": f"{new} {put}" for form, put in forms.items() for old, new in little.items()}
    return {**forms, **before, **{each: each for each in term.keep}, **word.phrases}


def _cased(found: str, put: str) -> str:
    """``put`` with a capital where ``found`` begins with one; ``found`` itself where nothing is put."""
    if not put:
        return found
    return put[:1].upper() + put[1:] if found[:1].isupper() else put


_WORD = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)*")


def looks_untranslated(english: str, other: str, same: Collection[str]) -> bool:
    """Whether ``other`` is word for word the English sentence, beyond what both languages say alike.

    Figures, places to be filled, single letters and the words in ``same`` may well be alike.
    """
    if english != other:
        return False
    known = {each.casefold() for each in same}
    found = _WORD.findall(_PLACE.sub(" ", english))
    return any(len(each) > 1 and each.casefold() not in known for each in found)
