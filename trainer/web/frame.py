"""What stands round every page: the top bar, the page bar, and the errors that an action raised."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

import streamlit as st
from streamlit.navigation.page import Page

from trainer.actions.desk import Actor
from trainer.errors import TrainerError
from trainer.web import cached, door, language, place
from trainer.web.goto import turn
from trainer.web.pages import View
from trainer.web.plain import plain
from trainer.web.press import press
from trainer.words import Words

__all__ = ["page_bar", "shown", "top_bar", "visitor_bar"]


def visitor_bar(words: Words) -> None:
    """The top bar before anybody has signed in: wordmark and languages."""
    with st.container(key="top", horizontal=True):
        _wordmark(words)
        _languages(words)


def top_bar(here: door.Here, asks: str = "") -> None:
    """The top bar: who is signed in, the languages, and the way out, always in sight.

    With ``asks`` a press on the way out signs nobody out: it puts that into the address, and the page asks first.
    """
    with st.container(key="top", horizontal=True):
        _wordmark(here.words)
        with st.container(key="who"):
            st.markdown(f"**{plain(_name(here))}**  \n{plain(_place(here.actor, here))}")
        _languages(here.words)
        if press(here.words.say("nav.sign-out"), "sign-out", wide=False):
            if asks:
                turn()
                place.put(**{asks: "1"})
            else:
                door.leave()
            st.rerun()


def page_bar(views: Sequence[View], linked: Sequence[Page], words: Words, here: str) -> None:
    """Links to the pages of this role, ``here`` marked; nothing where that is the only one."""
    if [view.url for view in views] in ([], [here]):
        return
    with st.container(key="pages", horizontal=True):
        for view, page in zip(views, linked, strict=True):
            # Streamlit does not say which of its links is the page that is open.
            with st.container(key="page-here" if view.url == here else f"page-{view.url}", width="content"):
                st.page_link(page, label=words.say(view.name))


def shown(error: TrainerError, words: Words) -> None:
    """Say what went wrong and what to do next; nothing was written."""
    st.error(words.error(error))


def _wordmark(words: Words) -> None:
    st.html(f'<span class="wordmark">{escape(words.say("common.name"))}</span>', width="content")


def _languages(words: Words) -> None:
    """One button a further language of the site, labelled in it, so that it is found by whoever needs it."""
    for code, other in cached.site_words().items():
        if code != words.language and press(other.say("common.language-name"), f"speak-{code}", wide=False):
            language.choose(code)
            st.rerun()


def _name(here: door.Here) -> str:
    person = here.desk.store.person(here.actor.hand)
    return person.name if person else here.actor.hand


def _place(actor: Actor, here: door.Here) -> str:
    """Position and crew in words, as far as the site names them."""
    site = here.desk.catalogue.site
    position, crew = site.position(actor.position), site.crews.get(actor.crew)
    titles = (
        here.words.pick(position.title) if position and position.title else actor.position,
        here.words.pick(crew.title) if crew and crew.title else actor.crew,
    )
    return ", ".join(title for title in titles if title)
