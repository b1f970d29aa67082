"""One person: the one-use code, name and language, crew and position, the last day; and the form for somebody new."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import timedelta
from functools import partial

import streamlit as st

from trainer.actions import people, signing_in
from trainer.actions.desk import COORDINATOR
from trainer.actions.people import Listed
from trainer.errors import TrainerError
from trainer.web import firstdays_drawn, people_told, place, prints, titles, wording
from trainer.web.door import Here
from trainer.web.plain import plain
from trainer.web.press import press, submit

__all__ = ["add", "draw"]

_LONGEST_NAME = 100
_LONGEST_HAND = 32


def draw(here: Here, person: Listed) -> None:
    """Everything the office does for this person, each thing in its own form."""
    words, today = here.words, here.desk.today
    st.title(plain(person.name), anchor=False)
    people_told.notice()
    st.markdown("  \n".join(_told(here, person)))
    people_told.pin(here, person)
    if not person.is_here(today):
        is_to_come = person.joined is not None and person.joined > today
        st.info(words.say("people.not-here-yet" if is_to_come else "people.come-back"))
    else:
        _code(here, person)
    if person.left is None or person.left >= today:
        prints.orientation_sheet(here, person)
        _move(here, person)
        if person.left is None:
            _leave(here, person)
    _rename(here, person)
    # Last, because it is long: what the office changes stands before it.
    firstdays_drawn.draw(here, person.hand, has_sheet=False)


def add(here: Here) -> None:
    """Somebody new; afterwards their page, where the code is."""
    words, site = here.words, here.desk.catalogue.site
    st.title(words.say("people.add"), anchor=False)
    st.markdown(words.say("people.add-text"))
    with st.form("add-person", border=False):
        hand = st.text_input(words.say("people.hand-id"), key="add-hand", max_chars=_LONGEST_HAND, autocomplete="off")
        name = st.text_input(words.say("people.name"), key="add-name", max_chars=_LONGEST_NAME, autocomplete="off")
        position = _choice(here, "position", list(site.ladder()), "", "add", partial(titles.position, here))
        crew = _crew_of_new(here)
        joined = st.date_input(words.say("people.joined"), here.desk.today, format="YYYY-MM-DD", key="add-joined")
        language = _choice(here, "language", list(site.languages), site.languages[0], "add", people_told.language)
        is_sent = submit(words.say("people.add-go"), "add-go")
    if not is_sent:
        return
    if crew is None and _has_crew(here, position):
        st.error(words.say("people.crew-unsaid"))
        return
    try:
        people.add_person(here.desk, hand.strip(), name, position, crew or "", joined or None, language)
    except TrainerError as error:
        people_told.refusal(here, error)
        return
    people_told.keep_notice(words.say("people.added", name=plain(name)))
    place.put(do=None, hand=hand.strip())
    st.rerun()


def _crew_of_new(here: Here) -> str | None:
    """The crew chosen, empty for none; ``None`` before a choice: who is in no crew by oversight has no hitch either."""
    words, crews = here.words, here.desk.catalogue.site.crews
    chosen = st.selectbox(
        words.say("people.crew"), [*crews, ""], index=None, placeholder=words.say("people.choose"), filter_mode=None,
        format_func=lambda each: titles.crew(here, each) if each else words.say("people.without-crew"),
        key=f"crew-add-{here.language}",
    )  # fmt: skip
    return None if chosen is None else str(chosen)


def _has_crew(here: Here, position: str) -> bool:
    """Whether somebody in ``position`` is asked for a crew: nobody is before it is chosen, nor a coordinator at all."""
    found = here.desk.catalogue.site.position(position)
    return found is not None and found.role != COORDINATOR


def _told(here: Here, person: Listed) -> list[str]:
    words = here.words
    place_and_language = (titles.place(here, person.position, person.crew), people_told.language(person.language))
    lines = [plain(", ".join(place_and_language)), words.say("people.known-as", hand=plain(person.hand))]
    if person.joined is not None:
        lines.append(words.say("people.since", day=people_told.day(here, person.joined)))
    if person.left is not None:
        lines.append(words.say("people.until", day=people_told.day(here, person.left)))
    return lines


def _code(here: Here, person: Listed) -> None:
    """A one-use code, shown in the one run in which it was made; it is kept nowhere."""
    words = here.words
    st.header(words.say("people.code-title"), anchor=False)
    if person.hand == here.actor.hand:
        st.markdown(words.say("people.code-own"))
        st.code(f"python3 -m trainer pin {person.hand}", language=None, wrap_lines=True)
        return
    st.markdown(words.say("people.code-text"))
    if press(words.say("people.code-go"), f"code-{person.hand}", kind="primary", stays=True, wide=False):
        code = signing_in.new_code(here.desk, person.hand)
        until = here.desk.now + timedelta(seconds=signing_in.CODE_SECONDS)
        with st.container(key="code-shown", border=True):
            st.markdown(f"{code[:4]} {code[4:]}")
        moment = plain(wording.moment(until, here.desk.store.tz, words))
        st.markdown(words.say("people.code-shown", moment=moment, name=plain(person.name)))
    if person.has_pin and press(words.say("people.sign-out"), f"out-{person.hand}", kind="tertiary", wide=False):
        signing_in.sign_out_person(here.desk, person.hand)
        st.success(words.say("people.signed-out", name=plain(person.name)))


def _move(here: Here, person: Listed) -> None:
    words, site = here.words, here.desk.catalogue.site
    st.header(words.say("people.move-title"), anchor=False)
    st.markdown(words.say("people.move-text"))
    with st.form(f"move-{person.hand}", border=False):
        positions = list(site.ladder())
        position = _choice(here, "position", positions, person.position, person.hand, partial(titles.position, here))
        crew = _choice(here, "crew", ["", *site.crews], person.crew, person.hand, partial(titles.crew, here))
        is_sent = submit(words.say("people.move-go"), f"move-go-{person.hand}", kind="secondary")
    if is_sent:
        said = words.say("people.moved", name=plain(person.name))
        _do(here, lambda: people.move(here.desk, person.hand, crew, position), said)


def _leave(here: Here, person: Listed) -> None:
    words = here.words
    st.header(words.say("people.leave-title"), anchor=False)
    st.markdown(words.say("people.leave-text"))
    with st.form(f"leave-{person.hand}", border=False):
        last = st.date_input(words.say("people.last-day"), None, format="YYYY-MM-DD", key=f"last-day-{person.hand}")
        is_sent = submit(words.say("people.leave-go"), f"leave-go-{person.hand}", kind="secondary")
    if is_sent and last is None:
        st.error(words.say("people.no-day"))
    elif is_sent and last is not None:
        said = words.say("people.leaves", name=plain(person.name), day=people_told.day(here, last))
        _do(here, lambda: people.leave(here.desk, person.hand, last), said)


def _rename(here: Here, person: Listed) -> None:
    words, site = here.words, here.desk.catalogue.site
    st.header(words.say("people.rename-title"), anchor=False)
    with st.form(f"rename-{person.hand}", border=False):
        name = st.text_input(
            words.say("people.name"), person.name, key=f"name-{person.hand}", max_chars=_LONGEST_NAME,
            autocomplete="off",
        )  # fmt: skip
        languages = list(site.languages)
        language = _choice(here, "language", languages, person.language, person.hand, people_told.language)
        is_sent = submit(words.say("common.save"), f"rename-go-{person.hand}", kind="secondary")
    if is_sent:
        said = words.say("people.renamed", name=plain(name))
        _do(here, lambda: people.rename(here.desk, person.hand, name, language), said)


def _do(here: Here, action: Callable[[], None], said: str) -> None:
    """Do it and show the page as it then is, or say what was refused."""
    try:
        action()
    except TrainerError as error:
        people_told.refusal(here, error)
        return
    people_told.keep_notice(said)
    st.rerun()


def _choice(here: Here, name: str, options: Sequence[str], now: str, form: str, title: Callable[[str], str]) -> str:
    listed = list(options) if now in options or not now else [*options, now]
    index = listed.index(now) if now in listed else None
    chosen = st.selectbox(
        here.words.say(f"people.{name}"), listed, index=index, format_func=title,
        key=f"{name}-{form}-{here.language}", placeholder=here.words.say("people.choose"), filter_mode=None,
    )  # fmt: skip
    return chosen or ""
