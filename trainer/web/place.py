"""Where a person is: the page is the address, the step within it a query parameter, so that a reload keeps both."""

from __future__ import annotations

import streamlit as st

__all__ = ["at", "clear", "put"]


def at(name: str, default: str = "") -> str:
    """The query parameter ``name``; ``default`` when it is not there. Anybody can type it: check it like any input."""
    return str(st.query_params.get(name, default))


def put(**steps: str | None) -> None:
    """Put these into the address; ``None`` takes one out. A page change drops them all."""
    for name, value in steps.items():
        if value is None:
            st.query_params.pop(name, None)
        elif st.query_params.get(name) != value:
            st.query_params[name] = value


def clear() -> None:
    """Take every step out of the address."""
    st.query_params.clear()
