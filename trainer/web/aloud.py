"""The line over a page's heading that says where one is, with the button beside it that has the page read aloud."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import streamlit as st

from trainer.core.text import DEFAULT_LANGUAGE, is_translated
from trainer.web import parts
from trainer.web.wording import texts
from trainer.words import Words

__all__ = ["beside", "unsaid"]


@contextmanager
def beside(words: Words, key: str, *content: object) -> Iterator[None]:
    """Draw that line inside; the button comes after it. ``key`` is the step's alone.

    ``content`` is what the page is about: where it is not there in the language of ``words``, it is read in English.
    """
    with st.container(key="aloud", horizontal=True, vertical_alignment="center"):
        yield
        is_all = all(is_translated(text, words.language) for each in content for text in texts(each))
        parts.read_aloud(words.language if is_all else DEFAULT_LANGUAGE, words=words, key=f"read-{key}")


def unsaid(line: str) -> None:
    """A small line that is seen and not read aloud: which lesson or quiz this is, on every page of it."""
    with st.container(key="unsaid"):
        st.caption(line)
