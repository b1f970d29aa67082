"""Going to another page, with the step that it opens at."""

from __future__ import annotations

from typing import NoReturn

import streamlit as st

from trainer.web import session

__all__ = ["TURN", "go", "turn"]

TURN = "page-turn"


def go(view: str, **steps: str) -> NoReturn:
    """Show the page ``view`` with these in its address. Call it last: nothing after it runs."""
    st.switch_page(f"views/{view}.py", query_params=steps)


def turn() -> None:
    """Have the next showing of this page begin at its top: another step of it takes the place of a long one."""
    session.take(TURN, session.taken(TURN) + 1)
