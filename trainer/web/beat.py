"""The heartbeat of every page: notices a session that ended, warns before it does, and never counts as a tap.

While a page holds a fragment that runs by itself, the browser asks for a full run as soon as its line is back, so that
a page that outlived a server restart draws itself again.
"""

from __future__ import annotations

import streamlit as st

from trainer.actions import signing_in
from trainer.errors import StoreError
from trainer.web import door, late, session
from trainer.web.press import press

__all__ = ["WARN_SECONDS", "beat", "hold"]

WARN_SECONDS = 60
"""So long before an idle session ends, its page says so."""


_HOLD = "hold"


def hold(is_open: bool) -> None:
    """Keep this tab's session from ending by itself while a tailgate is open on it, and let go of it afterwards."""
    wanted = "yes" if is_open else ""
    if session.kept(_HOLD) != wanted:
        session.keep(_HOLD, wanted)


@st.fragment(run_every=5)
def beat() -> None:
    """Draw nothing, or the warning; ask for a full run once nobody is signed in any more."""
    token = session.get().token
    if not token:
        return
    try:
        found = door.look_in(active=session.kept(_HOLD) == "yes")
    except StoreError:
        # Out of reach for a moment: the next beat asks again, and a tap says what is wrong.
        return
    if found is None:
        st.rerun()
    if signing_in.seconds_left(found.desk, token) <= WARN_SECONDS:
        _warn(found)
    late.go_back()


def _warn(found: door.Here) -> None:
    with st.container(key="still-there"):
        # role="alert" makes a screen reader say it at once, whatever has the focus.
        st.html(f'<p role="alert"><strong>{found.words.say("common.stay-title")}</strong></p>')
        st.markdown(found.words.say("common.stay-text"))
        if press(found.words.say("common.stay"), "stay", kind="primary"):
            door.look_in(active=True)
            st.rerun(scope="fragment")
