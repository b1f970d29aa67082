"""Sheets to print in a real browser: one press gives a PDF, on every page that offers one, and no policy stops it."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.app.office_pages import bring
from tests.e2e import rig
from tests.e2e.conftest import SCHEMES, Server, opened, overflow, pick_from, running, settled, sign_in, violations
from tests.unit.export import pdfs
from trainer import settings

pytestmark = pytest.mark.browser

SMALLEST_TARGET = 44


@pytest.fixture(scope="module")
def floor(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """A rig on which ray was watched."""
    folder = tmp_path_factory.mktemp("prints")
    rig.make(folder / "data")
    desk = rig.open_desk(settings.read(folder / "data"))
    try:
        bring(desk, f"ray,hand-placement,practical,{desk.today},pass,bill,Saw all of it")
    finally:
        desk.store.close()
    with running(folder) as server:
        yield server


def printed(page: Page, key: str, label: str) -> tuple[str, bytes]:
    """The name and the bytes of what that button saves.

    Found by its key: several of one label are not drawn in the order in which they stand while a page comes up.
    """
    with page.expect_download() as waiting:
        page.locator(f".st-key-{key}").get_by_role("button", name=re.compile(label)).click()
    return waiting.value.suggested_filename, waiting.value.path().read_bytes()


def test_a_driller_prints_the_wall_a_card_a_talk_and_the_poster(page: Page, floor: Server) -> None:
    sign_in(page, floor, "bill")
    offers = (
        ("today", "print-wall", "Print for the wall", "crew-day-1-rig-1.pdf"),
        ("signoff", "print-card-connections", "Connections", "card-connections-rig-1.pdf"),
        ("signoff?hand=ray", "print-card-collars-clamp", "Paper card", "card-collars-clamp-rig-1.pdf"),
        ("matrix", "save-pdf", "Poster of", "matrix-rig-1-"),
        ("evidence?hand=ray&competency=hand-placement", "print-record", "Print the card", "record-ray-rig-1.pdf"),
    )
    for where, key, label, name in offers:
        page.goto(f"{floor.url}{where}")
        settled(page)
        found, data = printed(page, key, label)
        assert found.startswith(name)
        assert pdfs.sizes(data)

    page.goto(f"{floor.url}tailgate")
    pick_from(page, "Another topic", "Hand placement")
    page.get_by_role("button", name="Talk about this").first.click()
    settled(page)
    name, data = printed(page, "print-tailgate", "Sheet to print")
    assert name.startswith("tailgate-")
    assert len(pdfs.squares(data, 5.5)) == 20 * 4


def test_a_hand_prints_his_own_card_and_the_office_the_first_day(browser: Browser, floor: Server) -> None:
    with opened(browser, 400) as tablet:
        sign_in(tablet.page, floor, "ray")
        tablet.page.goto(f"{floor.url}card")
        settled(tablet.page)
        assert printed(tablet.page, "print-record", "Print my card")[0] == "record-ray-rig-1.pdf"
    with opened(browser) as tablet:
        sign_in(tablet.page, floor, rig.COORDINATOR)
        tablet.page.goto(f"{floor.url}people?hand=ray")
        settled(tablet.page)
        assert printed(tablet.page, "print-orientation", "Orientation sheet")[0] == "orientation-ray-rig-1.pdf"
        # Whoever signs that he understood it reads it in his own language, whatever the office reads.
        tablet.page.goto(f"{floor.url}people?hand=luis")
        settled(tablet.page)
        name, data = printed(tablet.page, "print-orientation", "Orientation sheet")
        assert name == "orientation-luis-rig-1.pdf"
        assert "entendí, y puedo parar el trabajo" in pdfs.text_as_set(data)


@pytest.mark.parametrize("scheme", SCHEMES)
def test_what_can_be_printed_is_a_large_enough_target_and_clean_for_axe(
    browser: Browser, floor: Server, scheme: str
) -> None:
    with opened(browser, 400, scheme) as tablet:
        page = tablet.page
        sign_in(page, floor, "bill")
        for where in ("signoff", "signoff?hand=ray", "tailgate?paper=1", "card"):
            page.goto(f"{floor.url}{where}")
            settled(page)
            expect(page.get_by_role("heading").first).to_be_visible()
            buttons = page.get_by_test_id("stDownloadButton").get_by_role("button").all()
            boxes = [box for box in (button.bounding_box() for button in buttons) if box]
            assert [box for box in boxes if box["height"] < SMALLEST_TARGET] == []
            assert violations(page) == []
            assert overflow(page) <= 0
