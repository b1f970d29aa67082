"""Signing in on a shared tablet: crew, name, PIN; or a one-use code and a PIN of one's own.

Drawn at every address where nobody is signed in. What was chosen so far is in the tab's session.
"""

from __future__ import annotations

from collections.abc import Mapping

import streamlit as st

from trainer import settings
from trainer.actions import signing_in
from trainer.web import door, session
from trainer.web.plain import plain
from trainer.web.press import press
from trainer.web.views import pin_steps
from trainer.web.views.pin_steps import go

__all__ = ["draw"]

People = Mapping[str, tuple[tuple[str, str], ...]]


def draw(visitor: door.Here) -> None:
    """The step that this tab has come to."""
    crews = signing_in.people_to_choose(visitor.desk)
    demo_pin = settings.read().demo_pin
    if demo_pin:
        st.info(visitor.words.say("sign_in.demo", pin=demo_pin))
    chosen = session.get()
    name = dict(pair for pairs in crews.values() for pair in pairs).get(chosen.hand)
    if name is not None:
        _prove(visitor, name)
    elif chosen.crew is not None and chosen.crew in crews and len(crews) > 1:
        _names(visitor, crews[chosen.crew])
    elif len(crews) == 1:
        _names(visitor, next(iter(crews.values())), is_only=True)
    else:
        _crews(visitor, crews)


def _notice(visitor: door.Here) -> None:
    if session.get().notice:
        st.info(visitor.words.say(session.get().notice))


def _crews(visitor: door.Here, crews: People) -> None:
    words, known = visitor.words, visitor.desk.catalogue.site.crews
    st.title(words.say("sign_in.crew-title"), anchor=False)
    _notice(visitor)
    if not crews:
        st.info(words.say("sign_in.nobody"))
    with st.container(key="tiles"):
        # Crews first; the office, which has none, comes last.
        for crew in sorted(crews, key=lambda each: (not each, each)):
            title = known[crew].title if crew in known else None
            label = words.pick(title) if title else crew or words.say("sign_in.no-crew")
            count = words.count("sign_in.crew-people", len(crews[crew]))
            if press(f"{plain(label)} :small[{plain(count)}]", f"crew-{crew}"):
                go(crew=crew)


def _names(visitor: door.Here, people: tuple[tuple[str, str], ...], *, is_only: bool = False) -> None:
    st.title(visitor.words.say("sign_in.name-title"), anchor=False)
    _notice(visitor)
    with st.container(key="tiles"):
        for hand, name in people:
            if press(plain(name), f"name-{hand}"):
                go(hand=hand, step="pin")
    if not is_only and press(visitor.words.say("sign_in.other-crew"), "other-crew", kind="tertiary", wide=False):
        go(crew=None)


def _prove(visitor: door.Here, name: str) -> None:
    words, step = visitor.words, session.get().step
    st.title(words.say("sign_in.pin-title", name=plain(name)), anchor=False)
    _notice(visitor)
    match step:
        case "code":
            pin_steps.ask_code(visitor)
        case "new" | "again":
            pin_steps.ask_new(visitor, step)
        case _:
            pin_steps.ask_pin(visitor)
    if press(words.say("sign_in.other-name"), "other-name", kind="tertiary", wide=False):
        go(hand="", step="", code="", first="")
