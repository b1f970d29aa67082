"""A small site on a real store, and desks on it: who acts, and on which day, is said by each test."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from itertools import count
from pathlib import Path

from trainer.actions.desk import Actor, Desk, console
from trainer.core.catalogue import Catalogue, Competency, Knowledge, Needs, Position, Practical, Rotation, Site
from trainer.core.durations import Duration
from trainer.core.records import SiteFigures
from trainer.core.rows import TableRow
from trainer.settings import Settings
from trainer.store import NewRecord, Store, Transaction, create

TODAY = date(2026, 3, 2)
NOON = datetime(2026, 3, 2, 18, 0, tzinfo=UTC)  # in Chicago
YEAR = Duration(months=12)

SITE = Site(
    positions={
        "floorhand": Position("hand"),
        "derrickhand": Position("hand", observes=True),
        "assistant-driller": Position("driller", observes=True),
        "driller": Position("driller", observes=True),
        "coordinator": Position("coordinator"),
    },
    crews={"day-1": Rotation(date(2026, 1, 5), 14, 14), "night-1": Rotation(date(2026, 1, 19), 14, 14)},
)
GRIP = Competency(
    "grip",
    {"en": "Grip"},
    ("floorhand", "derrickhand"),
    Needs(Knowledge("grip", YEAR), Practical("sheet", YEAR)),
    within=Duration(days=28),
)
CALLS = Competency("calls", {"en": "Calls"}, ("floorhand",), Needs(practical=Practical("sheet", YEAR)), after=("grip",))
CATALOGUE = Catalogue((GRIP, CALLS), SITE, {}, {}, {}, "hash")

_numbers = count(1)


def new_id() -> str:
    """The next record id; each is later than the one before."""
    return f"00000000-0000-7000-8000-{next(_numbers):012x}"


def new_store(folder: Path) -> Store:
    """An empty site in ``folder``; close it at the end."""

    def fill(writing: Transaction) -> None:
        body = SiteFigures({}, "America/Chicago")
        writing.append(NewRecord(new_id(), "site", body, TODAY, "console", None, "2026-03-01T00:00:00.000Z"))

    return create(Settings(folder, None, folder, folder), "rig-7", fill)


def desk_of(store: Store, actor: Actor | None = None, now: datetime = NOON) -> Desk:
    """A desk of ``actor``, the console when nobody is named."""
    return Desk(store, CATALOGUE, now, new_id, actor or console())


def acting(desk: Desk, hand: str, role: str) -> Desk:
    """The same desk with somebody else at it."""
    return replace(desk, actor=Actor(hand, role))


def rows(columns: str, *lines: str) -> tuple[TableRow, ...]:
    """Rows of a table as it would be read: one line of comma-separated cells each, the first in row 2."""
    names = columns.split(",")
    return tuple(
        TableRow(number, dict(zip(names, line.split(","), strict=True))) for number, line in enumerate(lines, start=2)
    )
