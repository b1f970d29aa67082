"""The last steps of signing in: a PIN, or a one-use code and a new PIN twice. Called by ``sign_in``."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from typing import NoReturn

import streamlit as st

from trainer.actions import pin_rules, signing_in
from trainer.errors import TrainerError
from trainer.web import door, session
from trainer.web.parts import keypad
from trainer.web.press import press

__all__ = ["ask_code", "ask_new", "ask_pin", "go"]


def go(**to: str | None) -> NoReturn:
    """Go to another step of the sign-in page; call it last."""
    session.put(replace(session.get(), **{"notice": "", "problem": "", **to}))  # type: ignore[arg-type]
    st.rerun()


def ask_pin(visitor: door.Here) -> None:
    """The keypad for the PIN, and the way to a first one."""
    words, hand = visitor.words, session.get().hand
    pin = keypad(
        words.say("sign_in.pin-label"), words=words, key="pin", enter=words.say("sign_in.pin-enter"),
        problem=session.get().problem,
    )  # fmt: skip
    if pin is not None:
        try:
            opened = signing_in.sign_in(visitor.desk, hand, pin, door.device())
        except TrainerError as error:
            go(problem=words.error(error))
        door.enter(opened)
        st.rerun()
    with st.container(key="first-time"):
        if press(words.say("sign_in.first-time"), "have-code", kind="tertiary", wide=False):
            go(step="code")


def ask_code(visitor: door.Here) -> None:
    """The keypad for a one-use code; whether it fits is known once the PIN is chosen."""
    words = visitor.words
    st.markdown(words.say("sign_in.first-text"))
    code = keypad(
        words.say("sign_in.code-label"), words=words, key="code", enter=words.say("sign_in.code-enter"),
        problem=session.get().problem, plain=True,
    )  # fmt: skip
    if code is not None:
        go(step="new", code=code)
    if press(words.say("sign_in.have-pin"), "have-pin", kind="tertiary", wide=False):
        go(step="pin")


def ask_new(visitor: door.Here, step: str) -> None:
    """The keypad for a PIN of one's own, twice: ``step`` is ``new``, then ``again``."""
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
            go(step="again", first=_print_of(pin, chosen.code))
        if _print_of(pin, chosen.code) != chosen.first:
            go(step="new", first="", problem=words.say("sign_in.not-same"))
        opened = signing_in.first_pin(visitor.desk, chosen.hand, chosen.code, pin, door.device())
    except TrainerError as error:
        is_code = error.code == "code-wrong"
        go(step="code" if is_code else "new", first="", problem=words.error(error))
    door.enter(opened)
    st.rerun()


def _print_of(pin: str, code: str) -> str:
    """What the second entry is compared with, so that the PIN itself is not kept in between."""
    return hashlib.sha256(f"{code} {pin}".encode()).hexdigest()
