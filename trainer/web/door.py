"""Who is here: this tab's session first, the browser's cookie second, and the store asked on every run.

A view starts with ``here = door.here()``, and so does a fragment, because a fragment runs without the page around it.
"""

from __future__ import annotations

from contextvars import ContextVar
from dataclasses import dataclass, replace

import streamlit as st

from trainer.actions import devices, signing_in
from trainer.actions.desk import Actor, Desk
from trainer.actions.signing_in import Opened
from trainer.web import cached, language, session
from trainer.web.routes import DEVICE_COOKIE, SESSION_COOKIE
from trainer.web.session import Session
from trainer.words import Words

__all__ = ["Here", "device", "enter", "here", "keep_for_this_run", "leave", "look_in", "visitor"]


@dataclass(frozen=True, slots=True)
class Here:
    """What a view needs: the desk of whoever is signed in, and the words in their language."""

    desk: Desk
    words: Words
    token: str

    @property
    def actor(self) -> Actor:
        """Who is signed in."""
        return self.desk.actor

    @property
    def language(self) -> str:
        """The language on screen: for content, as ``core.text.pick`` takes it."""
        return self.words.language


_RUN: ContextVar[Here | None] = ContextVar("here", default=None)


def here() -> Here:
    """Who is signed in, with desk and words. Asks for a full run, which shows the sign-in page, where nobody is."""
    found = _RUN.get() or look_in()
    if found is None:
        st.rerun()
    return found


def keep_for_this_run(found: Here | None) -> None:
    """Have ``here`` give this until it is called with ``None``: the page asks the store once a run, not twice."""
    _RUN.set(found)


def look_in(*, active: bool = True) -> Here | None:
    """Whoever is signed in on this tab, or ``None``. ``active=False`` does not count as a tap."""
    desk = cached.visitor_desk()
    token, actor = _holder(desk, active=active)
    if actor is None:
        _forget()
        return None
    _settle(token, actor)
    spoken = language.words(actor.language)
    # On this very desk, not a fresh one: both must see the same moment. Records name the language on screen.
    return Here(replace(desk, actor=replace(actor, language=spoken.language)), spoken, token)


def visitor() -> Here:
    """A desk that may do nothing, and the words of this tab or of the name chosen on it: for the sign-in page."""
    desk, chosen = cached.visitor_desk(), session.get().hand
    person = desk.store.person(chosen) if chosen else None
    return Here(desk, language.words(person.language if person else ""), "")


def device() -> str:
    """The device of this browser, as wrong PINs are counted by."""
    return devices.device_in(cached.visitor_desk(), _cookie(DEVICE_COOKIE))


def enter(opened: Opened) -> None:
    """Somebody has signed in on this tab: nothing of anybody else stays, and the browser is to get its cookie."""
    before = session.get()
    if before.owner not in ("", opened.who.hand):
        st.query_params.clear()
    session.clear(Session(token=opened.session, owner=opened.who.hand, ticket=opened.ticket))


def leave() -> None:
    """End this session on every tab; the browser is to drop its cookie and all it holds."""
    signing_in.sign_out(cached.visitor_desk(), session.get().token)
    st.query_params.clear()
    session.clear(Session(leaving=True, notice="sign_in.signed-out"))


def _cookie(name: str) -> str | None:
    """The cookie as it came when this tab's line was opened; a page run without a browser has none."""
    value = st.context.cookies.get(name)
    return value if isinstance(value, str) else None


def _holder(desk: Desk, *, active: bool) -> tuple[str, Actor | None]:
    """The session and who holds it: the tab's own, else the one in the cookie that came when its line was opened."""
    token = session.get().token
    actor = signing_in.who(desk, token, active=active) if token else None
    if actor is None and not session.get().leaving:
        token = signing_in.from_cookie(desk, _cookie(SESSION_COOKIE)) or ""
        actor = signing_in.who(desk, token, active=active) if token else None
    return token, actor


def _settle(token: str, actor: Actor) -> None:
    """Hold this session; where another person's things are still here, they go first."""
    held = session.get()
    if held.owner not in ("", actor.hand):
        st.query_params.clear()
        held = Session()
        session.clear(held)
    if (held.token, held.owner) != (token, actor.hand):
        session.put(replace(held, token=token, owner=actor.hand))


def _forget() -> None:
    """The session has ended: keep the owner, so that the same person finds the place again and another one does not."""
    held = session.get()
    if held.token:
        session.clear(Session(owner=held.owner, notice="sign_in.timed-out", language=held.language))
