"""Everything that is kept for all tabs, and nowhere else: the open store and deeply immutable data, under small keys.

A new ledger head, another day or other content is another key, so nothing is ever cleared and nothing goes stale.
Arguments whose names begin with an underscore are not part of the key; whatever they hold is named by one that is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import replace
from datetime import date
from pathlib import Path

import streamlit as st
from streamlit.runtime.uploaded_file_manager import UploadedFile

from trainer import clock, curriculum, settings, words
from trainer.actions import importing, look, may, opening, signing_in
from trainer.actions.desk import Actor, Desk
from trainer.actions.importing import Preview
from trainer.core.catalogue import Catalogue, Site
from trainer.core.glossary import Glossary, sayers
from trainer.core.records import SiteFigures
from trainer.core.rows import ColumnSet, Table
from trainer.core.shown import Sheet
from trainer.core.standing import Matrix
from trainer.core.tasks import Picture
from trainer.core.text import DEFAULT_LANGUAGE
from trainer.curriculum import Loaded
from trainer.errors import BadContent, TrainerError
from trainer.pictures import Drawing, parse
from trainer.settings import Settings
from trainer.tables import UPLOAD_LIMIT, read_table
from trainer.web import newest, sheet_words
from trainer.web import pictured as picturing
from trainer.web.kept_columns import KeptColumns
from trainer.web.kept_last import KeptLast
from trainer.web.newest import Newest
from trainer.web.pictured import Pictured
from trainer.web.sheet_words import SheetDrawn
from trainer.words import Words

__all__ = [
    "all_words", "content", "desk", "drawing", "evidence_preview", "matrix", "newest_content", "part_name",
    "pictured", "sheet", "showing", "site_words", "uploaded", "visitor_desk",
]  # fmt: skip

_SHOWN: ContextVar[Newest | None] = ContextVar("shown", default=None)


@st.cache_resource(show_spinner=False, max_entries=4)
def _words(root: str, app_root: str) -> Mapping[str, Words]:
    return words.load(Path(root), Path(app_root))


@st.cache_resource(show_spinner=False, max_entries=4)
def _own_words(root: str, app_root: str, key: str, _glossary: Glossary) -> Mapping[str, Words]:
    say = sayers(_content(root, app_root).terms, _glossary)
    return words.in_own_words(_words(root, app_root), say, key)


@st.cache_resource(show_spinner=False, max_entries=4)
def _content(root: str, app_root: str) -> Loaded:
    loaded = curriculum.load(Path(root), Path(app_root))
    curriculum.refuse_problems(loaded, serving=False)
    return loaded


@st.cache_resource(show_spinner=False, max_entries=4)
def _newest(root: str, app_root: str, stamp: str) -> Newest:  # noqa: ARG001 - the key
    return newest.look(Path(root), Path(app_root))


@st.cache_resource(show_spinner=False, max_entries=64)
def _drawing(path: str) -> Drawing:
    return parse(Path(path).read_text(encoding="utf-8"))


@st.cache_resource(show_spinner=False, max_entries=256)
def _pictured(
    root: str,  # noqa: ARG001 - the key
    name: str,
    state: str,  # noqa: ARG001 - the key
    language: str,  # noqa: ARG001 - the key
    stamp: str,  # noqa: ARG001 - the key
    _picture: Picture,
    _words: Words,
) -> Pictured:
    return picturing.drawn(drawing(name), content().pictures[name], _picture, _words)


@st.cache_resource(show_spinner=False, max_entries=64)
def _sheet(state: str, root: str, language: str, _sheet: Sheet, _words: Words) -> SheetDrawn:  # noqa: ARG001 - the key
    return sheet_words.drawn(_sheet, _words)


@st.cache_resource(show_spinner=False, max_entries=4)
def _store(settings_text: str, _where: Settings) -> Desk:  # noqa: ARG001 - the key
    """A desk that holds the open store; only its store is ever used.

    Its key is the text of the settings: to work one out of their fields takes Streamlit longer than all else in a run.
    """
    return opening.open_desk(_where, _loader(_where), signing_in.nobody(), clock.now())


@st.cache_resource(show_spinner=False, max_entries=8)
def _catalogues(store_id: str, root: str) -> KeptLast[SiteFigures, Catalogue]:  # noqa: ARG001 - the key
    return KeptLast()


@st.cache_resource(show_spinner=False, max_entries=32)
def _matrix(store_id: str, heads: str, catalogue: str, as_of: date, _desk: Desk) -> Matrix:  # noqa: ARG001 - the key
    return _columns(store_id).matrix(_desk, as_of)


@st.cache_resource(show_spinner=False, max_entries=64)
def _crew_matrix(store_id: str, heads: str, catalogue: str, as_of: date, crew: str, _desk: Desk) -> Matrix:  # noqa: ARG001 - the key
    return look.crew_matrix(_desk, crew, as_of)


@st.cache_resource(show_spinner=False, max_entries=4)
def _uploads(store_id: str) -> KeptLast[tuple[str, ColumnSet], Table]:  # noqa: ARG001 - the key
    return KeptLast()


@st.cache_resource(show_spinner=False, max_entries=4)
def _previews(store_id: str) -> KeptLast[tuple[object, ...], Preview]:  # noqa: ARG001 - the key
    return KeptLast()


@st.cache_resource(show_spinner=False, max_entries=4)
def _columns(store_id: str) -> KeptColumns:  # noqa: ARG001 - the key
    return KeptColumns()


def all_words() -> Mapping[str, Words]:
    """The sentences of every language, English first."""
    where = settings.read()
    return _words(str(where.root), str(where.app_root))


def site_words() -> Mapping[str, Words]:
    """The sentences of each language that the site offers, in the words that it uses, once there is a site.

    English, behind which nothing else is left, comes first in any case.
    """
    site = _site()
    if site is None:
        return all_words()
    where = settings.read()
    every = _own_words(str(where.root), str(where.app_root), repr(site.glossary), site.glossary)
    return {code: each for code, each in every.items() if code in (DEFAULT_LANGUAGE, *site.languages)}


def _site() -> Site | None:
    """The site's figures, or before there is a site the template's; ``None`` where neither can be read."""
    try:
        return visitor_desk().catalogue.site
    except TrainerError:  # whoever asks next says so, in the usual words
        pass
    try:
        return content().site
    except BadContent:
        return None


def content() -> Loaded:
    """What the content folder holds, or within ``showing`` what that shows. Raises ``BadContent``."""
    shown = _SHOWN.get()
    if shown is not None:
        return shown.loaded
    where = settings.read()
    return _content(str(where.root), str(where.app_root))


def newest_content(before: str) -> Newest:
    """What the content folder holds at this moment, every problem of it looked for; ``before`` is what was shown.

    Where it cannot be used, the content under the stamp ``before`` is what is shown on, or that which the app runs on.
    """
    where = settings.read()
    root, app_root = str(where.root), str(where.app_root)
    found = _newest(root, app_root, newest.stamp_of(where.root, where.app_root))
    if found.is_sound:
        return found
    # What is not kept under its stamp any more is read anew, and then has the stamp of what is there now.
    old = _newest(root, app_root, before) if before else found
    return newest.instead(found, old if old.is_sound and old.stamp == before else None, content())


@contextmanager
def showing(shown: Newest) -> Iterator[None]:
    """Have drawings and their words come from ``shown`` inside, and not from the content that the app runs on."""
    before = _SHOWN.set(shown)
    try:
        yield
    finally:
        _SHOWN.reset(before)


def _stamp() -> str:
    """Which content is shown; empty for that which the app runs on."""
    shown = _SHOWN.get()
    return shown.stamp if shown is not None else ""


def drawing(name: str) -> Drawing:
    """The drawing called ``name``, parsed. Raises ``ValueError`` when it may not be shown."""
    shown = _SHOWN.get()
    if shown is not None and name in shown.drawings:
        return shown.drawings[name]
    return _drawing(str(content().asset(f"assets/pictures/{name}.svg")))


def pictured(picture: Picture, words: Words) -> Pictured:
    """``picture`` drawn, with its words in the language of ``words``. Raises ``ValueError`` for an unknown part."""
    state = picturing.state_of(picture)
    spoken = words.language + words.own_key
    return _pictured(str(settings.read().root), picture.name, state, spoken, _stamp(), picture, words)


def sheet(given: Sheet, words: Words) -> SheetDrawn:
    """``given`` drawn, with its words in the language of ``words``."""
    return _sheet(sheet_words.state_of(given), str(settings.read().root), words.language, given, words)


def part_name(name: str, part: str, words: Words) -> str:
    """What ``part`` of the drawing called ``name`` is called in the language of ``words``."""
    return picturing.name_of(content().pictures[name].parts, part, words)


def desk(actor: Actor) -> Desk:
    """A desk for ``actor`` at this moment, on the one open store.

    Raises ``StoreMissing`` and its kin, ``BadContent``.
    """
    where = settings.read()
    held = _store(repr(where), where)
    store = held.store
    figures = store.site_figures()
    # The store hands out the same object until another site record is written, so that the two are quickly compared.
    catalogue = _catalogues(store.store_id, str(where.root)).of(figures, lambda: _loader(where)(figures))
    return replace(held, catalogue=catalogue, now=clock.now(), actor=actor)


def visitor_desk() -> Desk:
    """A desk for somebody not signed in, who may do nothing."""
    return desk(signing_in.nobody())


def matrix(here: Desk, as_of: date | None = None, crew: str = "") -> Matrix:
    """The standing of everybody, or of one crew, on ``as_of`` (today when not given), worked out once for each ledger
    head and day. Of everybody, what was read for the head before is read on from there."""
    day = as_of or here.today
    # Asked by role before the cache is: a hit must not show what a fresh reading would refuse.
    may.require(here, "look.matrix")
    key = here.store.store_id, here.store.heads_digest(), here.catalogue.hash, day
    return _crew_matrix(*key, crew, here) if crew else _matrix(*key, here)


def uploaded(here: Desk, file: UploadedFile, columns: ColumnSet) -> Table:
    """The table in ``file``, read once for all runs of the page. Raises ``BadInput``, ``BadTable``."""
    key = file.file_id, columns
    return _uploads(here.store.store_id).of(key, lambda: read_table(file.getvalue(), columns, UPLOAD_LIMIT))


def evidence_preview(here: Desk, table: Table, told: importing.Told) -> Preview:
    """What taking in ``table`` would do, worked out again only when the ledger, the people or the day are others."""
    may.require(here, "importing.preview_evidence")
    # Names stand beside the ledger, whose head says nothing of them.
    names = tuple(sorted(look.names(here).items()))
    key = table.rows, here.store.heads_digest(), here.catalogue.hash, here.today, names
    return _previews(here.store.store_id).of(key, lambda: importing.preview_evidence(here, table.rows, told))


def _loader(where: Settings) -> Callable[[SiteFigures], Catalogue]:
    def load(figures: SiteFigures) -> Catalogue:
        return curriculum.catalogue(_content(str(where.root), str(where.app_root)), curriculum.site_from(figures.site))

    return load
