"""What the matrix says where it has nothing to show, and what can be done about it."""

from __future__ import annotations

from datetime import date

import streamlit as st

from trainer.actions.desk import COORDINATOR
from trainer.web import cached
from trainer.web.door import Here
from trainer.web.goto import go
from trainer.web.matrix_filters import Filters
from trainer.web.press import press

__all__ = ["draw"]


def draw(here: Here, chosen: Filters, as_of: date) -> None:
    """Why nothing is shown on ``as_of``; whoever can put people on the list gets the way there on a day without any."""
    is_somebody_there = bool(cached.matrix(here.desk, as_of).hands)
    st.info(here.words.say(f"matrix.{_why(here, chosen, as_of, is_somebody_there=is_somebody_there)}"))
    may_add = here.actor.role == COORDINATOR and as_of == here.desk.today and not is_somebody_there
    if may_add and press(here.words.say("matrix.add-crew"), "add-crew", kind="primary", wide=False):
        go("people")


def _why(here: Here, chosen: Filters, as_of: date, *, is_somebody_there: bool) -> str:
    if is_somebody_there:
        return "none" if chosen.is_any else "none-needed"
    if as_of == here.desk.today:
        return "nobody-yet"
    return "nobody-then" if as_of < here.desk.today else "nobody-by-then"
