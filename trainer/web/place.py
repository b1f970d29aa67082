"""Where a person is: the page is the address, the step within it a query parameter, so that a reload keeps both."""

from __future__ import annotations

import streamlit as st

from trainer.web import session

__all__ = ["at", "clear", "follow", "put"]

_WAS = "place"


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


def follow(page: str) -> None:
    """Have the browser's address follow when a link led from a step of ``page`` to ``page`` itself; call it first.

    Such a link empties the steps for the script, but the browser keeps them, and would bring them back with the next
    tap.
    """
    now = page if st.query_params else ""
    if not now and session.kept(_WAS) == page:
        st.query_params.clear()
    if session.kept(_WAS) != now:
        session.keep(_WAS, now)
