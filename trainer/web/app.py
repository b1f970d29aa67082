"""The page script: runs from top to bottom on every tap, and draws the frame round the page that was asked for."""

from __future__ import annotations

from pathlib import Path

import streamlit as st
from streamlit.delta_generator import DeltaGenerator
from streamlit.navigation.page import Page

from trainer.actions import watched
from trainer.errors import StoreMissing, TrainerError
from trainer.web import beat, door, frame, language, late, pages, place, session, tailgate_way
from trainer.web.pages import View
from trainer.web.parts import drop_cookie, page_frame, set_cookie
from trainer.web.views import set_up, sign_in
from trainer.words import Words

_VIEWS = Path(__file__).parent / "views"


def _page(view: View, words: Words) -> Page:
    return st.Page(_VIEWS / f"{view.url}.py", title=words.say(view.name), url_path=view.url)


def _nobody() -> None:
    """The sign-in page, at whatever address was asked for, so that the same person finds the place again."""
    visitor = door.visitor()
    with _frame_for_visitors(visitor.words):
        if session.get().leaving:
            drop_cookie()
        sign_in.draw(visitor)


def _no_desk(error: TrainerError) -> None:
    """What is said where there is no store to ask: the questions of ``init`` where no site is set up yet."""
    words = language.words()
    with _frame_for_visitors(words):
        if isinstance(error, StoreMissing):
            set_up.draw(words)
        else:
            frame.shown(error, words)


def _frame_for_visitors(words: Words) -> DeltaGenerator:
    """What to draw a visitor's page in."""
    st.set_page_config(page_title=words.say("common.name"), layout="wide")
    page_frame(words)
    body = st.container(key="narrow")
    with body:
        frame.visitor_bar(words)
    return body


def _somebody(here: door.Here, page: Page, linked: dict[str, Page]) -> None:
    allowed = pages.pages_of(here.actor.role, observes=watched.observes(here.desk))
    # The first page of the table stands at the root, with an empty address.
    asked = page.url_path or pages.PAGES[0].url
    only = tailgate_way.only_page(here, allowed)
    # Nobody is signed out in the middle of a talk: the driller's PIN ends it, or the end of the tour.
    beat.hold(bool(only))
    view = next((each for each in allowed if each.url == (only or asked)), None)
    if view is None or asked != view.url:
        # Straight to a page that stays: one that sends on in its turn is a second change of pages, and while the
        # browser is between two it can take what the first one's fragments answer for a third, and clear the page.
        home = next(each for each in allowed if each.listed)
        st.switch_page(linked[(view or home).url])
    st.set_page_config(page_title=here.words.say("common.name"), layout="wide")
    page_frame(here.words)
    place.follow(view.url)
    # The bars stand in it too, so that the page has its width from the first paint on.
    with st.container(key="wide" if view.wide else "narrow"):
        _keep_cookie(here)
        frame.top_bar(here, tailgate_way.OUT if only else "")
        if only:
            tailgate_way.sign_out(here)
        listed = [each for each in allowed if each.listed and not only]
        frame.page_bar(listed, [linked[each.url] for each in listed], here.words, view.url)
        try:
            page.run()
        except TrainerError as error:
            frame.shown(error, here.words)
    late.note(view.url)


@st.fragment
def _keep_cookie(here: door.Here) -> None:
    ticket = session.get().ticket
    if not ticket:
        return
    status = set_cookie(ticket)
    if status is not None:
        session.drop_ticket()
        if status != 204:
            st.toast(here.words.say("common.cookie-lost"))
        late.go_back()


def _main() -> None:
    late.begin()
    language.recall()
    words = language.words()
    linked = {view.url: _page(view, words) for view in pages.PAGES}
    # Before the gate: until it is called, Streamlit would take the address for a page that is not there.
    page = st.navigation(list(linked.values()), position="hidden")
    try:
        here = door.look_in()
    except TrainerError as error:
        _no_desk(error)
        return
    beat.beat()
    if here is None:
        _nobody()
        return
    door.keep_for_this_run(here)
    try:
        _somebody(here, page, linked)
    finally:
        door.keep_for_this_run(None)


_main()
