"""What a page script cannot reach itself: the document's language, and what is said while the server is away."""

from __future__ import annotations

from trainer.web.parts.mounting import mount, said
from trainer.words import Words

__all__ = ["page_frame"]


def page_frame(words: Words) -> None:
    """Set ``<html lang>`` to the language of ``words`` and hand over the line shown while the connection is lost."""
    mount("page_frame", "page-frame", {"language": words.language, "words": said(words, "connection-lost")})
