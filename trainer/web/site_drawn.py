"""The site's figures on a page: those in force, what a file would change in words, and what to look at again."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import streamlit as st

from trainer.actions.siting import Preview
from trainer.core.records import Json
from trainer.core.sitechanges import Change, leaves
from trainer.errors import Problem
from trainer.web import people_told, site_problems, site_words
from trainer.web.door import Here
from trainer.web.plain import plain

__all__ = ["changed", "in_force", "is_about", "look_again", "remarks", "totals"]


def in_force(here: Here, data: Mapping[str, Json]) -> None:
    """Every figure by its part, in words."""
    for part, value in data.items():
        st.header(site_words.part(here, part), anchor=False)
        rows = [((part, *path), site_words.said(here, (part, *path), data)) for path, _ in leaves(value)]
        if len(rows) == 1 and rows[0][0] == (part,):
            st.markdown(plain(rows[0][1]))
        elif rows:
            head = f"{site_words.part(here, part)}{site_words.BETWEEN}"
            told = [(site_words.place(here, path, data).removeprefix(head), said) for path, said in rows]
            people_told.table(here, _heads(here, "place", "was"), told, f"site-{part}")


def remarks(here: Here, found: Sequence[Problem], data: Mapping[str, Json]) -> None:
    """What stops nothing and is about figures that do not change."""
    if found:
        st.warning(here.words.say("site_page.remarks"))
        site_problems.draw(here, found, "site-remarks", data)


def look_again(
    here: Here, changes: Sequence[Change], found: Sequence[Problem], was: Mapping[str, Json], now: Mapping[str, Json]
) -> None:
    """Each changed figure that a remark is about, in a box of its own, before anything can be pressed."""
    for each in changes:
        about = [remark for remark in found if is_about(remark, each)]
        if about:
            place = plain(site_words.place(here, each.path, now, was))
            pair = " → ".join(plain(site_words.said(here, each.path, figures)) for figures in (was, now))
            told = [plain(" ".join(site_problems.told(here, remark))) for remark in about]
            st.warning("  \n".join((here.words.say("site_page.look-again", place=place, pair=pair), *told)))


def is_about(remark: Problem, change: Change) -> bool:
    """Whether the remark is about what changes, or something inside it."""
    where = ".".join(change.path)
    return remark.where == where or remark.where.startswith((f"{where}.", f"{where}["))


def totals(here: Here, found: Preview, was: Mapping[str, Json]) -> None:
    """How much a file would change from the figures that ``was`` holds, and what speaks against it."""
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
        name = site_words.place(here, (f"{lost.what}s", lost.name), was).rpartition(site_words.BETWEEN)[2]
        st.error(words.say(f"site_page.lost-{lost.what}", name=plain(name), people=people))
    if not found.keeps_office:
        st.error(words.say("error.site-no-office"))


def changed(here: Here, found: Sequence[Change], was: Mapping[str, Json], now: Mapping[str, Json]) -> None:
    """Each figure that changes from ``was`` to ``now``: what stands there, and what would."""
    rows = (
        (site_words.place(here, each.path, now, was), *(site_words.said(here, each.path, side) for side in (was, now)))
        for each in found
    )
    people_told.table(here, _heads(here, "place", "was", "now"), rows, "site-changes")


def _heads(here: Here, *names: str) -> list[str]:
    return [here.words.say(f"site_page.head-{name}") for name in names]
