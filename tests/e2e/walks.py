"""A walk from state to state, each held against axe at A and AA, light and dark, wide and narrow.

States are made by the actions behind the server where that is quicker than clicking; one page a person is then only
made narrower and darker.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.app.office_pages import bring
from tests.e2e import rig
from tests.e2e.answers import Asked, handles, in_quiz, play, right, wrong
from tests.e2e.conftest import (
    SCHEMES,
    WIDTHS,
    Server,
    opened,
    overflow,
    running,
    settled,
    sign_in,
    violations,
)
from trainer import clock
from trainer.actions import quizzing, watching
from trainer.actions.desk import Desk
from trainer.actions.sheets import SOMEBODY_ELSE
from trainer.settings import Settings

NOW = datetime.fromisoformat("2026-03-03T15:00:00+00:00")
PASSED, NOT_YET, MISSED = "hand-placement", "set-slips", "lifting-footing"
"""The quizzes of the hand: one passed, one not, one open at a must-know that was not right."""

_IS_IN = """scheme => {
  const ground = getComputedStyle(document.querySelector("[data-testid=stApp]")).backgroundColor.match(/\\d+/g)
  return ground.map(Number).reduce((a, b) => a + b) < 384 === (scheme === "dark")
}"""
_STILL = """async () => {
  for (const _ of [1, 2]) await new Promise(requestAnimationFrame)
  // One that is paused, or goes round for ever, never ends; and no browser keeps this page waiting for good.
  const ends = each => each.playState === 'running' && each.effect.getComputedTiming().endTime !== Infinity
  const ended = Promise.allSettled(document.getAnimations().filter(ends).map(each => each.finished))
  await Promise.race([ended, new Promise(resolve => setTimeout(resolve, 5000))])
}"""


@dataclass
class Site:
    """A rig whose people stand at every kind of place."""

    server: Server
    where: Settings

    @contextmanager
    def desk(self, hand: str) -> Iterator[Desk]:
        """A desk beside the server with that hand at it."""
        desk = rig.open_desk(self.where, NOW)
        try:
            yield rig.at_desk_of(desk, hand)
        finally:
            desk.store.close()


@dataclass
class Walk:
    """One person's way from state to state, and what was wrong on it."""

    page: Page
    site: Site
    wrong: dict[str, list[str]] = field(default_factory=dict)

    def go(self, address: str, heading: str | re.Pattern[str] = "") -> None:
        """Open an address of the app and wait for its heading."""
        self.page.goto(self.site.server.url + address)
        if heading:
            self.comes(heading)

    def comes(self, heading: str | re.Pattern[str]) -> None:
        """Wait until a page with that heading is there."""
        expect(self.page.get_by_role("heading", name=heading).first).to_be_visible()
        settled(self.page)

    def press(self, name: str | re.Pattern[str]) -> None:
        """Press the first button of that name."""
        self.page.get_by_role("button", name=name).first.click()

    def look(self, state: str) -> None:
        """Hold the page as it stands against axe in every colour and width; it comes out wide and light again."""
        settled(self.page)
        found = []
        for scheme in SCHEMES:
            self.page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
            self.page.wait_for_function(_IS_IN, arg=scheme)
            for width in WIDTHS:
                self.page.set_viewport_size({"width": width, "height": 900})
                self.page.evaluate(_STILL)
                found += [f"{scheme} {width}: {each}" for each in violations(self.page)]
                if overflow(self.page) > 0:
                    found.append(f"{scheme} {width}: {overflow(self.page)} px too wide")
        self.page.set_viewport_size({"width": WIDTHS[0], "height": 900})
        self.page.emulate_media(color_scheme="light")
        if found:
            self.wrong[state] = found


@contextmanager
def walked(folder: Path) -> Iterator[Site]:
    """Ray is half-way, Luis off the slips, Bill holds everything."""
    where = rig.make(folder / "data", NOW)
    desk = rig.open_desk(where, NOW)
    rig.bring_all(desk, "bill")
    bring(
        desk,
        "ray,calls-signals,practical,2026-02-01,pass,bill,Saw all of it",
        "luis,calls-signals,stood-down,2026-03-02,,bill,Hand on the handle",
    )
    desk.store.close()
    with running(folder, TRAINER_NOW=clock.stamp(NOW)) as server:
        site = Site(server, where)
        with site.desk("ray") as ray:
            play(ray, PASSED)
            take(ray, PASSED)
        with site.desk("bill") as bill:
            sheet = fill(bill, "ray", {"calls-repeat": "met after prompt"})
            watching.commit(bill, sheet, rig.PINS["bill"], rig.PINS["ray"], watching.SIGNED, "test")
        yield site


@contextmanager
def walking(browser: Browser, site: Site, hand: str) -> Iterator[Walk]:
    """The way of the person ``hand``; every state on it must have been right."""
    with opened(browser, WIDTHS[0]) as tablet:
        walk = Walk(tablet.page, site)
        sign_in(walk.page, site.server, hand)
        yield walk
        assert not walk.wrong, "\n".join(f"{state}, {each}" for state, found in walk.wrong.items() for each in found)


def walks_as(hand: str) -> pytest.MarkDecorator:
    """Who goes the way of a test."""
    return pytest.mark.parametrize("walk", [hand], indirect=True)


def take(desk: Desk, quiz: str, misses: int = 0) -> str:
    """The record of ``quiz`` taken with the first ``misses`` questions not right."""
    sitting = quizzing.start(desk, quiz)
    for place in range(len(sitting.form.items)):
        answer(desk, sitting.draft_id, in_quiz(sitting, place), place, is_right=place >= misses)
    return quizzing.finish(desk, sitting.draft_id)[0].record_id


def answer(desk: Desk, draft: str, asked: Asked, place: int, *, is_right: bool = True) -> None:
    """One question answered."""
    quizzing.answer(desk, draft, place, handles(asked, right(asked) if is_right else wrong(asked)))


def fill(desk: Desk, hand: str, states: dict[str, str], *, brake: str = SOMEBODY_ELSE, overall: str = "yes") -> str:
    """A sheet about ``hand``: these steps as given, every other one met."""
    sheet = watching.open_sheet(desk, "connections", hand)
    for step in sheet.checklist.steps:
        watching.tick(desk, sheet.sheet_id, step.id, states.get(step.id, "met"))
    watching.fill(desk, sheet.sheet_id, replace(sheet.details, brake=brake, overall=overall))
    return sheet.sheet_id
