"""Everything that is kept for all tabs, and nowhere else: the open store and deeply immutable data, under small keys.

A new ledger head, another day or other content is another key, so nothing is ever cleared and nothing goes stale.
Arguments whose names begin with an underscore are not part of the key; whatever they hold is named by one that is.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

import streamlit as st

from trainer import clock, curriculum, settings, words
from trainer.actions import look, may, opening, signing_in
from trainer.actions.desk import Actor, Desk
from trainer.core.catalogue import Catalogue
from trainer.core.glossary import Glossary, sayers
from trainer.core.records import SiteFigures
from trainer.core.shown import Sheet
from trainer.core.standing import Matrix
from trainer.core.tasks import Picture
from trainer.curriculum import Loaded
from trainer.errors import TrainerError
from trainer.pictures import Drawing, parse
from trainer.settings import Settings
from trainer.web import pictured as picturing
from trainer.web import sheet_words
from trainer.web.pictured import Pictured
from trainer.web.sheet_words import SheetDrawn
from trainer.words import Words

__all__ = [
    "all_words", "content", "desk", "drawing", "matrix", "part_name", "pictured", "sheet", "site_words", "visitor_desk",
]  # fmt: skip


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


@st.cache_resource(show_spinner=False, max_entries=64)
def _drawing(path: str) -> Drawing:
    return parse(Path(path).read_text(encoding="utf-8"))


@st.cache_resource(show_spinner=False, max_entries=256)
def _pictured(root: str, name: str, state: str, language: str, _picture: Picture, _words: Words) -> Pictured:  # noqa: ARG001 - the key
    return picturing.drawn(drawing(name), content().pictures[name], _picture, _words)


@st.cache_resource(show_spinner=False, max_entries=64)
def _sheet(state: str, root: str, language: str, _sheet: Sheet, _words: Words) -> SheetDrawn:  # noqa: ARG001 - the key
    return sheet_words.drawn(_sheet, _words)


@st.cache_resource(show_spinner=False, max_entries=4)
def _store(where: Settings) -> Desk:
    """A desk that holds the open store; only its store is ever used."""
    return opening.open_desk(where, _loader(where), signing_in.nobody(), clock.now())


@st.cache_resource(show_spinner=False, max_entries=8)
def _catalogue(store_id: str, root: str, figures: int, _where: Settings, _figures: SiteFigures) -> Catalogue:  # noqa: ARG001 - the key
    return _loader(_where)(_figures)


@st.cache_resource(show_spinner=False, max_entries=32)
def _matrix(store_id: str, heads: str, catalogue: str, as_of: date, _desk: Desk) -> Matrix:  # noqa: ARG001 - the key
    return look.matrix(_desk, as_of)


def all_words() -> Mapping[str, Words]:
    """The sentences of every language, English first."""
    where = settings.read()
    return _words(str(where.root), str(where.app_root))


def site_words() -> Mapping[str, Words]:
    """The sentences of every language in the words that the site itself uses, once there is a site."""
    try:
        glossary = visitor_desk().catalogue.site.glossary
    except TrainerError:  # no site yet, or one that cannot be opened: whoever asks next says so, in the usual words
        return all_words()
    where = settings.read()
    return _own_words(str(where.root), str(where.app_root), repr(glossary), glossary) if glossary else all_words()


def content() -> Loaded:
    """What the content folder holds. Raises ``BadContent``."""
    where = settings.read()
    return _content(str(where.root), str(where.app_root))


def drawing(name: str) -> Drawing:
    """The drawing called ``name``, parsed. Raises ``ValueError`` when it may not be shown."""
    return _drawing(str(content().asset(f"assets/pictures/{name}.svg")))


def pictured(picture: Picture, words: Words) -> Pictured:
    """``picture`` drawn, with its words in the language of ``words``. Raises ``ValueError`` for an unknown part."""
    state = picturing.state_of(picture)
    return _pictured(str(settings.read().root), picture.name, state, words.language + words.own_key, picture, words)


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
    store = _store(where).store
    figures = store.site_figures()
    # The store hands out the same object until another site record is written, so its identity is its key.
    catalogue = _catalogue(store.store_id, str(where.root), id(figures), where, figures)
    return replace(_store(where), catalogue=catalogue, now=clock.now(), actor=actor)


def visitor_desk() -> Desk:
    """A desk for somebody not signed in, who may do nothing."""
    return desk(signing_in.nobody())


def matrix(here: Desk, as_of: date | None = None) -> Matrix:
    """Everybody's standing on ``as_of`` (today when not given), worked out once for each ledger head and day."""
    day = as_of or here.today
    # Asked by role before the cache is: a hit must not show what a fresh reading would refuse.
    may.require(here, "look.matrix")
    return _matrix(here.store.store_id, here.store.heads_digest(), here.catalogue.hash, day, here)


def _loader(where: Settings) -> Callable[[SiteFigures], Catalogue]:
    def load(figures: SiteFigures) -> Catalogue:
        return curriculum.catalogue(_content(str(where.root), str(where.app_root)), curriculum.site_from(figures.site))

    return load
