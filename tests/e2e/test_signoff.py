"""A whole sign-off in a real browser, also by keyboard alone, and the crew's pages in every state held against axe."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.app.crew_pages import Made, hold, make
from tests.app.learning import START, of
from tests.e2e import rig
from tests.e2e.conftest import (
    SCHEMES,
    WIDTHS,
    Server,
    Tablet,
    opened,
    overflow,
    running,
    settled,
    sign_in,
    tap_pin,
    violations,
)
from trainer import clock, settings
from trainer.actions import watching
from trainer.actions.desk import Desk

pytestmark = pytest.mark.browser

NOT_MET = {"hand-placement": "not met", "calls-signals": "met"}


def open_sheet(desk: Desk, hand: str, states: Mapping[str, str], **details: object) -> None:
    """Bill's open sheet about ``hand``: the steps of each competency in one state."""
    bill = of(desk, "bill")
    sheet = watching.open_sheet(bill, "connections", hand)
    for step in sheet.checklist.steps:
        if step.competency in states:
            watching.tick(bill, sheet.sheet_id, step.id, states[step.competency])
    filled = replace(sheet.details, **{"brake": "ana", **details})  # type: ignore[arg-type]
    watching.fill(bill, sheet.sheet_id, filled)


def prepare(folder: Path) -> Made:
    """A rig on which Bill and Ana observe; Ray, who holds everything, and Luis are on Bill's open sheets."""
    made = make(folder / "data", "bill", "ana", "ray")
    desk = rig.open_desk(settings.read(folder / "data"), START)
    try:
        open_sheet(desk, "ray", NOT_MET, overall="yes")
        open_sheet(desk, "luis", {"calls-signals": "not applicable"}, job="slips")
        hold(desk, "luis", "2025-12-11")
    finally:
        desk.store.close()
    return made


