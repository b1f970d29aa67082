"""Which language this tab speaks: the one chosen on screen, else the person's own, else the browser's, else English."""

from __future__ import annotations

from dataclasses import replace

import streamlit as st

from trainer.core.text import DEFAULT_LANGUAGE
from trainer.web import cached, session
from trainer.words import Words

__all__ = ["choose", "words"]


def words(own: str = "") -> Words:
    """The sentences of this tab's language; ``own`` is the signed-in person's."""
    there = cached.site_words()
    wanted = (session.get().language, own, (st.context.locale or "")[:2], DEFAULT_LANGUAGE)
    return there[next(code for code in wanted if code in there)]


def choose(code: str) -> None:
    """Speak ``code`` in this tab from now on."""
    session.put(replace(session.get(), language=code))
