"""Try the content: any lesson and any item, from the files as they were last saved, played without a trace.

In the address: ``lesson`` with ``scene``, or ``quiz`` with ``item``; ``done`` after a lesson's last scene.
"""

from __future__ import annotations

import streamlit as st

from trainer.web import cached, door, place, tryout_item, tryout_lesson, tryout_list, tryout_way
from trainer.web.newest import Newest
from trainer.web.press import press


def draw(here: door.Here, found: Newest) -> None:
    """What the address asks for; the list where that is not there."""
    lesson = here.desk.catalogue.lessons.get(place.at("lesson"))
    bank = here.desk.catalogue.banks.get(place.at("quiz"))
    if lesson is None and bank is None:
        tryout_list.draw(here, found)
        return
    if press(here.words.say("tryout.to-list"), "tryout-back", kind="tertiary", wide=False):
        place.put(lesson=None, scene=None, quiz=None, item=None, done=None)
        st.rerun()
    tryout_list.problems(here, found)
    if lesson is not None:
        tryout_lesson.draw(here, lesson)
    elif bank is not None:
        tryout_item.draw(here, bank)
    st.caption(here.words.say("tryout.no-trace"))


visitor = door.here()
shown = tryout_way.newest(visitor)
with cached.showing(shown):
    draw(tryout_way.at_desk(visitor, shown), shown)
