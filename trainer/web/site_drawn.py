"""The site's figures on a page: those in force, what a file would change in words, and what is wrong with one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import streamlit as st

from trainer.actions.siting import Preview
from trainer.core.records import Json
from trainer.core.sitechanges import Change, leaves
from trainer.errors import Problem
from trainer.web import people_told, site_words
from trainer.web.door import Here
from trainer.web.plain import plain

__all__ = ["changed", "in_force", "problems", "totals"]


def in_force(here: Here, data: Mapping[str, Json]) -> None:
    """Every figure by its part, in words."""
    for part, value in data.items():
        st.header(site_words.part(here, part), anchor=False)
        rows = [(path, site_words.value(here, said)) for path, said in leaves(value)]
        if len(rows) == 1 and not rows[0][0]:
            st.markdown(plain(rows[0][1]))
        elif rows:
            head = f"{site_words.part(here, part)}{site_words.BETWEEN}"
            told = [(site_words.place(here, (part, *path), data).removeprefix(head), said) for path, said in rows]
            people_told.table(here, _heads(here, "place", "was"), told, f"site-{part}")


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


def changed(here: Here, found: Sequence[Change], was: Mapping[str, Json], now: Mapping[str, Json]) -> None:
    """Each figure that changes from ``was`` to ``now``: what stands there, and what would."""
    rows = (
        (site_words.place(here, each.path, now, was), _said(here, each.was), _said(here, each.now)) for each in found
    )
    people_told.table(here, _heads(here, "place", "was", "now"), rows, "site-changes")


def _said(here: Here, figure: str | None) -> str:
    return here.words.say("site_page.nothing") if figure is None else site_words.value(here, figure)


def _heads(here: Here, *names: str) -> list[str]:
    return [here.words.say(f"site_page.head-{name}") for name in names]
