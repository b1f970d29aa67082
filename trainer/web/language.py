"""Which language this tab speaks: the one chosen on screen, else the person's own, else the browser's, else English.

A choice lasts as long as the person who made it: ``parts/page_frame.js`` keeps it in a cookie of the browser's, so that
neither a reload nor a restart of the server takes it away, and drops it where nobody has chosen.
"""

from __future__ import annotations

from dataclasses import replace

import streamlit as st

from trainer.core.text import DEFAULT_LANGUAGE
from trainer.web import cached, session
from trainer.words import Words

__all__ = ["COOKIE", "choose", "recall", "words", "words_in"]

COOKIE = "trainer_language"


def words(own: str = "") -> Words:
    """The sentences of this tab's language; ``own`` is the signed-in person's."""
    there = cached.site_words()
    wanted = (session.get().language, own, (st.context.locale or "")[:2], DEFAULT_LANGUAGE)
    return there[next(code for code in wanted if code in there)]


def words_in(code: str) -> Words | None:
    """The sentences of that language; ``None`` where the site does not speak it."""
    return cached.site_words().get(code)


def choose(code: str) -> None:
    """Speak ``code`` in this tab from now on."""
    session.put(replace(session.get(), language=code))


def recall() -> None:
    """On a tab's first run: speak what was chosen before its page was loaded anew."""
    code = st.context.cookies.get(COOKIE)
    if isinstance(code, str) and code in cached.site_words() and not session.is_begun():
        choose(code)
