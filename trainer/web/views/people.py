"""People: who is here by crew, one person's page, somebody new, and files in.

In the address: ``hand`` for one person; ``do`` is ``add``, ``roster`` or ``evidence``; ``crew`` where one at a time is
listed.
"""

from __future__ import annotations

import streamlit as st

from trainer.actions import people
from trainer.web import door, people_files, people_list, people_person, people_told, place
from trainer.web.press import press

_DOES = {"add": people_person.add, "roster": people_files.roster, "evidence": people_files.evidence}


def draw_ways(here: door.Here) -> None:
    """What the office does here besides looking."""
    with st.container(key="people-ways", horizontal=True):
        for name in _DOES:
            if press(here.words.say(f"people.to-{name}"), f"people-{name}", wide=False):
                place.put(do=name, hand=None)
                st.rerun()


def draw_back(here: door.Here) -> None:
    """Back to the list."""
    if press(here.words.say("people.back"), "people-back", kind="tertiary", wide=False):
        place.put(do=None, hand=None)
        st.rerun()


def draw() -> None:
    """The whole page."""
    here = door.here()
    listed = people.listed(here.desk)
    person = next((each for each in listed if each.hand == place.at("hand")), None)
    does = _DOES.get(place.at("do"))
    if does is not None or person is not None:
        draw_back(here)
        with st.container(key="narrow-inside"):
            if does is not None:
                does(here)
            elif person is not None:
                people_person.draw(here, person)
        return
    st.title(here.words.say("nav.people"), anchor=False)
    people_told.notice()
    draw_ways(here)
    people_list.draw(here, listed)


draw()
