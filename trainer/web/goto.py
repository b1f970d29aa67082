"""Going to another page, with the step that it opens at."""

from __future__ import annotations

from typing import NoReturn

import streamlit as st

__all__ = ["go"]


def go(view: str, **steps: str) -> NoReturn:
    """Show the page ``view`` with these in its address. Call it last: nothing after it runs."""
    st.switch_page(f"views/{view}.py", query_params=steps)
