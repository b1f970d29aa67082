"""On and off the slips, from step to step: the place in the address, what went wrong, and what people are called."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NoReturn

import streamlit as st

from trainer.actions.desk import DRILLER, HAND
from trainer.web import goto, place, session, titles
from trainer.web.door import Here
from trainer.web.goto import go
from trainer.web.plain import plain
from trainer.web.press import press

__all__ = [
    "LONGEST",
    "back",
    "every",
    "go_home",
    "go_on",
    "home",
    "leave",
    "name",
    "pick",
    "problem",
    "stop",
]

LONGEST = 500
"""Letters of a reason."""

_PROBLEM = "slips-problem"
_HOMES = {DRILLER: "today", HAND: "signoff"}


def go_on(hand: str, problem: str = "", **steps: str) -> NoReturn:
    """Show the step with these in the address, ``problem`` in it. Call it last: nothing after it runs."""
    session.keep(_PROBLEM, problem)
    if not problem:
        goto.turn()
    place.clear()
    place.put(hand=hand, **{name: value for name, value in steps.items() if value})
    st.rerun()


def problem() -> str:
    """What the last press came to, where that was nothing good."""
    return session.kept(_PROBLEM)


def name(here: Here, hand: str) -> str:
    """What ``hand`` is called, escaped; the id itself for somebody erased."""
    person = here.desk.store.person(hand)
    return plain(person.name if person else hand)


def every(here: Here, competencies: Iterable[str]) -> str:
    """The titles of these competencies, escaped, with commas."""
    return ", ".join(plain(titles.competency(here, each)) for each in competencies)


def pick(here: Here, label: str, offered: tuple[str, ...], key: str, was: Sequence[str] = ()) -> list[str]:
    """Which of the competencies are tapped; at first what ``was``, the one in the address, or the only one offered."""
    asked = {*was, place.at("competency")}
    first = [each for each in offered if each in asked or len(offered) == 1]
    return st.pills(
        label, offered, selection_mode="multi", default=first, key=key,
        format_func=lambda each: plain(titles.competency(here, each)),
    )  # fmt: skip


def stop(here: Here, hand: str) -> None:
    """The way out of a step with nothing done."""
    if press(here.words.say("slips.stop"), "slips-stop", kind="tertiary", wide=False):
        leave(hand)


def leave(hand: str) -> NoReturn:
    """Back to where the step was opened: the cell, else the hand's own page."""
    session.keep(_PROBLEM, "")
    if competency := place.at("competency"):
        go("evidence", hand=hand, competency=competency)
    go_on(hand)


def back(here: Here) -> None:
    """The way back to the page that shows everybody."""
    if press(here.words.say(f"slips.to-{home(here)}"), "slips-home", kind="tertiary", wide=False):
        go_home(here)


def home(here: Here) -> str:
    """The page that shows everybody, as far as the person who is signed in sees them."""
    return _HOMES.get(here.actor.role, "matrix")


def go_home(here: Here) -> NoReturn:
    """Show that page. Call it last: nothing after it runs."""
    go(home(here))
