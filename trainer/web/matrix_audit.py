"""For the coordinator, under the matrix: sign-offs that want another pair of eyes, and whether the records still fit.

In the address: ``marks`` while those are shown.
"""

from __future__ import annotations

import streamlit as st

from trainer.actions import look as looking
from trainer.actions import signing_off
from trainer.actions.desk import COORDINATOR
from trainer.web import door, late, marks_drawn, place
from trainer.web.door import Here
from trainer.web.plain import plain
from trainer.web.press import press

__all__ = ["draw"]

_FAULTS_SHOWN = 20


@st.fragment
def draw() -> None:
    """Both, each worked out only when asked for. A fragment, so that a check sends no picture again."""
    here = door.here()
    if here.actor.role != COORDINATOR:
        return
    words, is_open = here.words, bool(place.at("marks"))
    with st.container(key="matrix-audit", horizontal=True):
        if press(words.say("slips.marks-hide" if is_open else "slips.marks-show"), f"marks-{is_open}", wide=False):
            place.put(marks=None if is_open else "yes")
            st.rerun()
        is_asked = press(words.say("slips.check"), "check-records", wide=False, stays=True)
    if is_asked:
        _check(here)
    if is_open:
        _marks(here)
    late.go_back()


def _marks(here: Here) -> None:
    marks = signing_off.marks(here.desk)
    st.header(here.words.say("slips.marks-title"), anchor=False)
    if marks:
        marks_drawn.lines(here, marks)
    else:
        st.success(here.words.say("slips.marks-none"))


def _check(here: Here) -> None:
    """What working all of it out again came to."""
    words = here.words
    with st.spinner(words.say("slips.check-text")):
        faults = looking.verify(here.desk)
    if not faults:
        heads = looking.heads(here.desk)
        said = [words.count("slips.check-good", sum(head.seq for head in heads))]
        said += [
            words.say("slips.check-head", site=plain(head.site), seq=head.seq, hash=plain(head.hash[:16]))
            for head in heads
        ]
        st.success("  \n".join(said))
        return
    shown = (words.say(f"verify.{each.code}", site=plain(each.site), seq=each.seq) for each in faults[:_FAULTS_SHOWN])
    told = "\n".join(f"- {each}" for each in shown)
    st.error(f"**{words.count('slips.check-bad', len(faults))}**\n\n{told}\n\n**{words.say('slips.check-next')}**")
