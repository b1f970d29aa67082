"""A sentence in several languages, and how one of them is picked."""

from __future__ import annotations

from collections.abc import Mapping

__all__ = ["DEFAULT_LANGUAGE", "Text", "is_translated", "pick"]

Text = Mapping[str, str]
"""Language code (``en``, ``es``, ...) to sentence; ``en`` is always there."""

DEFAULT_LANGUAGE = "en"


def pick(text: Text, language: str) -> str:
    """The sentence in ``language``, else in English."""
    return text.get(language) or text[DEFAULT_LANGUAGE]


def is_translated(text: Text, language: str) -> bool:
    """Whether the sentence exists in ``language`` itself, so that a fallback can be marked on screen."""
    return bool(text.get(language))
