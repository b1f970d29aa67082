"""A small rig on a real store: four people with PINs, three competencies, one quiz, one lesson, one sheet."""

from __future__ import annotations

import uuid
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from itertools import count
from pathlib import Path

from tests.unit.assessment import samples
from trainer.actions import setup
from trainer.actions.desk import Actor, Desk
from trainer.core.catalogue import Catalogue, Competency, Knowledge, Needs, Position, Practical, Rotation, Site
from trainer.core.durations import Duration
from trainer.core.records import Body, Joined, Outside
from trainer.settings import Settings
from trainer.store import NewRecord, Person, Store, open_store

START = datetime(2026, 3, 2, 14, 0, tzinfo=UTC)
ZONE = "America/Chicago"

PINS = {"ana": "471903", "ben": "582014", "dee": "693125", "tom": "704236", "cy": "815347"}
PEOPLE = {
    "ana": ("floorhand", "night-1"),
    "ben": ("derrickhand", "night-1"),
    "dee": ("driller", "night-1"),
    "tom": ("toolpusher", "day-1"),
    "cy": ("coordinator", ""),
}
COMPETENCIES = ("calls", "hands", "lifting")

CATALOGUE = Catalogue(
    competencies=tuple(
        Competency(
            name,
            samples.text(name),
            ("floorhand",),
            Needs(
                Knowledge("q", Duration(months=12)) if name == "hands" else None,
                Practical("connections", Duration(months=12)),
            ),
        )
        for name in COMPETENCIES
    ),
    site=Site(
        positions={
            "floorhand": Position("hand"),
            "derrickhand": Position("hand", observes=True),
            "driller": Position("driller", observes=True),
            "toolpusher": Position("driller", observes=True, dispenses=True),
            "coordinator": Position("coordinator"),
        },
        crews={"day-1": Rotation(tour="06:00-18:00"), "night-1": Rotation(tour="18:00-06:00")},
    ),
    lessons={"lesson": samples.lesson()},
    banks={"q": samples.bank()},
    checklists={"connections": samples.checklist()},
    hash="catalogue",
)


def ids(first: int = 1) -> Iterator[str]:
    """UUIDv7s in order, the same in every run."""
    return (str(uuid.UUID(int=(0x7 << 76) | (0x8 << 60) | number)) for number in count(first))


@dataclass(frozen=True, slots=True)
class Rig:
    """The store with what a test needs to act on it. ``at`` and ``by`` give a rig at another time or by another."""

    store: Store
    source: Iterator[str]
    now: datetime = START
    actor: str = "ana"
    catalogue: Catalogue = CATALOGUE

    @property
    def desk(self) -> Desk:
        """The desk of the acting person, now."""
        position, crew = PEOPLE[self.actor]
        role = self.catalogue.site.positions[position].role
        return Desk(self.store, self.catalogue, self.now, self.source.__next__, Actor(self.actor, role, position, crew))

    def by(self, actor: str) -> Rig:
        """The same with somebody else acting."""
        return replace(self, actor=actor)

    def later(self, **time: float) -> Rig:
        """The same some time later, as ``timedelta`` counts it."""
        return replace(self, now=self.now + timedelta(**time))

    def with_catalogue(self, catalogue: Catalogue) -> Rig:
        """The same with other content."""
        return replace(self, catalogue=catalogue)

    def write(self, body: Body, hand: str, day: date) -> None:
        """A record by the console."""
        kind = {"Joined": "joined", "Outside": "outside"}.get(type(body).__name__, "")
        with self.store.transaction() as writing:
            writing.append(NewRecord(next(self.source), kind, body, day, "console", hand, self.desk.at))

    def hold(self, hand: str, competency: str, day: date, *, by: str = "outsider") -> None:
        """Let ``hand`` hold every part of ``competency`` from ``day`` by outside evidence."""
        for part in ("outside-practical", "outside-knowledge"):
            self.write(Outside(competency, part, "pass", by), hand, day)


def settings(folder: Path) -> Settings:
    """Where a rig in ``folder`` is."""
    return Settings(folder, None, folder, folder)


def opened(folder: Path) -> Rig:
    """The rig that ``make`` made in ``folder``, or in one that it was copied from."""
    return Rig(open_store(settings(folder)), ids(1000))


def make(folder: Path) -> None:
    """A rig in ``folder``; observers hold everything since February."""
    source = ids()
    setup.init(settings(folder), "rig-1", ZONE, "Office", "926458", START, source.__next__, {"positions": {}})
    rig = Rig(open_store(settings(folder)), source)
    for hand, (position, crew) in PEOPLE.items():
        with rig.store.transaction() as writing:
            writing.put_person(Person(hand, hand.title()))
            writing.put_pin(hand, rig.store.keys.pin_hash(PINS[hand]), rig.desk.at)
        rig.write(Joined(crew, position), hand, date(2026, 1, 5))
    for observer in ("ben", "dee", "tom"):
        for competency in COMPETENCIES:
            rig.hold(observer, competency, date(2026, 2, 1))
    rig.store.close()
