"""What a page script cannot reach itself: the document's language, its scroll, and what is said without a server."""

from __future__ import annotations

from trainer.web import session
from trainer.web.goto import TURN
from trainer.web.parts.mounting import mount, said
from trainer.words import Words

__all__ = ["page_frame"]


def page_frame(words: Words) -> None:
    """Set ``<html lang>`` to the language of ``words`` and hand over the line shown while the connection is lost.

    A page that was turned (``goto.turn``) is shown from its top.
    """
    data = {"language": words.language, "words": said(words, "connection-lost"), "turn": session.taken(TURN)}
    mount("page_frame", "page-frame", data)