@pytest.fixture(scope="module")
def crew(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """That rig on a server, where nothing gets signed."""
    folder = tmp_path_factory.mktemp("crew")
    prepare(folder)
    with running(folder, TRAINER_NOW=clock.stamp(START)) as server:
        yield server


@pytest.fixture
def own_crew(tmp_path: Path) -> Iterator[Server]:
    """The same for one journey alone."""
    prepare(tmp_path)
    with running(tmp_path, TRAINER_NOW=clock.stamp(START)) as server:
        yield server


def press(page: Page, name: str | re.Pattern[str]) -> None:
    """Press that button and wait for the page."""
    page.get_by_role("button", name=name).first.click()
    settled(page)


def to_sheets(page: Page) -> None:
    """The first step of a sign-off."""
    page.get_by_role("link", name="Sign-off").click()
    expect(page.get_by_role("heading", name="Who did you watch?")).to_be_visible()


def title(page: Page, text: str) -> None:
    """Wait for the page of that title."""
    expect(page.get_by_role("heading", level=1)).to_have_text(text)
    settled(page)


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("width", WIDTHS)
def test_every_state_is_for_everybody(browser: Browser, crew: Server, width: int, scheme: str) -> None:
    with opened(browser, width, scheme) as tablet:
        page = tablet.page

        def is_for_everybody() -> None:
            assert violations(page) == [], page.url
            assert overflow(page) <= 0, page.url

        sign_in(page, crew, "bill")
        title(page, "Who holds what today")
        is_for_everybody()
        to_sheets(page)
        is_for_everybody()
        press(page, "Ray Dunn Floorhand")
        title(page, "Ray Dunn: what is it for?")
        is_for_everybody()
        to_sheets(page)
        press(page, re.compile("^Luis Ortega Assessment"))
        title(page, "Luis Ortega: on the job")
        expect(page.get_by_text("Why does it not apply?").first).to_be_visible()
        is_for_everybody()
        press(page, re.compile("^Look it over"))
        title(page, "Luis Ortega: look it over")
        expect(page.get_by_text("Before you can sign")).to_be_visible()
        is_for_everybody()
        to_sheets(page)
        press(page, re.compile("^Ray Dunn Assessment"))
        press(page, re.compile("^Look it over"))
        expect(page.get_by_text("Make safe first, then swap.")).to_be_visible()
        is_for_everybody()
        press(page, re.compile("^Sign: first you"))
        title(page, "Ray Dunn: sign")
        is_for_everybody()
        tap_pin(page, rig.PINS["bill"], "Go on")
        title(page, "Ray Dunn: now your PIN")
        is_for_everybody()
        press(page, "Back to the sheet")
        title(page, "Ray Dunn: on the job")
        press(page, "Throw this sheet away")
        title(page, "Throw away the sheet about Ray Dunn?")
        is_for_everybody()


def test_a_stand_down_is_signed_after_a_wrong_pin_and_stands_on_todays_page(page: Page, own_crew: Server) -> None:
    sign_in(page, own_crew, "bill")
    to_sheets(page)
    press(page, re.compile("^Ray Dunn Assessment"))
    press(page, re.compile("^Look it over"))
    press(page, re.compile("Ray Dunn does not want to sign"))
    tap_pin(page, "111222", "Sign")
    expect(page.get_by_role("alert").filter(has_text="do not match")).to_be_visible()
    tap_pin(page, rig.PINS["bill"], "Sign")

    title(page, "Signed")
    expect(page.get_by_text("Make safe first, then swap. Never leave the pipe.")).to_be_visible()
    assert violations(page) == []
    press(page, "To today's crew")
    expect(page.get_by_text("Not on the slips for: Hand placement.")).to_be_visible()
    assert not re.search("|".join(rig.PINS.values()), page.url)


def test_ticks_and_fields_outlive_a_killed_server(tablet: Tablet, own_crew: Server, browser: Browser) -> None:
    page = tablet.page
    sign_in(page, own_crew, "bill")
    to_sheets(page)
    press(page, re.compile("^Luis Ortega Assessment"))
    page.get_by_role("radio", name="Pulling out").click()
    page.get_by_label("Anything else you saw").fill("Wind")
    page.get_by_label("Anything else you saw").blur()
    step = page.get_by_role("group", name="Critical Hands only on the handles")
    step.get_by_role("radio", name="Met", exact=True).check()
    # The server takes one thing after the other, so the last one counted means that all are kept.
    expect(page.get_by_role("button", name="Look it over and sign: 4 of 25 steps ticked")).to_be_visible()
    own_crew.kill()
    expect(page.get_by_test_id("stApp")).not_to_have_attribute("data-test-connection-state", "CONNECTED")
    own_crew.start()
    settled(page)
    tablet.forgive()
    with opened(browser) as other:
        sign_in(other.page, own_crew, "bill")
        to_sheets(other.page)
        press(other.page, re.compile("^Luis Ortega Assessment"))
        again = other.page.get_by_role("group", name="Critical Hands only on the handles")
        expect(again.get_by_role("radio", name="Met", exact=True)).to_be_checked()
        expect(other.page.get_by_role("radio", name="Pulling out")).to_be_checked()
        expect(other.page.get_by_label("Anything else you saw")).to_have_value("Wind")


def test_a_number_that_is_taken_out_again_does_not_come_back(page: Page, own_crew: Server) -> None:
    sign_in(page, own_crew, "bill")
    to_sheets(page)
    press(page, re.compile("^Luis Ortega Assessment"))
    seen = page.get_by_role("spinbutton", name=re.compile("^Connections watched"))
    refused = page.get_by_role("alert").filter(has_text="500 cannot be right")
    seen.fill("500")
    seen.press("Enter")
    expect(refused).to_be_visible()
    settled(page)
    page.reload()
    expect(refused).to_be_visible()
    settled(page)
    expect(seen).to_have_value("500")
    seen.fill("")
    seen.press("Enter")
    expect(refused).to_have_count(0)
    settled(page)
    page.reload()
    title(page, "Luis Ortega: on the job")
    expect(seen).to_have_value("")


def test_a_sheet_is_filled_and_signed_by_keyboard_alone(page: Page, own_crew: Server) -> None:
    sign_in(page, own_crew, "bill")
    to_sheets(page)
    page.get_by_role("button", name=re.compile("^Ray Dunn Assessment")).press("Enter")
    title(page, "Ray Dunn: on the job")
    step = page.get_by_role("group", name="Critical Hands out before the weight comes on")
    step.get_by_role("radio", name="Not met").press("ArrowLeft")
    settled(page)
    expect(step.get_by_role("radio", name="Met after prompt")).to_be_checked()
    expect(step.get_by_role("radio", name="Met after prompt")).to_be_focused()
    yes = page.get_by_role("radio", name="Yes", exact=True).last
    yes.press("ArrowRight")
    settled(page)
    page.get_by_role("button", name=re.compile("^Look it over")).press("Enter")
    page.get_by_role("button", name=re.compile("is not here")).press("Enter")
    field = page.get_by_label("Your PIN, Bill Hart")
    field.press_sequentially(rig.PINS["bill"])
    field.press("Enter")
    title(page, "Signed")


def test_targets_are_big_enough_for_cold_thumbs(browser: Browser, crew: Server) -> None:
    with opened(browser, 400) as tablet:
        page = tablet.page
        sign_in(page, crew, "bill")
        to_sheets(page)
        press(page, re.compile("^Luis Ortega Assessment"))
        ticks = page.locator(".segments .segment")
        expect(ticks.first).to_be_visible()
        assert min(box["height"] for box in (tick.bounding_box() for tick in ticks.all()[:10]) if box) >= 80
        others = page.locator(".stButton button, .stButtonGroup button")
        assert min(box["height"] for box in (other.bounding_box() for other in others.all()) if box) >= 44
