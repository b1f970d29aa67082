"""What every figure of the page has: its point in one sentence, big figures in both units, and its workings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from html import escape

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from trainer.errors import MechanicsRangeError
from trainer.web.door import Here
from trainer.web.figures_units import Both
from trainer.web.plain import plain
from trainer.words import Words

__all__ = ["Row", "note", "places", "point", "rate", "readouts", "refused", "row", "rule", "said_of", "workings"]

Row = tuple[str, str, str]
"""What it is, its figure in the first unit, and in the other one; the last may be empty."""


def places() -> tuple[DeltaGenerator, DeltaGenerator, DeltaGenerator]:
    """Where the answer, the dials and the picture go: the answer on top, the other two side by side where they fit."""
    top = st.container()
    with st.container(key="figures-body"):
        left, right = st.container(key="figures-left"), st.container(key="figures-right")
    return top, left, right


def rule(words: Words) -> None:
    """The rule before any figure, and what the figures are for."""
    with st.container(key="figures-rule"):
        st.markdown(f"**{words.say('figures.rule')}**  \n{words.say('figures.rule-text')}")


def point(text: str, tone: str = "") -> None:
    """The one sentence; ``tone`` is empty, ``soon`` or ``late`` and stands beside a word that says as much."""
    with st.container(key=f"figures-point-{tone}" if tone else "figures-point"):
        st.markdown(plain(text))


def note(text: str) -> None:
    """A caution or a remark, as text."""
    st.markdown(plain(text))


def row(words: Words, name: str, value: float | None, pair: str, both: Both) -> Row:
    """``value`` [SI] under the words ``figures.<name>``; a dash where there is none."""
    first, other = both.split(value, pair) if value is not None else ("–", "")
    return words.say(f"figures.{name}"), first, other


def rate(words: Words, name: str, text: str, other: str = "") -> Row:
    """A figure without a unit, or with words of its own."""
    return words.say(f"figures.{name}"), text, other


def readouts(rows: Iterable[Row]) -> None:
    """The figures that answer the question, big."""
    cells = "".join(
        f"<div><dt>{escape(name)}</dt><dd><b>{escape(first)}</b> <span>{escape(other)}</span></dd></div>"
        for name, first, other in rows
    )
    st.html(f'<dl class="readouts">{cells}</dl>')


def refused(words: Words, error: MechanicsRangeError) -> None:
    """What is out of range, and what to do, in words."""
    st.warning(plain(said_of(words, error)))


def said_of(words: Words, error: MechanicsRangeError) -> str:
    """The sentence for the argument that a formula does not cover."""
    key = f"figures.range-{error.argument.replace('_', '-')}"
    return words.say(key if words.has(key) else "figures.range-other")


def workings(here: Here, figure: str, inputs: Sequence[Row]) -> None:
    """Everything behind the figures: formula, what went in, what is assumed, where it holds, and its source."""
    words = here.words
    with st.container(key="figures-workings"), st.expander(words.say("figures.workings")):
        for part in ("formula", "inputs", "assumes", "valid", "source"):
            st.markdown(f"**{words.say(f'figures.{part}')}**")
            if part == "inputs":
                _table(words, inputs)
            else:
                st.markdown("\n".join(f"- {plain(each)}" for each in _sentences(words, f"figures.{figure}-{part}")))


def _sentences(words: Words, key: str) -> Iterator[str]:
    """``key-1``, ``key-2`` and so on, as many as there are."""
    number = 1
    while words.has(f"{key}-{number}"):
        yield words.say(f"{key}-{number}")
        number += 1


def _table(words: Words, inputs: Sequence[Row]) -> None:
    names = (words.say(f"figures.{each}") for each in ("what", "unit-first", "unit-other"))
    heads = "".join(f'<th scope="col">{escape(name)}</th>' for name in names)
    rows = "".join(
        f'<tr><th scope="row">{escape(name)}</th><td>{escape(first)}</td><td>{escape(other)}</td></tr>'
        for name, first, other in inputs
    )
    st.html(f'<table class="figures-in"><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>')
