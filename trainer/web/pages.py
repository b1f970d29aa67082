"""Every page of the app, as one table: its address, its file, its name and who sees it.

A new page is a file in ``views/`` and a line here, with its name under ``nav:`` in content/words. Hiding a page is not a
permission: each action asks who may.
"""

from __future__ import annotations

from dataclasses import dataclass

from trainer.actions.desk import COORDINATOR, DRILLER, HAND

__all__ = ["PAGES", "View", "first_page", "pages_of"]


@dataclass(frozen=True, slots=True)
class View:
    """One page: ``url`` is its address and its file's name, ``name`` its words key; a page not ``listed`` is reached by
    a link only, a ``wide`` one takes the whole width (tables) instead of a reader's."""

    url: str
    name: str
    roles: frozenset[str]
    listed: bool = True
    wide: bool = False


_ALL = frozenset({HAND, DRILLER, COORDINATOR})

PAGES: tuple[View, ...] = (View("card", "nav.card", _ALL),)
"""In the order of the bar; the first one that a role sees is its first page."""


def pages_of(role: str) -> tuple[View, ...]:
    """The pages that ``role`` sees, in the order of the bar."""
    return tuple(page for page in PAGES if role in page.roles)


def first_page(role: str) -> View:
    """Where ``role`` lands after signing in."""
    return pages_of(role)[0]
