"""What a page script cannot reach itself: the document's language, its scroll, and what is said without a server."""

from __future__ import annotations

from trainer.web import language, session
from trainer.web.goto import TURN
from trainer.web.parts.mounting import mount, said
from trainer.words import Words

__all__ = ["page_frame"]


def page_frame(words: Words) -> None:
    """Set ``<html lang>`` to the language of ``words`` and hand over the line shown while the connection is lost.

    A language chosen on screen is kept in the browser until it is closed; one that nobody chose is not.
    A page that was turned (``goto.turn``) is shown from its top. A day written into a field counts on Enter or Tab.
    """
    data = {
        "language": words.language,
        "kept": {"name": language.COOKIE, "value": session.get().language},
        "words": said(words, "connection-lost", "skip-bar"),
        "turn": session.taken(TURN),
    }
    mount("page_frame", "page-frame", data)
