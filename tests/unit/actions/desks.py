"""A small site with a store of its own, and desks at any moment, for the tests of actions about signing in."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from itertools import count
from pathlib import Path

from trainer.actions import setup
from trainer.actions.desk import Actor, Desk, console
from trainer.actions.opening import open_desk
from trainer.core.catalogue import Catalogue, Position, Rotation, Site
from trainer.core.records import Body, Json, SiteFigures
from trainer.settings import Settings
from trainer.store import Person

SITE_YAML: Mapping[str, Json] = {"crews": {"day-1": {"on": 14, "off": 14}}}
COORDINATOR_PIN = "274913"
NOON = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)
TODAY = date(2026, 3, 2)


def catalogue(_figures: SiteFigures | None = None) -> Catalogue:
    """A catalogue with positions and crews only."""
    positions = {
        "floorhand": Position("hand"),
        "driller": Position("driller", observes=True),
        "coordinator": Position("coordinator"),
    }
    return Catalogue((), Site(positions, {"day-1": Rotation(), "night-1": Rotation()}), {}, {}, {}, "hash")


def ids() -> Callable[[], str]:
    """A source of UUIDv7s that count up."""
    numbers = count(1)
    return lambda: f"00000000-0000-7000-8000-{next(numbers):012x}"


def settings_in(folder: Path) -> Settings:
    """Settings for a site in ``folder``."""
    return Settings(folder, None, folder, folder)


def new_site(folder: Path) -> Desk:
    """The console's desk at noon on a new site in ``folder``."""
    draw = ids()
    setup.init(settings_in(folder), "RIG-7", "UTC", "", COORDINATOR_PIN, NOON, draw, SITE_YAML)
    return open_desk(settings_in(folder), catalogue, console(), NOON, draw)


def later(desk: Desk, **by: float) -> Desk:
    """The same desk later on."""
    return replace(desk, now=desk.now + timedelta(**by))


def acting(desk: Desk, actor: Actor) -> Desk:
    """The same desk with somebody else at it."""
    return replace(desk, actor=actor)


def add(desk: Desk, hand: str, *stays: tuple[date, Body], name: str = "", pin: str = "", language: str = "en") -> None:
    """A person with these stays, and a PIN where one is given."""
    with desk.store.transaction() as writing:
        writing.put_person(Person(hand, name or hand.title(), language))
        for day, body in stays:
            writing.append(desk.new_record(body, hand=hand, day=day))
        if pin:
            writing.put_pin(hand, desk.store.keys.pin_hash(pin), desk.at)
