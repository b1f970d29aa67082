"""The button that has the browser's own voice read the page; it is not there where the machine has no such voice."""

from __future__ import annotations

from trainer.web.parts.mounting import mount, said
from trainer.words import Words

__all__ = ["read_aloud"]


def read_aloud(language: str, *, words: Words, key: str) -> None:
    """Offer to read what the page shows, in ``language``. ``key`` is one step's alone: another step stops the voice."""
    mount("read_aloud", key, {"language": language, "words": said(words, "read", "stop")}, width="content")
