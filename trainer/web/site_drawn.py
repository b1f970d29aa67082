"""The site's figures on a page: those in force, what a file would change in words, and what is wrong with one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import streamlit as st

from trainer.actions.siting import Preview
from trainer.core.records import Json
from trainer.core.sitechanges import Change, leaves
from trainer.errors import Problem
from trainer.web import people_told
from trainer.web.door import Here
from trainer.web.plain import plain

__all__ = ["changed", "in_force", "problems", "totals"]

_BETWEEN = " › "


def in_force(here: Here, data: Mapping[str, Json]) -> None:
    """Every figure by its part, as the file names it."""
    for part, value in data.items():
        st.header(_part(here, part), anchor=False)
        rows = [(_BETWEEN.join(path), said) for path, said in leaves(value)]
        if len(rows) == 1 and not rows[0][0]:
            st.markdown(plain(rows[0][1]))
        elif rows:
            people_told.table(here, _heads(here, "place", "was"), rows, f"site-{part}")


def problems(here: Here, found: Iterable[Problem], key: str) -> None:
    """Each problem of a file with its line and what to do; they are in English, as the command line says them."""
    rows = ((str(each.line), each.where, each.what, each.todo) for each in found)
    people_told.table(here, _heads(here, "line", "where", "what", "todo"), rows, key)


def totals(here: Here, found: Preview) -> None:
    """How much a file would change, and what speaks against it."""
    words, told = here.words, found.standings
    said = [words.count("site_page.changes", len(found.changes))]
    said += [
        words.count(f"site_page.{name}", count)
        for name, count in (("changed", told.changed), ("new", told.new), ("gone", told.gone), ("hands", told.hands))
        if count
    ]
    if not told.hands:
        said.append(words.say("site_page.no-standing"))
    st.markdown(" · ".join(said))
    for lost in found.lost:
        people = words.count("site_page.people", lost.people)
        st.error(words.say(f"site_page.lost-{lost.what}", name=plain(lost.name), people=people))
    if not found.keeps_office:
        st.error(words.say("error.site-no-office"))


def changed(here: Here, found: Sequence[Change]) -> None:
    """Each figure that changes: what stands there now, and what would."""
    nothing = here.words.say("site_page.nothing")
    rows = (
        (
            _BETWEEN.join((_part(here, each.path[0]), *each.path[1:])),
            nothing if each.was is None else each.was,
            nothing if each.now is None else each.now,
        )
        for each in found
    )
    people_told.table(here, _heads(here, "place", "was", "now"), rows, "site-changes")


def _heads(here: Here, *names: str) -> list[str]:
    return [here.words.say(f"site_page.head-{name}") for name in names]


def _part(here: Here, part: str) -> str:
    key = f"site_page.part-{part}"
    return here.words.say(key) if here.words.has(key) else part
