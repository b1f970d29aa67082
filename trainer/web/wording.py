"""Content's sentences, days and verdicts as screens say them: escaped, in the language on screen, a fallback marked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from html import escape
from zoneinfo import ZoneInfo

import streamlit as st
from babel.dates import format_skeleton

from trainer.core.text import DEFAULT_LANGUAGE, Text, is_translated
from trainer.web.plain import plain
from trainer.words import Words

__all__ = ["day", "line", "mark_untranslated", "moment", "short_day", "stamp", "texts"]

_STAMPS = {
    "right": ("tick", "good"),
    "wrong": ("cross", "late"),
    "passed": ("tick-disc", "good"),
    "not-yet": ("half", "learn"),
}


def line(text: Text, words: Words) -> str:
    """The sentence for ``st.markdown`` and labels: every mark in it is only a letter."""
    return plain(words.pick(text))


def day(value: date, words: Words) -> str:
    """``value`` as people write it, e.g. Mar 5, 2026."""
    return str(format_skeleton("yMMMd", value, locale=words.language))


def short_day(value: date, words: Words) -> str:
    """``value`` without its year, e.g. Mar 5, where that is clear."""
    return str(format_skeleton("MMMd", value, locale=words.language))


def moment(value: datetime, zone: str, words: Words) -> str:
    """``value`` in the site's time zone with its weekday, e.g. Thu, Mar 5, 18:00."""
    there = value.astimezone(ZoneInfo(zone))
    # Two skeletons: the languages have none of day and time together.
    return ", ".join(str(format_skeleton(form, there, locale=words.language)) for form in ("MMMEd", "Hm"))


def stamp(verdict: str, word: str) -> str:
    """HTML of a verdict (``right``, ``wrong``, ``passed``, ``not-yet``) for ``st.html``: shape, ``word`` and colour."""
    shape, tone = _STAMPS[verdict]
    return f'<span class="badge badge-{tone}"><i style="--shape: var(--shape-{shape})"></i>{escape(word)}</span>'


def mark_untranslated(words: Words, *content: object) -> None:
    """Say so where any sentence in ``content`` is not there in the language on screen, and so is English."""
    if any(not is_translated(text, words.language) for each in content for text in texts(each)):
        st.caption(f"**{words.say('common.not-translated')}**")


def texts(content: object) -> Iterator[Text]:
    """Every sentence in ``content``: a text, or frozen dataclasses, lists and maps of them."""
    if isinstance(content, Mapping):
        if DEFAULT_LANGUAGE in content:
            yield content
        else:
            yield from (text for each in content.values() for text in texts(each))
    elif isinstance(content, tuple | list):
        yield from (text for each in content for text in texts(each))
    elif is_dataclass(content):
        yield from (text for each in fields(content) for text in texts(getattr(content, each.name)))
