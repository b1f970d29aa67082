"""What is wrong in a site's file, in the language on screen: one entry each, narrow enough for a phone."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

import streamlit as st

from trainer.core.records import Json
from trainer.curriculum.causes import CAUSES, GOT, REMEDIES, Cause, cause_of
from trainer.errors import Problem
from trainer.web import site_words
from trainer.web.door import Here
from trainer.web.plain import plain

__all__ = ["draw", "told", "where"]

_OFFICE = "{role: coordinator}"
_LENGTH = re.compile(r"P(?:\d+[YMWD])+")
_LOAD = re.compile(r"([0-9]+) kN")
_FIGURES = ("low", "high")


def draw(here: Here, found: Iterable[Problem], key: str, figures: Mapping[str, Json]) -> None:
    """Each problem with its line, its place in words and what to do; ``figures`` are those in force, for titles."""
    with st.container(key=f"problems-{key}"):
        for each in found:
            place = plain(where(here, each, figures))
            head = here.words.say("site_said.line", line=each.line, place=place)
            st.markdown("  \n".join((head, *map(plain, told(here, each)))))


def where(here: Here, problem: Problem, figures: Mapping[str, Json]) -> str:
    """The place of a problem as the page calls it."""
    path = re.findall(r"[^.\[\]]+", problem.where)
    if problem.where == "file" or not path:
        return here.words.say("site_said.file")
    return site_words.place(here, path, figures)


def told(here: Here, problem: Problem) -> tuple[str, str]:
    """What is wrong and what to do, each a sentence; as the command line says it where no words are known."""
    what, todo = cause_of(problem.what, CAUSES), cause_of(problem.todo, REMEDIES)
    return (
        _sentence(_said(here, "what", what) if what else problem.what),
        _sentence(_said(here, "todo", todo) if todo else problem.todo),
    )


def _said(here: Here, half: str, cause: Cause) -> str:
    values = {name: _value(here, name, value, cause.code) for name, value in cause.values.items()}
    return here.words.say(f"site_said.{half}-{cause.code}", office=_OFFICE, **values)


def _value(here: Here, name: str, value: str, code: str) -> str:
    if code in ("bounds", "unusual") and name in ("got", *_FIGURES):
        load = _LOAD.fullmatch(value)
        return site_words.load(here, int(load[1])) if load else site_words.value(here, value)
    if name == "got":
        found = cause_of(value, GOT)
        return here.words.say(f"site_said.got-{found.code}", **found.values) if found else value
    if name == "kind":
        known = f"site_said.kind-{value.replace(' ', '-')}"
        return here.words.say(known) if here.words.has(known) else value
    # What to write stays as it is to be written, with its meaning behind it.
    return f"{value} ({site_words.value(here, value)})" if _LENGTH.fullmatch(value) else value


def _sentence(said: str) -> str:
    said = said[:1].upper() + said[1:]
    return said if said.endswith(("?", ".", ":")) else f"{said}."
