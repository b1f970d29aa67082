"""What the tests of the crew's pages share: a rig made once a module and copied for each test, with who holds what."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.app.learning import START, at
from tests.app.office_pages import bring
from tests.e2e import rig
from trainer import settings
from trainer.actions import dispensing, opening, people, signing_in
from trainer.actions.desk import Desk, console
from trainer.core.catalogue import Catalogue
from trainer.core.records import Record

PUSHER_PIN = "640273"
"""Of the toolpusher that ``allow`` brings."""


@dataclass(frozen=True)
class Made:
    """A rig in ``folder``, with the catalogue that it was made with."""

    folder: Path
    catalogue: Catalogue


def make(folder: Path, *holders: str) -> Made:
    """A small rig at nine in the morning of a working day of both crews; ``holders`` hold everything."""
    desk = rig.open_desk(rig.make(folder, START), START)
    try:
        for hand in holders:
            hold(desk, hand)
        return Made(folder, desk.catalogue)
    finally:
        desk.store.close()


@contextmanager
def copied(made: Made, data: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    """The command line's desk on a copy of that rig, the clock stopped."""
    at(monkeypatch, START)
    shutil.copytree(made.folder, data)
    desk = opening.open_desk(settings.read(data), lambda _figures: made.catalogue, console(), START)
    try:
        yield desk
    finally:
        desk.store.close()


def hold(site: Desk, hand: str, day: str = "2026-02-20") -> None:
    """Let ``hand`` hold every part of every competency from ``day``, 90 days long."""
    parts = [(each.id, part) for each in site.catalogue.competencies for part in ("knowledge", "practical")]
    bring(site, *(f"{hand},{name},outside-{part},{day},pass,Somebody Else," for name, part in parts))


def add_pusher(site: Desk) -> None:
    """A toolpusher with a PIN, where the rig has none yet."""
    if site.store.person("pushy") is None:
        people.add_person(site, "pushy", "Vic Lund", "toolpusher", "day-1")
        signing_in.first_pin(site, "pushy", signing_in.new_code(site, "pushy"), PUSHER_PIN, "setup")


def allow(site: Desk, hand: str, competency: str, conditions: str = "Bill stays beside him") -> Record:
    """A dispensation for this tour: the driller opens it, a toolpusher and the coordinator allow it."""
    add_pusher(site)
    desk = rig.at_desk_of(site, "bill")
    form = dispensing.open_form(desk, hand, competency)
    dispensing.fill(
        desk, form.form_id, lasts=dispensing.TOUR, conditions=conditions, pusher="pushy", coordinator=rig.COORDINATOR
    )
    dispensing.sign(desk, form.form_id, PUSHER_PIN, "tests")
    return dispensing.commit(desk, form.form_id, rig.PINS[rig.COORDINATOR], "tests")
