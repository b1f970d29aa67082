"""From step to step of a sign-off: the place in the address, what went wrong, and what people are called."""

from __future__ import annotations

from typing import NoReturn

import streamlit as st

from trainer.web import goto, place, session, titles
from trainer.web.door import Here
from trainer.web.plain import plain

__all__ = ["every", "go_on", "name", "problem", "purpose"]

_PROBLEM = "signoff-problem"


def go_on(problem: str = "", **steps: str) -> NoReturn:
    """Show the step with these in the address, ``problem`` over it. Call it last: nothing after it runs."""
    session.keep(_PROBLEM, problem)
    if not problem:
        goto.turn()
    place.clear()
    place.put(**steps)
    st.rerun()


def problem() -> str:
    """What the last press came to, where that was nothing good."""
    return session.kept(_PROBLEM)


def name(here: Here, hand: str) -> str:
    """What ``hand`` is called, escaped; the id itself for somebody erased."""
    person = here.desk.store.person(hand)
    return plain(person.name if person else hand)


def purpose(here: Here, value: str) -> str:
    """Assessment or practice, in words."""
    return here.words.say(f"signoff.{value}")


def every(here: Here, competencies: tuple[str, ...]) -> str:
    """The titles of these competencies, escaped, with commas."""
    return ", ".join(plain(titles.competency(here, each)) for each in competencies)
