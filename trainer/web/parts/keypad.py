"""Keys for a PIN, big enough for cold thumbs; typing and pasting work as well."""

from __future__ import annotations

from trainer.web.parts.mounting import fire, said
from trainer.words import Words

__all__ = ["keypad"]

_LONGEST = 32


def keypad(label: str, *, words: Words, key: str, enter: str, problem: str = "", plain: bool = False) -> str | None:
    """What was entered, in the one run in which it was sent; ``None`` otherwise, so that no PIN is kept anywhere.

    ``label`` says whose PIN it is, ``enter`` is the word on the last key, ``problem`` is read out and shown over the
    keys; the part itself says when nothing was entered. ``plain`` shows the digits (a one-use code) instead of dots.
    """
    data = {
        "label": label,
        "enter": enter,
        "problem": problem,
        "plain": plain,
        "longest": _LONGEST,
        "words": said(words, "pin-digit-count", "pin-rub-out", "pin-keys", "pin-empty"),
    }
    entered = fire("keypad", key, data)
    return entered if isinstance(entered, str) and 0 < len(entered) <= _LONGEST else None
