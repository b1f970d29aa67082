"""What to write instead: the advice for a value or a key of the wrong sort, by what was written there."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from difflib import get_close_matches
from typing import Final

from trainer.core.banks import Item
from trainer.core.lessons import Scene
from trainer.core.tasks import Option
from trainer.curriculum.nodes import Listed, Node, Scalar

__all__ = ["CURLY", "for_duration", "for_id", "for_key", "for_list", "for_number", "for_word", "plain_id", "stuck"]

CURLY: Final = "\u201c\u201d\u201e\u2018\u2019\u00ab\u00bb"
"""Quotes that a word processor makes of straight ones."""

_WHOLE = re.compile(r"-?\d+")
_TRUE, _FALSE = ("true", "yes", "y", "on", "1"), ("false", "no", "n", "off", "0")
_SPAN = re.compile(r"P?\s*(\d+)\s*(y|m|w|d|years?|months?|weeks?|days?)", re.IGNORECASE)
_STUCK = re.compile(r"([a-z]{2,3}|[a-z_]{3,}):(\S.*)")
_NOT_IN_ID = re.compile(r"[^a-z0-9]+")

MEANT: Final[tuple[tuple[type | None, str, str], ...]] = (
    (Option, "next", 'did you mean "go"?'),
    (Scene, "go", 'did you mean "next"?'),
    (Scene, "question", 'did you mean "ask"?'),
    (Item, "ask", 'did you mean "text"?'),
    (Item, "question", 'did you mean "text"?'),
    (Option, "correct", 'did you mean "right"?'),
    (Option, "reason", 'did you mean "why"?'),
    (None, "next", "move it out of the task, to where task stands"),
    (None, "ask", "move it out of the task, to where task stands"),
)
"""A type (``None``: a task of any kind), a key that is not its own, and what was meant."""


def for_key(name: str, cls: type, known: Sequence[str], lacking: Sequence[str], *, is_task: bool) -> str:
    """What was meant by the unknown key ``name`` of ``cls``; ``lacking`` are those that must stand there and do not."""
    owner = None if is_task else cls
    meant = next((todo for each, key, todo in MEANT if (each, key) == (owner, name)), None)
    near = get_close_matches(name.casefold(), known, n=1, cutoff=0.6)
    if meant or near:
        return meant or f'did you mean "{near[0]}"?'
    if len(lacking) == 1 and name.isidentifier():
        return f'did you mean "{lacking[0]}", which is missing?'
    return f"write one of these instead, or leave it out: {', '.join(known)}"


def for_number(node: Node, least: int, usual: int = 0) -> str:
    """How to write the whole number that was meant; ``least`` is the smallest there may be, ``usual`` the default."""
    if isinstance(node, Scalar) and _WHOLE.fullmatch(node.text.strip()):
        return f"write it without quotes: {node.text.strip()}"
    return f"write e.g. {usual or max(least, 5)}"


def for_word(node: Node) -> str:
    """How to write true or false."""
    told = node.text.casefold() if isinstance(node, Scalar) else ""
    if told in ("true", "false") and isinstance(node, Scalar) and node.text == told:
        return f"write it without quotes: {told}"
    return "write true" if told in _TRUE else "write false" if told in _FALSE else "write e.g. true"


def for_duration(node: Node) -> str:
    """How to write a span of time."""
    told = node.text.strip() if isinstance(node, Scalar) else ""
    if told.isdecimal():
        return f"write P{told}D for days, P{told}W for weeks or P{told}M for months"
    found = _SPAN.fullmatch(told)
    return f"write P{int(found[1])}{found[2][0].upper()}" if found else "write e.g. P12M, P2W or P30D"


def for_list(node: Node) -> str | None:
    """How to write one value that stands in a list; ``None`` where no one value does."""
    if isinstance(node, Listed) and len(node.entries) == 1 and isinstance(node.entries[0], Scalar):
        return f"take the [ ] or the - away: {node.entries[0].text}"
    return None


def for_id(node: Node) -> str:
    """An id that could be meant."""
    return f"write e.g. {(plain_id(node.text) if isinstance(node, Scalar) else '') or 'set-slips'}"


def plain_id(text: str) -> str:
    """``text`` as an id: small letters without accents, digits, hyphens; empty where none of it is left."""
    letters = unicodedata.normalize("NFKD", text.casefold()).encode("ascii", "ignore").decode()
    return _NOT_IN_ID.sub("-", letters).strip("-")


def stuck(key: str) -> str | None:
    """What to write where a ``key`` holds its value too, because no blank stands after its colon."""
    found = _STUCK.fullmatch(key)
    return f'write "{found[1]}: {found[2]}"' if found else None
