"""The office's screens, and on and off the slips, in every state and look: axe finds nothing, nothing is cut off."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.app.crew_pages import PUSHER_PIN, add_pusher, allow
from tests.e2e import rig
from tests.e2e.conftest import tap_pin
from tests.e2e.walks import Site, Walk, walked, walking, walks_as

pytestmark = pytest.mark.browser

SITE_FILE = (Path(rig.__file__).parents[2] / "content" / "site.yaml").read_text(encoding="utf-8")
ROSTER = "hand_id,name,position,crew,joined\nines,Inés Duarte,florhand,night-1,24/11/2026\nmeg,Meg Ott,driller,day-9,\n"


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    """Ray is half-way, Luis off the slips, Bill holds everything."""
    with walked(tmp_path_factory.mktemp("walk")) as site:
        yield site


@pytest.fixture
def walk(browser: Browser, site: Site, request: pytest.FixtureRequest) -> Iterator[Walk]:
    """The way of the person whom the test names by ``walks_as``."""
    with walking(browser, site, request.param) as walk:
        yield walk


def choose_site_file(page: Page, text: str) -> None:
    """Choose a file with these figures."""
    page.locator("input[type=file]").set_input_files(
        {"name": "mine.yaml", "mimeType": "application/yaml", "buffer": text.encode()}
    )


@walks_as(rig.COORDINATOR)
def test_the_office(walk: Walk) -> None:
    page = walk.page
    walk.go("matrix", "Matrix")
    expect(page.get_by_role("figure", name="How the crew stands")).to_be_visible()
    walk.look("matrix")
    page.locator("td[data-row=ray][data-column=calls-signals]").click()
    walk.comes("Calls and signals")
    expect(page.get_by_text("Saw all of it")).to_be_visible()
    walk.look("evidence")
    walk.go("evidence?hand=luis&competency=calls-signals", "Calls and signals")
    walk.press("Void this record")
    walk.comes("Void this record")
    walk.look("void, why")
    page.get_by_label("Why is it void?").fill("Not this hand")
    walk.press("Go on")
    walk.comes("Who agrees?")
    walk.look("void, who agrees")
    walk.press("Bill Hart")
    expect(page.get_by_role("button", name="Agree and void it")).to_be_visible()
    walk.look("void, the second PIN")
    walk.go("people", "People")
    walk.look("people")
    walk.press("Ray Dunn")
    walk.press("Give a one-use code")
    expect(page.get_by_text("it is shown only this once")).to_be_visible()
    walk.look("person, code shown")
    walk.go("site", "Site figures")
    walk.look("site figures")
    choose_site_file(page, SITE_FILE.replace("P90D", "P60D"))
    expect(page.get_by_role("button", name=re.compile("^Put .* in force"))).to_be_visible()
    walk.look("site figures, changed")
    choose_site_file(page, SITE_FILE.replace("P90D", "90 days"))
    expect(page.get_by_text("This file cannot be used.")).to_be_visible()
    walk.look("site figures, refused")
    walk.go("people?do=add", "Add one person")
    page.get_by_role("button", name="Add", exact=True).click()
    expect(page.get_by_text("No hand id.")).to_be_visible()
    walk.look("add, refused")
    walk.go("people?do=roster", "Roster file in")
    page.locator("input[type=file]").set_input_files(
        {"name": "crew.csv", "mimeType": "text/csv", "buffer": ROSTER.encode()}
    )
    expect(page.get_by_text("Nothing was taken in.")).to_be_visible()
    walk.look("roster, refused")


@walks_as("bill")
def test_on_and_off_the_slips(walk: Walk) -> None:
    with walk.site.desk(rig.COORDINATOR) as office:
        allow(office, "ray", "crewing-handles")
    walk.go("", "Who holds what today")
    walk.press("Leave off this tour")
    expect(walk.page.get_by_text("said Bill Hart")).to_be_visible()
    walk.look("today, somebody marked and somebody allowed")
    walk.go("slips?hand=luis", "Luis Ortega")
    walk.look("all about a hand")
    walk.press("Take off the slips")
    walk.comes("Luis Ortega: off the slips")
    walk.press("Off the slips now")
    expect(walk.page.get_by_text("Still missing: what it is for, what happened.")).to_be_visible()
    walk.look("off the slips, refused")
    walk.press("Setting the slips")
    walk.page.get_by_label("What happened?").fill("Kicked the slips in")
    walk.press("Off the slips now")
    expect(walk.page.get_by_text("Make safe first, then swap.")).to_be_visible()
    expect(walk.page.get_by_text("Tell Luis Ortega and the crew.")).to_be_visible()
    walk.look("off the slips, done")
    walk.go("slips?hand=luis&competency=set-slips&do=back", "Luis Ortega: back to the slips")
    walk.look("back to the slips")
    walk.page.get_by_label("What was done about it?").fill("Three sets beside the driller")
    walk.press("Go on")
    walk.comes("Who agrees?")
    walk.look("back, who agrees")
    walk.press("Ana María Núñez-Castellanos")
    tap_pin(walk.page, "246802", "Agree and bring back")
    expect(walk.page.get_by_role("alert").filter(has_text="do not match")).to_be_visible()
    walk.look("back, wrong PIN")
    tap_pin(walk.page, rig.PINS["ana"], "Agree and bring back")
    expect(walk.page.get_by_text("Until they are passed again")).to_be_visible()
    walk.look("back, done")


@walks_as("bill")
def test_allowed_with_conditions(walk: Walk) -> None:
    with walk.site.desk(rig.COORDINATOR) as office:
        add_pusher(office)
    walk.go("evidence?hand=ray&competency=pull-slips", "Pulling the slips")
    walk.press("Allow with conditions")
    walk.comes("Ray Dunn: Pulling the slips")
    walk.press("To the PINs")
    expect(walk.page.get_by_text("Still missing: the conditions.")).to_be_visible()
    walk.look("allow, refused")
    walk.page.get_by_label("On which conditions?").fill("Bill stays beside him")
    walk.press("To the PINs")
    expect(walk.page.get_by_text("With this PIN you allow it:")).to_be_visible()
    walk.look("allow, the toolpusher's PIN")
    tap_pin(walk.page, PUSHER_PIN, "Go on")
    expect(walk.page.get_by_text("Coordinator: PIN of Pat Vance")).to_be_visible()
    tap_pin(walk.page, rig.PINS[rig.COORDINATOR], "Allow")
    expect(walk.page.get_by_text("Tell the crew the conditions before the job.")).to_be_visible()
    walk.look("allow, done")
    walk.go("evidence?hand=ray&competency=pull-slips", "Pulling the slips")
    expect(walk.page.get_by_text("It is never standing.")).to_be_visible()
    walk.look("evidence, allowed")


@walks_as(rig.COORDINATOR)
def test_what_the_coordinator_looks_over(walk: Walk) -> None:
    walk.go("matrix?marks=yes", "Matrix")
    walk.press("Check the records")
    expect(walk.page.get_by_text("Nothing was changed since they were written.")).to_be_visible()
    walk.comes("Another pair of eyes would help")
    walk.look("matrix, marks and records checked")


@walks_as(rig.COORDINATOR)
def test_the_content_is_tried(walk: Walk) -> None:
    walk.go("tryout", "Try the content")
    walk.look("tryout, list")
    walk.go("tryout?lesson=hand-placement", "Before you walk out")
    walk.look("tryout, a scene asked")
    walk.page.get_by_role("radio", name="tape").click(force=True)
    walk.press("That is my answer")
    expect(walk.page.get_by_text("Not that way")).to_be_visible()
    walk.look("tryout, a scene not right")
    walk.go("tryout?quiz=hand-placement&item=ot-order")
    expect(walk.page.get_by_text("Draw it anew")).to_be_visible()
    walk.look("tryout, a question")
    walk.press("It is right as it stands")
    walk.press("Answer and see the key")
    expect(walk.page.get_by_text("Right is")).to_be_visible()
    walk.look("tryout, the key of a question")
