"""A small rig for screens: a site made by the actions, its people and their PINs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import cast

from trainer import clock, curriculum, settings
from trainer.actions import importing, opening, people, setup, signing_in
from trainer.actions.desk import Actor, Desk, console
from trainer.core.catalogue import Catalogue
from trainer.core.records import Json, SiteFigures
from trainer.core.rows import TableRow
from trainer.curriculum import Loaded
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


@cache
def _content(root: Path, app_root: Path) -> Loaded:
    """The content of a folder, read once: no test changes the app's own."""
    return curriculum.load(root, app_root)


def make(data: Path, now: datetime | None = None) -> Settings:
    """A site in ``data`` with everybody of ``NAMES`` on it."""
    where, moment = settings.read(data), now or clock.now()
    content = _content(where.root, where.app_root)
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
        content = _content(where.root, where.app_root)
        return curriculum.catalogue(content, curriculum.site_from(figures.site))

    return opening.open_desk(where, catalogue, console(), now or clock.now())


def at_desk_of(desk: Desk, hand: str) -> Desk:
    """The same desk with ``hand`` sitting at it."""
    person = next(each for each in people.listed(desk) if each.hand == hand)
    role = desk.catalogue.site.positions[person.position].role
    return replace(desk, actor=Actor(hand, role, person.position, person.crew, person.language))


def write_figures(desk: Desk, figures: Mapping[str, Json]) -> None:
    """Another ``site`` record with these keys of site.yaml changed, as a site that knows more by now has one."""
    whole = {**desk.store.site_figures().site, **figures}
    with desk.store.transaction() as writing:
        writing.append(desk.new_record(SiteFigures(whole, desk.store.tz)))


def inspect_pipe(desk: Desk, units: str = "US") -> None:
    """Enter the inspected class of the drill pipe, and which units stand first."""
    own = dict(cast("Mapping[str, Json]", desk.store.site_figures().site["rig"]))
    pipe = {**cast("Mapping[str, Json]", own["pipe"]), "inspected_class": "premium", "wall_left": "84 %"}
    write_figures(desk, {"rig": {**own, "pipe": pipe, "units": units}})


def bring_all(desk: Desk, hand: str, day: date | None = None) -> None:
    """Earlier records from elsewhere for everything that any competency needs, so that ``hand`` holds all of it."""
    passed_on = (day or desk.today - timedelta(days=10)).isoformat()
    needed = [
        (each.id, f"outside-{part}")
        for each in desk.catalogue.competencies
        for part, is_needed in (("knowledge", each.needs.knowledge), ("practical", each.needs.practical))
        if is_needed
    ]
    columns = ("hand_id", "competency", "part", "day", "outcome", "by", "note")
    rows = [
        TableRow(row, dict(zip(columns, (hand, name, part, passed_on, "pass", "Training school", ""), strict=True)))
        for row, (name, part) in enumerate(needed, start=2)
    ]
    importing.import_evidence(desk, rows)
