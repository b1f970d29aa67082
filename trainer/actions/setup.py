"""A new, empty site: its ledger, keys, figures and one coordinator with a PIN."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import datetime
from zoneinfo import available_timezones

from trainer import clock
from trainer.actions import pin_rules
from trainer.actions.desk import COORDINATOR
from trainer.core.records import Body, ConsoleActor, Joined, Json, Key, SiteFigures
from trainer.errors import BadInput
from trainer.settings import Settings
from trainer.store import NewRecord, Person, Transaction, create

__all__ = ["COORDINATOR_ID", "DEFAULT_NAME", "init", "require_site"]

COORDINATOR_ID = "coordinator"
"""The hand_id of the first coordinator."""

DEFAULT_NAME = "Coordinator"

_SITE = re.compile(r"[A-Za-z0-9_-]{1,32}")


def init(
    settings: Settings,
    site: str,
    tz: str,
    name: str,
    pin: str,
    now: datetime,
    new_id: Callable[[], str],
    site_yaml: Mapping[str, Json],
    language: str = "en",
) -> None:
    """Set up ``site`` in the data folder: its figures, its key, then the coordinator; all of it or nothing.

    ``site_yaml`` is the whole of a site.yaml that was checked. Raises ``BadInput`` (``site-id``, ``time-zone``,
    ``pin-form``, ``pin-weak``, ``name-form``), ``StoreExists`` where a site is, ``StoreUnavailable``.
    """
    require_site(site, tz)
    pin_rules.require_good(pin)
    day, at = clock.civil_day(now, tz), clock.stamp(now)

    def written(kind: str, body: Body, hand: str | None = None) -> NewRecord:
        return NewRecord(new_id(), kind, body, day, ConsoleActor, hand, at)

    def fill(writing: Transaction) -> None:
        writing.append(written("site", SiteFigures(site_yaml, tz)))
        writing.append(written("key", Key(writing.keys.public())))
        writing.put_person(Person(COORDINATOR_ID, name or DEFAULT_NAME, language, at=at))
        writing.append(written("joined", Joined("", COORDINATOR), COORDINATOR_ID))
        writing.put_pin(COORDINATOR_ID, writing.keys.pin_hash(pin), at)

    create(settings, site, fill).close()


def require_site(site: str, tz: str) -> None:
    """Raise ``BadInput``: ``site-id`` for an id that cannot be one, ``time-zone`` for a zone unknown to IANA."""
    if not _SITE.fullmatch(site):
        raise BadInput("site-id", site=site)
    if tz not in available_timezones():
        raise BadInput("time-zone", tz=tz)
