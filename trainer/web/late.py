"""An answer that comes late: a fragment asked for by a page that has been left while it was on its way.

Streamlit runs it under the page that asked, and the browser takes that for a change of pages: it clears what the page
that is open has drawn, and nothing draws it again. So a fragment that finds itself on such a page goes back.
"""

from __future__ import annotations

from urllib.parse import parse_qsl, urlencode, urlsplit

import streamlit as st

from trainer.web import session
from trainer.web.goto import go
from trainer.web.pages import PAGES

__all__ = ["begin", "go_back", "note", "page_of"]

_OPEN = "open-page"


def begin() -> None:
    """A run of the whole page begins: until it has come to its end no page is open, and no fragment in it goes back."""
    if session.kept(_OPEN):
        session.keep(_OPEN, "")


def note(page: str) -> None:
    """Note that ``page`` has been drawn to its end, with the steps that are now in its address."""
    session.keep(_OPEN, f"{page}?{urlencode(list(st.query_params.items()))}")


def go_back() -> None:
    """Show the page that is open again where this fragment was asked for by another; call it last in a fragment."""
    opened, _, steps = session.kept(_OPEN).partition("?")
    asked = st.context.url
    if opened and asked and page_of(asked) != opened:
        go(opened, **dict(parse_qsl(steps)))


def page_of(url: str) -> str:
    """The address of the page that a whole URL names; whatever names none is the first page, which has the root."""
    name = urlsplit(url).path.rstrip("/").rpartition("/")[2]
    return name if name in {each.url for each in PAGES} else PAGES[0].url
