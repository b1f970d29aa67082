"""The one way to draw a button: asked inline, never by a callback, so that the first press after a restart counts."""

from __future__ import annotations

from typing import Literal

import streamlit as st

from trainer.web import session

__all__ = ["press", "submit"]

Kind = Literal["primary", "secondary", "tertiary"]


def press(
    label: str,
    key: str,
    *,
    kind: Kind = "secondary",
    disabled: bool = False,
    stays: bool = False,
    wide: bool = True,
) -> bool:
    """Whether the button was pressed in this run. ``label`` is Markdown: pass people's text through ``plain``.

    Draw it under ``if press(...):`` and call one action inside. ``stays`` is for a button that is still there after its
    press: its next showing is another button, so that the second half of a double click meets nothing.
    """
    drawn = f"{key}-{session.taken(key)}" if stays else key
    is_pressed = st.button(label, key=drawn, type=kind, disabled=disabled, width="stretch" if wide else "content")
    if is_pressed and stays:
        session.take(key, session.taken(key) + 1)
    return is_pressed


def submit(label: str, key: str, *, kind: Kind = "primary", disabled: bool = False) -> bool:
    """Whether this form's button was pressed in this run; inside ``with st.form(...)``."""
    return st.form_submit_button(label, key=key, type=kind, disabled=disabled, width="stretch")
