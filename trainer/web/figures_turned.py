"""The figures that somebody turns on a page: what they stand at, in SI, and the way back to the site's own."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import streamlit as st

from trainer.web import session
from trainer.web.door import Here
from trainer.web.figures_units import Both
from trainer.web.parts import Dial, dials
from trainer.web.press import press

__all__ = ["Span", "Turn", "dial_of", "turned"]


@dataclass(frozen=True, slots=True)
class Span:
    """What a figure may be turned to, in the unit on screen, and the step."""

    low: float
    high: float
    step: float


@dataclass(frozen=True, slots=True)
class Turn:
    """One figure to turn; it begins ``at`` [SI].

    ``pair`` names its two units and ``si`` and ``us`` its span in each; without a pair there is one span, ``si``, and
    one ``unit``, told with so many ``decimals``.
    """

    id: str
    at: float
    si: Span
    us: Span | None = None
    pair: str = ""
    unit: str = ""
    decimals: int = 0


def turned(here: Here, figure: str, both: Both, turns: Sequence[Turn]) -> Mapping[str, float]:
    """What each of ``turns`` stands at [SI], drawn as dials; labels are the words ``figures.dial-<id>``."""
    key = f"dials-{figure}"
    held = _held(key, turns)
    shown = [dial_of(each, held[each.id], both, here.words.say(f"figures.dial-{each.id}")) for each in turns]
    values = {each.id: _shown(each, held[each.id], both) for each in turns}
    moved = dials(shown, values, words=here.words, key=key, ask=here.words.say("figures.dials"))
    if moved is not None:
        # What was not touched keeps its exact figure: to the screen's unit and back is not always the same.
        held = {
            each.id: held[each.id] if moved[each.id] == values[each.id] else _taken(each, moved[each.id], both)
            for each in turns
        }
        session.keep(key, json.dumps(held))
    # Only once a figure was turned, so that it is plain what the button is for.
    if any(held[each.id] != each.at for each in turns) and press(
        here.words.say("figures.dials-back"), f"back-{figure}", kind="tertiary", wide=False
    ):
        session.keep(key, "")
        st.rerun()
    return held


def _held(key: str, turns: Sequence[Turn]) -> dict[str, float]:
    """What was kept, where it still fits what can be turned."""
    kept = json.loads(session.kept(key) or "{}")
    return {each.id: float(kept.get(each.id, each.at)) for each in turns}


def _shown(turn: Turn, value: float, both: Both) -> float:
    return round(both.shown(value, turn.pair) if turn.pair else value, 6)


def _taken(turn: Turn, value: float, both: Both) -> float:
    return both.taken(value, turn.pair) if turn.pair else value


def dial_of(turn: Turn, value: float, both: Both, label: str) -> Dial:
    """The dial for ``turn`` at ``value`` [SI]; it reaches as far as that, should the site's own lie outside."""
    span = turn.si if both.first == "SI" or turn.us is None else turn.us
    shown = _shown(turn, value, both)
    low, high = min(span.low, shown), max(span.high, shown)
    if not turn.pair:
        return Dial(turn.id, label, low, high, span.step, turn.unit, turn.decimals)
    first, other = both.scales(turn.pair)
    times = both.taken(1.0, turn.pair) / Both(both.other).taken(1.0, turn.pair)
    return Dial(turn.id, label, low, high, span.step, first.unit, first.decimals, other.unit, times, other.decimals)
