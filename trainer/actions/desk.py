"""What every action is given: the store, the catalogue, the moment, a source of ids and who is acting."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime

from trainer import clock
from trainer.core.catalogue import Catalogue
from trainer.core.records import BODIES, Body, ConsoleActor
from trainer.store import NewRecord, Store

__all__ = ["CONSOLE", "COORDINATOR", "DRILLER", "HAND", "ROLES", "Actor", "Desk", "console"]

HAND = "hand"
DRILLER = "driller"
COORDINATOR = "coordinator"
CONSOLE = "console"
ROLES = (HAND, DRILLER, COORDINATOR, CONSOLE)
"""What the app lets somebody do: a position gives one of the first three, the command line is the last."""


@dataclass(frozen=True, slots=True)
class Actor:
    """Who is acting: a ``hand_id`` (or ``console``), a role of ``ROLES``, and ``web`` or ``cli``."""

    hand: str
    role: str
    position: str = ""
    crew: str = ""
    language: str = "en"
    via: str = "web"


@dataclass(frozen=True, slots=True)
class Desk:
    """Everything an action may reach. ``now`` is aware UTC and read once at the edge; ``new_id`` draws record ids."""

    store: Store
    catalogue: Catalogue
    now: datetime
    new_id: Callable[[], str]
    actor: Actor

    @property
    def today(self) -> date:
        """The site's civil date now."""
        return clock.civil_day(self.now, self.store.tz)

    @property
    def at(self) -> str:
        """``now`` as records hold it."""
        return clock.stamp(self.now)

    def new_record(
        self, body: Body, *, hand: str | None = None, day: date | None = None, record_id: str | None = None
    ) -> NewRecord:
        """A record by the actor, about ``hand``, that counts on ``day`` (today when not given), to be appended.

        ``record_id`` is the one drawn with the form, where there was a form: it makes a second press harmless.
        """
        kind = next(kind for kind, body_type in BODIES if body_type is type(body))
        return NewRecord(
            record_id or self.new_id(), kind, body, day=day or self.today, by=self.actor.hand, hand=hand, at=self.at
        )


def console(language: str = "en") -> Actor:
    """The actor of the command line."""
    return Actor(ConsoleActor, CONSOLE, language=language, via="cli")
