"""Opening the store and making the desk that every action takes: the door to the store for screens and commands."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import TypeAlias

import uuid6

from trainer.actions.desk import Actor, Desk
from trainer.core.catalogue import Catalogue
from trainer.core.records import SiteFigures
from trainer.settings import Settings
from trainer.store import Head, Store, open_store

__all__ = ["CatalogueLoader", "Head", "new_id", "open_desk", "open_site"]

CatalogueLoader: TypeAlias = Callable[[SiteFigures], Catalogue]
"""Makes the catalogue from the figures of the site's last ``site`` record."""


def new_id() -> str:
    """A new record id: a UUIDv7, each later than the one before it in this process."""
    return str(uuid6.uuid7())


def open_site(settings: Settings) -> Store:
    """The store of the site in the data folder, to be kept open and shared by threads; close it at the end.

    Raises ``StoreMissing``, ``StoreNewer``, ``StoreDamaged``, ``StoreUnavailable``.
    """
    return open_store(settings)


def open_desk(
    settings: Settings,
    catalogue_loader: CatalogueLoader,
    actor: Actor,
    now: datetime,
    new_id: Callable[[], str] = new_id,
) -> Desk:
    """A desk on a store opened for it; close ``desk.store`` at the end. Raises as ``open_site`` and the loader do."""
    store = open_store(settings)
    try:
        return Desk(store, catalogue_loader(store.site_figures()), now, new_id, actor)
    except BaseException:
        store.close()
        raise
