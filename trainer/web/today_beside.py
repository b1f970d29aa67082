"""What stands beside a hand's standings today and is none: left off the slips for this tour, allowed for a while."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from html import escape

from trainer.actions import dispensed, leaving_off
from trainer.actions.dispensed import Given
from trainer.core.matrix import Standing
from trainer.web import look
from trainer.web.door import Here
from trainer.web.matrix_rows import standing_word

__all__ = ["Beside", "beside", "left_off", "off"]


@dataclass(frozen=True, slots=True)
class Beside:
    """One hand's: ``by`` is the name of who left him off for this tour, empty where nobody did."""

    by: str = ""
    allowed: tuple[Given, ...] = ()


def beside(here: Here, names: Mapping[str, str]) -> Callable[[str], Beside]:
    """What stands beside each hand's standings, read once."""
    marks, given = leaving_off.left_off(here.desk), dispensed.shown(here.desk)
    by = {hand: names.get(mark.by, mark.by) for hand, mark in marks.items()}

    def of(hand: str) -> Beside:
        return Beside(by.get(hand, ""), tuple(each for each in given if each.hand == hand))

    return of


def off(here: Here, names: Sequence[str]) -> str:
    """HTML: whoever is off the slips, by name."""
    badge = look.badge(Standing.STOOD_DOWN, standing_word(Standing.STOOD_DOWN, here.words))
    return f'<div class="standings"><div>{badge}<strong>{escape(", ".join(names))}</strong></div></div>'


def left_off(here: Here, by: str) -> str:
    """HTML of the mark for this tour, and who set it."""
    badge = look.mark("dash", here.words.say("today.left-off"))
    said = escape(here.words.say("today.left-off-by", name=by))
    return f'<div class="standings"><div>{badge}<span>{said}</span></div></div>'
