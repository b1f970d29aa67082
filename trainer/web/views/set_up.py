"""The first page where no site is set up yet: asks what ``init`` asks."""

from __future__ import annotations

from zoneinfo import available_timezones

import streamlit as st

from trainer import clock, settings
from trainer.actions import opening, setup
from trainer.errors import BadInput, TrainerError
from trainer.web import cached, frame
from trainer.web.press import submit
from trainer.words import Words

__all__ = ["draw"]


def draw(words: Words) -> None:
    """The questions, then the new site; the sign-in page follows by itself."""
    st.title(words.say("set_up.title"), anchor=False)
    st.markdown(words.say("set_up.text"))
    with st.form("set-up", border=False):
        site = st.text_input(words.say("set_up.site"), key="set-up-site", help=words.say("set_up.site-help"))
        zones = sorted(available_timezones())
        zone = st.selectbox(words.say("set_up.zone"), zones, index=_own_zone(zones), key="set-up-zone")
        name = st.text_input(words.say("set_up.name"), key="set-up-name", placeholder=setup.DEFAULT_NAME)
        pin = st.text_input(words.say("set_up.pin"), key="set-up-pin", type="password", autocomplete="new-password")
        again = st.text_input(
            words.say("set_up.again"), key="set-up-again", type="password", autocomplete="new-password"
        )
        is_sent = submit(words.say("set_up.go"), "set-up-go")
    if is_sent:
        try:
            _create(site.strip(), zone or "", name.strip(), pin, again, words.language)
        except TrainerError as error:
            frame.shown(error, words)
        else:
            st.rerun()


def _create(site: str, zone: str, name: str, pin: str, again: str, language: str) -> None:
    if pin != again:
        raise BadInput("pin-not-same")
    setup.init(
        settings.read(), site, zone, name, pin, clock.now(), opening.new_id, cached.content().site_data, language
    )


def _own_zone(zones: list[str]) -> int | None:
    """The browser's own zone, as a suggestion."""
    own = st.context.timezone
    return zones.index(own) if own in zones else None
