"""People's and content's text inside Streamlit's labels, which are Markdown."""

from __future__ import annotations

import re

__all__ = ["paragraphs", "plain"]

_MARKUP = re.compile(r"([\\`*_{}\[\]()<>#+\-.!|~$:&^=])")
_BLANK_LINE = re.compile(r"\n\s*\n")


def plain(text: str) -> str:
    """``text`` with every character that Markdown would read as markup escaped, on one line."""
    return _MARKUP.sub(r"\\\1", " ".join(text.split()))


def paragraphs(text: str) -> str:
    """``text`` escaped like ``plain``; where it has a blank line, a new paragraph begins."""
    return "\n\n".join(plain(each) for each in _BLANK_LINE.split(text))
