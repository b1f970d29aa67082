"""The heartbeat of every page: notices a session that ended, warns before it does, and never counts as a tap.

While a page holds a fragment that runs by itself, the browser asks for a full run as soon as its line is back, so that
a page that outlived a server restart draws itself again.
"""

from __future__ import annotations

import streamlit as st

from trainer.actions import signing_in
from trainer.web import door, session
from trainer.web.press import press

__all__ = ["WARN_SECONDS", "beat"]

WARN_SECONDS = 60
"""So long before an idle session ends, its page says so."""


@st.fragment(run_every=5)
def beat() -> None:
    """Draw nothing, or the warning; ask for a full run once nobody is signed in any more."""
    token = session.get().token
    if not token:
        return
    found = door.look_in(active=False)
    if found is None:
        st.rerun()
    elif signing_in.seconds_left(found.desk, token) <= WARN_SECONDS:
        _warn(found)


def _warn(found: door.Here) -> None:
    with st.container(key="still-there"):
        # role="alert" makes a screen reader say it at once, whatever has the focus.
        st.html(f'<p role="alert"><strong>{found.words.say("common.stay-title")}</strong></p>')
        st.markdown(found.words.say("common.stay-text"))
        if press(found.words.say("common.stay"), "stay", kind="primary"):
            door.look_in(active=True)
            st.rerun(scope="fragment")
