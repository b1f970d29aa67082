"""Building the made-up rig, once a day: later starts copy what was built, so that each begins from the same state."""

from __future__ import annotations

import hashlib
import shutil
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import cast

from trainer import clock, curriculum
from trainer.actions import setup
from trainer.actions.desk import console
from trainer.actions.opening import new_id, open_desk
from trainer.core.catalogue import Catalogue
from trainer.core.records import Json, SiteFigures
from trainer.curriculum import Loaded
from trainer.demo.player import Player, Progress
from trainer.demo.scenario import Scenario, load
from trainer.demo.timeline import timeline
from trainer.settings import Settings

__all__ = ["build", "fresh"]

_KEPT = "built"
_BEFORE = 548


def fresh(settings: Settings, now: datetime, progress: Progress) -> bool:
    """Lay a fresh rig into ``settings.data``; whether it had to be built first (else it was copied).

    What is built counts once it is whole, so that building it need not wait for the disk at every step. Whatever
    somebody did on the made-up rig before is gone. Raises ``BadContent`` and what the actions refuse.
    """
    scenario = load()
    kept = settings.data / _KEPT / _name(settings, scenario, now)
    is_new = not (kept / "done").exists()
    if is_new:
        shutil.rmtree(settings.data / _KEPT, ignore_errors=True)
        build(replace(settings, data=kept, durable=False), scenario, now, progress)
        (kept / "done").touch()
    _clear(settings.data)
    shutil.copytree(kept, settings.data, dirs_exist_ok=True, ignore=shutil.ignore_patterns("done"))
    return is_new


def build(settings: Settings, scenario: Scenario, now: datetime, progress: Progress) -> None:
    """Set up the rig in ``settings.data``, which is empty, and play its whole history.

    ``now`` gives day 0. Raises what an action refuses: then the scenario is wrong.
    """
    content = curriculum.load(settings.root, settings.app_root)
    curriculum.refuse_problems(content, serving=True)
    today = clock.civil_day(now, scenario.site.tz)
    coordinator = scenario.coordinator
    site = scenario.site
    figures = _figures(content, scenario, today)
    start = now - timedelta(days=_BEFORE)
    setup.init(settings, site.id, site.tz, coordinator.name, scenario.pin, start, new_id, figures)

    def catalogue(written: SiteFigures) -> Catalogue:
        return curriculum.catalogue(content, curriculum.site_from(written.site))

    desk = open_desk(settings, catalogue, console(), start, new_id)
    try:
        Player(desk, scenario, today).play(timeline(scenario), progress)
    finally:
        desk.store.close()


def _figures(content: Loaded, scenario: Scenario, today: date) -> dict[str, Json]:
    """The template's figures with the made-up rig's own crews, their hitches laid out from today, and its pipe."""
    crews = {
        name: {
            "start": (today + timedelta(days=hitch.start)).isoformat(),
            "on": hitch.on,
            "off": hitch.off,
            "tour": hitch.tour,
            "title": dict(hitch.title),
        }
        for name, hitch in scenario.crews.items()
    }
    own = {
        **content.site_data,
        "crews": cast("dict[str, Json]", crews),
        "rig": _rig(content, scenario),
        "procedures": _procedures(content),
    }
    return {name: part for name, part in own.items() if part}


def _procedures(content: Loaded) -> dict[str, Json]:
    """The content's procedures as the made-up rig's own."""
    named = ((each.id, each.procedure) for each in content.competencies if each.procedure)
    return {name: {"number": each.number, "revision": each.revision} for name, each in named}


def _rig(content: Loaded, scenario: Scenario) -> Json:
    """The template's rig with inspected pipe: the template itself leaves that open, for each site to enter."""
    rig = content.site_data.get("rig")
    if not isinstance(rig, dict) or not isinstance(rig["pipe"], dict):
        return None
    return {**rig, "pipe": {**rig["pipe"], **scenario.pipe}}


def _name(settings: Settings, scenario: Scenario, now: datetime) -> str:
    """Names what was built: another day, other content or another program is another rig."""
    digest = hashlib.sha256(clock.civil_day(now, scenario.site.tz).isoformat().encode())
    for folder in (settings.app_root / "trainer", settings.root / "content", settings.root / "quizzes"):
        for file in sorted(each for each in folder.rglob("*") if each.suffix in (".py", ".yaml")):
            digest.update(file.relative_to(folder).as_posix().encode() + file.read_bytes())
    return digest.hexdigest()[:16]


def _clear(folder: Path) -> None:
    for each in folder.iterdir():
        if each.name == _KEPT:
            continue
        if each.is_dir():
            shutil.rmtree(each)
        else:
            each.unlink()
