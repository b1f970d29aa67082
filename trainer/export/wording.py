"""Words for the reason of a standing, the same in every export and on every screen."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol

from trainer.core.records import Part
from trainer.core.standing import Reason, Rule
from trainer.core.text import Text

__all__ = ["Says", "reason_text", "unit_name"]


class Says(Protocol):
    """Words of one language, as ``trainer.words`` loads them: exporters take them and read no file."""

    @property
    def language(self) -> str:
        """Its code."""
        ...

    def say(self, key: str, **values: object) -> str:
        """The sentence under ``key``, its places filled."""
        ...

    def count(self, key: str, n: int, **values: object) -> str:
        """The sentence for ``n`` things."""
        ...

    def pick(self, text: Text) -> str:
        """The sentence of content in this language."""
        ...


def unit_name(unit: str, words: Says) -> str:
    """What a sheet's number is measured in, in this language; as it is written where every language writes it so."""
    return words.say("signoff.unit-in") if unit == "in" else unit


def reason_text(reason: Reason, words: Says, titles: Mapping[str, str] | None = None) -> str:
    """The reason as a short sentence; ``titles`` gives the words for a competency's id, which else stands as it is."""
    has_all = reason.day is not None and bool(reason.part)
    key = "holds-plain" if reason.rule == Rule.HOLDS and not has_all else reason.rule
    day = reason.day.isoformat() if reason.day else "-"
    return words.say(f"reason.{key}", part=_part(reason.part, words, titles or {}), day=day)


def _part(part: str, words: Says, titles: Mapping[str, str]) -> str:
    if part in (Part.KNOWLEDGE, Part.PRACTICAL):
        return words.say(f"reason.part-{part}")
    return titles.get(part, part)
