"""On other pages: that the driller's own tailgate is still open, and the way to it."""

from __future__ import annotations

from datetime import date

import streamlit as st

from trainer.actions import tailgating
from trainer.actions.meetings import READY
from trainer.web import door, wording
from trainer.web.goto import go
from trainer.web.plain import plain
from trainer.web.press import press
from trainer.web.tailgate_way import PAGE, topic

__all__ = ["draw"]


def draw(here: door.Here) -> None:
    """A line about it with the button to go on; nothing where none is open."""
    meeting = tailgating.mine(here.desk)
    if meeting is None:
        return
    words = here.words
    told = {"topic": f"**{topic(here, meeting.competency)}**"}
    if meeting.step == READY:
        said = words.say("tailgate.today-ready", **told)
    else:
        day = plain(wording.day(date.fromisoformat(meeting.held), words))
        said = words.say("tailgate.today-paper" if meeting.is_paper else "tailgate.today-running", day=day, **told)
    with st.container(key="tailgate-open", border=True):
        st.markdown(said)
        if press(words.say("tailgate.today-go-on"), "tailgate-go-on", kind="primary", wide=False):
            go(PAGE)
