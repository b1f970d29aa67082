"""Signing in on a shared tablet: crew, name, PIN; or a one-use code and a PIN of one's own.

Drawn at every address where nobody is signed in. What was chosen so far is in the tab's session.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import replace

import streamlit as st

from trainer.actions import pin_rules, signing_in
from trainer.errors import TrainerError
from trainer.web import door, session
from trainer.web.parts import keypad
from trainer.web.plain import plain
from trainer.web.press import press

__all__ = ["draw"]

People = Mapping[str, tuple[tuple[str, str], ...]]


def draw(visitor: door.Here) -> None:
    """The step that this tab has come to."""
    crews = signing_in.people_to_choose(visitor.desk)
    chosen = session.get()
    name = dict(pair for pairs in crews.values() for pair in pairs).get(chosen.hand)
    with st.container(key="narrow"):
        if name is not None:
            _prove(visitor, name)
        elif chosen.crew in crews and len(crews) > 1:
            _names(visitor, crews[chosen.crew])
        elif len(crews) == 1:
            _names(visitor, next(iter(crews.values())), is_only=True)
        else:
            _crews(visitor, crews)


def _go(**to: str | None) -> None:
    """Go to another step of this page."""
    session.put(replace(session.get(), **{"notice": "", "problem": "", **to}))  # type: ignore[arg-type]
    st.rerun()


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
                _go(crew=crew)


def _names(visitor: door.Here, people: tuple[tuple[str, str], ...], *, is_only: bool = False) -> None:
    st.title(visitor.words.say("sign_in.name-title"), anchor=False)
    _notice(visitor)
    with st.container(key="tiles"):
        for hand, name in people:
            if press(plain(name), f"name-{hand}"):
                _go(hand=hand, step="pin")
    if not is_only and press(visitor.words.say("sign_in.other-crew"), "other-crew", kind="tertiary", wide=False):
        _go(crew=None)


def _prove(visitor: door.Here, name: str) -> None:
    words, step = visitor.words, session.get().step
    st.title(words.say("sign_in.pin-title", name=plain(name)), anchor=False)
    _notice(visitor)
    match step:
        case "code":
            _ask_code(visitor)
        case "new" | "again":
            _ask_new(visitor, step)
        case _:
            _ask_pin(visitor)
    if press(words.say("sign_in.other-name"), "other-name", kind="tertiary", wide=False):
        _go(hand="", step="", code="", first="")


def _ask_pin(visitor: door.Here) -> None:
    words, hand = visitor.words, session.get().hand
    pin = keypad(
        words.say("sign_in.pin-label"), words=words, key="pin", enter=words.say("sign_in.pin-enter"),
        problem=session.get().problem,
    )  # fmt: skip
    if pin is not None:
        try:
            opened = signing_in.sign_in(visitor.desk, hand, pin, door.device())
        except TrainerError as error:
            _go(problem=words.error(error))
        door.enter(opened)
        st.rerun()
    with st.container(key="first-time"):
        if press(words.say("sign_in.first-time"), "have-code", kind="tertiary", wide=False):
            _go(step="code")


def _ask_code(visitor: door.Here) -> None:
    words = visitor.words
    st.markdown(words.say("sign_in.first-text"))
    code = keypad(
        words.say("sign_in.code-label"), words=words, key="code", enter=words.say("sign_in.code-enter"),
        problem=session.get().problem, plain=True,
    )  # fmt: skip
    if code is not None:
        _go(step="new", code=code)
    if press(words.say("sign_in.have-pin"), "have-pin", kind="tertiary", wide=False):
        _go(step="pin")


def _ask_new(visitor: door.Here, step: str) -> None:
    words, chosen = visitor.words, session.get()
    st.markdown(words.say("sign_in.new-text"))
    pin = keypad(
        words.say(f"sign_in.{step}-label"), words=words, key=step, enter=words.say(f"sign_in.{step}-enter"),
        problem=chosen.problem,
    )  # fmt: skip
    if pin is None:
        return
    try:
        pin_rules.require_good(pin, chosen.hand)
        if step == "new":
            _go(step="again", first=_print_of(pin, chosen.code))
        if _print_of(pin, chosen.code) != chosen.first:
            _go(step="new", first="", problem=words.say("sign_in.not-same"))
        opened = signing_in.first_pin(visitor.desk, chosen.hand, chosen.code, pin, door.device())
    except TrainerError as error:
        is_code = error.code == "code-wrong"
        _go(step="code" if is_code else "new", first="", problem=words.error(error))
    door.enter(opened)
    st.rerun()


def _print_of(pin: str, code: str) -> str:
    """What the second entry is compared with, so that the PIN itself is not kept in between."""
    return hashlib.sha256(f"{code} {pin}".encode()).hexdigest()
