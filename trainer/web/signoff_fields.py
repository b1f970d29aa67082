"""Fields of a sheet that show what the store holds, give a value only when it was changed here, and keep it at once.

A field is drawn anew when the store's value was changed elsewhere, so that an old screen on another tablet cannot write
its own over it; otherwise it stays the same field, and the keyboard's focus with it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

import streamlit as st

from trainer.actions import watching
from trainer.actions.sheets import Sheet
from trainer.core.marking import number as number_in
from trainer.errors import TrainerError
from trainer.web import frame, session
from trainer.web.door import Here

__all__ = ["day", "keep", "number", "one_of", "text", "yes"]


def one_of(name: str, label: str, options: Mapping[str, str], stored: str, *, required: bool = False) -> str | None:
    """The id tapped, empty when it was tapped off again; ``None`` while it is as stored. Labels are Markdown."""
    picked = st.pills(
        label, list(options), default=stored or None, required=required, format_func=options.__getitem__,
        key=_key(name, stored),
    )  # fmt: skip
    return _changed(picked or "", stored)


def number(name: str, label: str, stored: str) -> str | None:
    """The number entered, empty when it was taken out again; ``None`` while it is as stored.

    It has no limits: Streamlit would speak English about them, and throw away what was typed.
    """
    key = _key(name, stored)
    # Not as the field's own value: Streamlit puts that back where a field is emptied.
    if stored and key not in st.session_state:
        st.session_state[key] = float(number_in(stored))
    value = st.number_input(label, value=None, step=1.0, format="%g", key=key)
    typed = "" if value is None else f"{value:.10g}"
    return None if stored and typed and float(typed) == float(number_in(stored)) else _changed(typed, stored)


def day(name: str, label: str, stored: date, first: date, last: date) -> date | None:
    """The day chosen; ``None`` while it is as stored."""
    picked = st.date_input(
        label, stored, min_value=min(first, stored), max_value=last, format="YYYY-MM-DD",
        key=_key(name, stored.isoformat()),
    )  # fmt: skip
    return picked if isinstance(picked, date) and picked != stored else None


def yes(name: str, label: str, stored: bool) -> bool | None:
    """Whether the box is ticked now; ``None`` while it is as stored."""
    ticked = st.checkbox(label, stored, key=_key(name, str(stored)))
    return ticked if ticked != stored else None


def text(name: str, label: str, stored: str, longest: int = 1000) -> str | None:
    """The text typed; ``None`` while it is as stored."""
    return _changed(st.text_area(label, stored, max_chars=longest, key=_key(name, stored)), stored)


def keep(here: Here, sheet: Sheet, name: str, value: str, **change: object) -> Sheet:
    """The sheet with that change of its details kept; as it was, and the reason shown, where it cannot be.

    ``value`` is what the field called ``name`` shows from now on.
    """
    try:
        now = watching.fill(here.desk, sheet.sheet_id, replace(sheet.details, **change))  # type: ignore[arg-type]
    except TrainerError as error:
        frame.shown(error, here.words)
        return sheet
    session.keep(name, value)
    return now


def _changed(value: str, stored: str) -> str | None:
    return value if value != stored else None


def _key(name: str, stored: str) -> str:
    if session.kept(name) != stored:
        session.keep(name, stored)
        session.take(name, session.taken(name) + 1)
    return f"{name}-{session.taken(name)}"
