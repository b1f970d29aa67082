"""People's and content's text inside Streamlit's labels, which are Markdown."""

from __future__ import annotations

import re

__all__ = ["plain"]

_MARKUP = re.compile(r"([\\`*_{}\[\]()<>#+\-.!|~$:&^=])")


def plain(text: str) -> str:
    """``text`` with every character that Markdown would read as markup escaped, on one line."""
    return _MARKUP.sub(r"\\\1", " ".join(text.split()))
