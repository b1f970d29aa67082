"""A small rig for screens: a site made by the actions, its people and their PINs."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from trainer import clock, curriculum, settings
from trainer.actions import opening, people, setup, signing_in
from trainer.actions.desk import Desk, console
from trainer.core.catalogue import Catalogue
from trainer.core.records import SiteFigures
from trainer.settings import Settings

COORDINATOR = "coordinator"
NAMES = {
    COORDINATOR: "Pat Vance",
    "ray": "Ray Dunn",
    "luis": "Luis Ortega",
    "ana": "Ana María Núñez-Castellanos",
    "bill": "Bill Hart",
    "sam": "Sam *Reed* <b>",
}
PINS = {COORDINATOR: "482915", "ray": "639174", "luis": "718394", "ana": "270581", "bill": "905236"}
"""Sam has none yet."""

PLACES = {
    "ray": ("floorhand", "day-1", "en"),
    "luis": ("floorhand", "day-1", "es"),
    "ana": ("derrickhand", "night-1", "es"),
    "bill": ("driller", "day-1", "en"),
    "sam": ("motorhand", "night-1", "en"),
}


def make(data: Path, now: datetime | None = None) -> Settings:
    """A site in ``data`` with everybody of ``NAMES`` on it."""
    where, moment = settings.read(data), now or clock.now()
    content = curriculum.load(where.root, where.app_root)
    setup.init(
        where, "rig-1", "America/Chicago", NAMES[COORDINATOR], PINS[COORDINATOR], moment, opening.new_id,
        content.site_data,
    )  # fmt: skip
    desk = open_desk(where, moment)
    try:
        for hand, (position, crew, language) in PLACES.items():
            people.add_person(desk, hand, NAMES[hand], position, crew, language=language)
            if hand in PINS:
                signing_in.first_pin(desk, hand, signing_in.new_code(desk, hand), PINS[hand], "setup")
    finally:
        desk.store.close()
    return where


def open_desk(where: Settings, now: datetime | None = None) -> Desk:
    """A desk of the command line on that site; close its store."""

    def catalogue(figures: SiteFigures) -> Catalogue:
        content = curriculum.load(where.root, where.app_root)
        return curriculum.catalogue(content, curriculum.site_from(figures.site))

    return opening.open_desk(where, catalogue, console(), now or clock.now())
