"""What one browser tab holds between runs: one frozen dataclass under one key, and nothing else.

Only strings, numbers and ids stand in it, because a hot reload replaces classes. Whatever must outlive the server
(answers, ticks, who is signed in) is in the store; the place is in the address (``place.py``).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import streamlit as st

__all__ = [
    "Session",
    "clear",
    "done",
    "drop_ticket",
    "form_id",
    "get",
    "is_begun",
    "keep",
    "kept",
    "put",
    "take",
    "taken",
]

_KEY = "trainer"


@dataclass(frozen=True, slots=True)
class Session:
    """One tab.

    ``token`` is the sign-in session, ``owner`` the hand to whom everything here belongs. ``ticket`` waits to be posted
    for the cookie, ``leaving`` asks the browser to drop it. ``language`` is chosen on screen, empty for the person's
    own. ``notice`` is the words key of a line shown on the sign-in page; ``crew``, ``hand``, ``step``, ``code``,
    ``first`` and ``problem`` belong to that page too. ``moves`` holds the newest move taken from each part, ``forms``
    the record id drawn with each form, ``values`` what views keep.
    """

    token: str = ""
    owner: str = ""
    ticket: str = ""
    leaving: bool = False
    language: str = ""
    notice: str = ""
    crew: str | None = None
    hand: str = ""
    step: str = ""
    code: str = ""
    first: str = ""
    problem: str = ""
    moves: Mapping[str, int] = field(default_factory=dict)
    forms: Mapping[str, str] = field(default_factory=dict)
    values: Mapping[str, str] = field(default_factory=dict)


def get() -> Session:
    """This tab's session; a fresh one on its first run."""
    held = st.session_state.get(_KEY)
    return held if isinstance(held, Session) else Session()


def is_begun() -> bool:
    """Whether this tab holds something: on its first run it does not."""
    return _KEY in st.session_state


def put(session: Session) -> None:
    """Hold this from now on."""
    st.session_state[_KEY] = session


def clear(session: Session | None = None) -> None:
    """Forget everything of this tab, widgets too, and hold only ``session``."""
    st.session_state.clear()
    put(session or Session())


def drop_ticket() -> None:
    """The ticket has been posted, for good or ill."""
    put(replace(get(), ticket=""))


def taken(key: str) -> int:
    """The number of the newest move taken from the part ``key``; 0 before the first."""
    return get().moves.get(key, 0)


def take(key: str, seq: int) -> None:
    """Note that the part's move ``seq`` has been taken."""
    put(replace(get(), moves={**get().moves, key: seq}))


def form_id(form: str, draw: str) -> str:
    """The record id of ``form``: ``draw`` on its first showing, the same one until ``done``."""
    held = get()
    if form not in held.forms:
        put(replace(held, forms={**held.forms, form: draw}))
    return get().forms[form]


def done(form: str) -> None:
    """The form's record is written: its next showing draws another id."""
    held = get()
    put(replace(held, forms={name: value for name, value in held.forms.items() if name != form}))


def kept(key: str, default: str = "") -> str:
    """What a view kept under ``key``."""
    return get().values.get(key, default)


def keep(key: str, value: str) -> None:
    """Keep ``value`` for a view until the person changes."""
    put(replace(get(), values={**get().values, key: value}))
