"""The office's pages in a real browser: the matrix by keyboard, files, and every page and state held against axe."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.app.office_pages import bring
from tests.e2e import rig
from tests.e2e.conftest import (
    SCHEMES,
    WIDTHS,
    Server,
    opened,
    overflow,
    pick_from,
    running,
    settled,
    sign_in,
    violations,
)
from trainer import settings

pytestmark = pytest.mark.browser

ROSTER = b"hand_id,name,position,crew,joined\nines,In\xc3\xa9s Duarte,florhand,night-1,24/11/2026\n"


@pytest.fixture(scope="module")
def office(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """A rig with some evidence: ray watched, luis off the slips."""
    folder = tmp_path_factory.mktemp("office")
    rig.make(folder / "data")
    desk = rig.open_desk(settings.read(folder / "data"))
    try:
        bring(
            desk,
            f"ray,calls-signals,practical,{desk.today - timedelta(days=30)},pass,bill,Saw all of it",
            f"ray,calls-signals,knowledge,{desk.today - timedelta(days=30)},pass,ray,",
            f"luis,calls-signals,stood-down,{desk.today},,bill,Hand on the handle",
        )
    finally:
        desk.store.close()
    with running(folder) as server:
        yield server


def test_arrow_keys_and_enter_open_the_evidence_of_a_cell(page: Page, office: Server) -> None:
    sign_in(page, office, rig.COORDINATOR)
    first = page.get_by_role("gridcell").first
    expect(first).to_be_visible()
    first.focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")

    expect(page.get_by_role("heading", name="Calls and signals")).to_be_visible()
    expect(page).to_have_url(re.compile("hand=ray&competency=calls-signals"))


def write_day(page: Page, day: date) -> None:
    """Write ``day`` into the field of the day, number by number."""
    page.get_by_role("spinbutton", name="year, As of").click()
    expect(page.get_by_test_id("stDateInputCalendar")).to_be_visible()
    for digit in day.isoformat().replace("-", ""):
        page.keyboard.press(digit)
    expect(page.get_by_role("spinbutton", name="day, As of")).to_have_text(f"{day:%d}")


@pytest.mark.parametrize("key", ["Enter", "Tab"])
def test_a_day_that_is_written_counts_on_enter_or_tab_and_back_to_today_stays(
    page: Page, office: Server, key: str
) -> None:
    sign_in(page, office, rig.COORDINATOR)
    matrix(page)
    settled(page)
    write_day(page, date(2020, 8, 15))
    page.keyboard.press(key)
    expect(page.get_by_text("Nobody was here on that day.")).to_be_visible()
    expect(page.get_by_test_id("stDateInputCalendar")).to_have_count(0)
    expect(page).to_have_url(re.compile("day=2020-08-15"))

    page.get_by_role("button", name="Back to today").click()
    matrix(page)
    expect(page.get_by_role("spinbutton", name="year, As of")).not_to_have_text("2020")
    pick_from(page, "Position", "Floorhand")
    expect(page).to_have_url(re.compile("position=floorhand"))
    assert "day=" not in page.url


def test_a_file_of_the_matrix_is_named_by_site_and_day(page: Page, office: Server) -> None:
    sign_in(page, office, rig.COORDINATOR)
    with page.expect_download() as waiting:
        page.get_by_role("button", name="as CSV").click()
    assert waiting.value.suggested_filename.startswith("matrix-rig-1-")
    assert waiting.value.path().read_bytes().startswith(b"\xef\xbb\xbfhand_id,name,position,crew,competency")


def test_the_pictures_have_their_numbers_in_words_and_no_buttons_of_their_own(page: Page, office: Server) -> None:
    sign_in(page, office, rig.COORDINATOR)
    expect(page.get_by_role("figure", name="Due in the next 90 days")).to_be_visible()
    expect(page.get_by_role("figure", name="How the crew stands")).to_be_visible()
    assert page.locator(".modebar").count() == 0


def matrix(page: Page) -> None:
    """The table and the pictures."""
    expect(page.get_by_role("gridcell").first).to_be_visible()
    expect(page.get_by_role("figure", name="How the crew stands")).to_be_visible()


def evidence(page: Page) -> None:
    """The records behind a cell."""
    page.get_by_role("gridcell", name="Current").first.click()
    expect(page.get_by_text("This record decides.")).to_be_visible()


def asked_again(page: Page) -> None:
    """A void about to be written, with the second person's keypad."""
    page.get_by_role("gridcell", name="Off the slips").first.click()
    page.get_by_role("button", name="Void this record").click()
    page.get_by_label("Why is it void?").fill("Not this hand")
    page.get_by_role("button", name="Go on").click()
    page.get_by_role("button", name="Bill Hart").click()
    expect(page.get_by_role("button", name="Agree and void it")).to_be_visible()


def everybody(page: Page) -> None:
    """The list of people."""
    page.get_by_role("link", name="People").click()
    expect(page.get_by_role("button", name="Ray Dunn")).to_be_visible()


def code_shown(page: Page) -> None:
    """One person, with a one-use code on screen."""
    everybody(page)
    page.get_by_role("button", name="Ray Dunn").click()
    page.get_by_role("button", name="Give a one-use code").click()
    expect(page.get_by_text("it is shown only this once")).to_be_visible()


def add_refused(page: Page) -> None:
    """The form for somebody new, refused."""
    everybody(page)
    page.get_by_role("button", name="Add one person").click()
    page.get_by_role("button", name="Add", exact=True).click()
    expect(page.get_by_text("No hand id.")).to_be_visible()


def roster_refused(page: Page) -> None:
    """A roster with bad cells."""
    everybody(page)
    page.get_by_role("button", name="Roster file in").click()
    page.locator("input[type=file]").set_input_files({"name": "crew.csv", "mimeType": "text/csv", "buffer": ROSTER})
    expect(page.get_by_text("Nothing was taken in.")).to_be_visible()


STATES = (matrix, evidence, asked_again, everybody, code_shown, add_refused, roster_refused)


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("width", WIDTHS)
def test_every_page_and_state_is_for_everybody(browser: Browser, office: Server, width: int, scheme: str) -> None:
    with opened(browser, width, scheme) as tablet:
        sign_in(tablet.page, office, rig.COORDINATOR)
        for come_to in STATES:
            tablet.page.get_by_role("link", name="Matrix").click()
            matrix(tablet.page)
            settled(tablet.page)
            come_to(tablet.page)
            settled(tablet.page)
            assert (come_to.__name__, violations(tablet.page)) == (come_to.__name__, [])
            assert (come_to.__name__, max(overflow(tablet.page), 0)) == (come_to.__name__, 0)
