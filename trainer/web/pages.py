"""Every page of the app, as one table: its address, its file, its name and who sees it.

A new page is a file in ``views/`` and a line here, with its name under ``nav:`` in content/words. Hiding a page is not
a permission: each action asks who may.
"""

from __future__ import annotations

from dataclasses import dataclass

from trainer.actions.desk import COORDINATOR, DRILLER, HAND

__all__ = ["PAGES", "View", "pages_of"]


@dataclass(frozen=True, slots=True)
class View:
    """One page: ``url`` is its address and its file's name, ``name`` its words key; a page not ``listed`` is reached by
    a link only, a ``wide`` one takes the whole width (tables) instead of a reader's, one for ``observers`` is only seen
    by those whose position observes, one ``also_observers`` by them, too, whatever their role."""

    url: str
    name: str
    roles: frozenset[str]
    listed: bool = True
    wide: bool = False
    observers: bool = False
    also_observers: bool = False


_ALL = frozenset({HAND, DRILLER, COORDINATOR})
_LEADERS = frozenset({DRILLER, COORDINATOR})
_OFFICE = frozenset({COORDINATOR})
_DRILLER = frozenset({DRILLER})

PAGES: tuple[View, ...] = (
    View("today", "nav.today", _DRILLER, wide=True),
    View("matrix", "nav.matrix", _LEADERS, wide=True),
    View("tailgate", "nav.tailgate", _LEADERS, wide=True),
    View("gear", "nav.gear", _LEADERS),
    View("people", "nav.people", _OFFICE, wide=True),
    View("site", "nav.site", _OFFICE),
    View("evidence", "nav.evidence", _ALL, listed=False),
    View("slips", "nav.slips", _LEADERS, listed=False, also_observers=True),
    View("card", "nav.card", _ALL),
    View("figures", "nav.figures", _ALL, wide=True),
    View("signoff", "nav.signoff", _ALL, observers=True),
    View("tryout", "nav.tryout", _OFFICE),
    View("lesson", "nav.lesson", _ALL, listed=False),
    View("quiz", "nav.quiz", _ALL, listed=False),
)
"""In the order of the bar; the first listed one that a role sees is its first page."""


def pages_of(role: str, *, observes: bool) -> tuple[View, ...]:
    """The pages that ``role`` sees, in the order of the bar; ``observes`` is whether the position does."""
    return tuple(
        page
        for page in PAGES
        if (role in page.roles and (observes or not page.observers)) or (page.also_observers and observes)
    )
