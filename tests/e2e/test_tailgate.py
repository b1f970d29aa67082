"""A whole tailgate on one tablet in a real browser: the tablet is locked, the server dies, nothing is lost."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.e2e import rig
from tests.e2e.conftest import (
    SCHEMES,
    WIDTHS,
    Server,
    Tablet,
    opened,
    overflow,
    saved,
    settled,
    sign_in,
    tap_pin,
    violations,
)
from trainer import settings
from trainer.core.catalogue import Catalogue
from trainer.core.records import Tailgate
from trainer.core.tasks import ChooseOne, JudgeDrawing

pytestmark = pytest.mark.browser


def press(page: Page, name: str | re.Pattern[str]) -> None:
    """Press that button and wait for what it does."""
    page.get_by_role("button", name=name).first.click()
    settled(page)


def title(page: Page, text: str) -> None:
    """Wait for the page with that title."""
    expect(page.get_by_role("heading", name=text, exact=True)).to_be_visible()


def topic(page: Page) -> None:
    """Choose the first topic and begin its talk."""
    page.get_by_role("link", name="Tailgate").click()
    title(page, "Tailgate")


def right_texts(catalogue: Catalogue) -> set[str]:
    """The words of every right answer that a tailgate can ask for, in every language."""
    tasks = [item.task for bank in catalogue.banks.values() for item in bank.items if item.tailgate]
    return {
        sentence
        for task in tasks
        if isinstance(task, ChooseOne | JudgeDrawing)
        for option in task.options
        if option.right and option.text
        for sentence in option.text.values()
    }


def tiles(page: Page) -> Locator:
    """The options on screen."""
    return page.locator("label.tile")


def answer(page: Page, right: set[str]) -> None:
    """Tap the right option of the question on screen; wait for the next thing."""
    expect(tiles(page).first).to_be_visible()
    here = page.get_by_text(re.compile(r"(question|pregunta) \d of|(question|pregunta) \d de")).inner_text()
    words = [each.strip() for each in tiles(page).all_inner_texts()]
    tiles(page).nth(next(place for place, each in enumerate(words) if each in right)).click()
    expect(page.get_by_text(here, exact=True)).to_have_count(0)
    settled(page)


def take_part(page: Page, name: str, right: set[str]) -> None:
    """One person: his name and three taps."""
    page.get_by_role("button", name=name, exact=True).click()
    for _ in range(3):
        answer(page, right)


def begin(page: Page) -> None:
    """Take a topic out of the whole list, because a new rig has no reason for one, and begin its talk."""
    take(page)
    press(page, "Begin the talk")
    expect(page.get_by_text("Point 1 of 3")).to_be_visible()


def take(page: Page) -> None:
    """The first topic of the whole list."""
    page.get_by_label("Another topic").click()
    page.get_by_role("option", name="Setting the slips").click()
    press(page, "Talk about this")
    expect(page.get_by_role("button", name="Begin the talk")).to_be_visible()


def to_questions(page: Page) -> None:
    """From the first point to the names."""
    for number in (2, 3):
        press(page, "Next point")
        expect(page.get_by_text(f"Point {number} of 3")).to_be_visible()
    press(page, "To the questions")
    title(page, "Who has the tablet?")


def to_the_end(page: Page) -> None:
    """From the first answer to who was there."""
    for number in (2, 3):
        press(page, "Next answer")
        expect(page.get_by_text(f"Answer {number} of 3")).to_be_visible()
    press(page, "Who was there")
    title(page, "Who was there?")


def test_a_tailgate_outlives_a_killed_server_and_writes_one_record_each(tablet: Tablet, own_server: Server) -> None:
    page = tablet.page
    where = settings.read(own_server.log.parent / "data")
    desk = rig.open_desk(where)
    right = right_texts(desk.catalogue)
    sign_in(page, own_server, "bill")
    topic(page)
    begin(page)
    to_questions(page)

    page.goto(f"{own_server.url}matrix")
    title(page, "Who has the tablet?")
    assert page.get_by_role("link", name="Matrix").count() == 0
    take_part(page, "Ray Dunn", right)
    page.get_by_role("button", name="Luis Ortega", exact=True).click()
    answer(page, right)
    own_server.kill()
    own_server.start()
    expect(page.get_by_text("pregunta 2 de 3")).to_be_visible()
    settled(page)
    # While the server was away the browser could not but say so.
    tablet.forgive()
    answer(page, right)
    answer(page, right)
    title(page, "All have answered")
    press(page, "Show the answers to all")
    expect(page.get_by_text("2 of 2 had it right.")).to_be_visible()
    to_the_end(page)
    page.locator(".st-key-was-luis").get_by_text("Came late").click()
    expect(page.get_by_text("Passed: 1. Attendance: 1.")).to_be_visible()
    tap_pin(page, rig.PINS["bill"], "Vouch")

    title(page, "The tailgate is on record")
    bodies = [each.body for each in desk.store.records(kinds=("tailgate",)) if isinstance(each.body, Tailgate)]
    assert [(body.present, body.passed) for body in bodies] == [("led", False), ("late", False), ("throughout", True)]
    assert desk.store.verify() == []
    desk.store.close()
    press(page, "To the matrix")
    assert rig.PINS["bill"] not in page.url


def test_the_second_half_of_a_double_tap_answers_no_second_question(page: Page, own_server: Server) -> None:
    sign_in(page, own_server, "bill")
    topic(page)
    begin(page)
    to_questions(page)
    page.get_by_role("button", name="Ray Dunn", exact=True).click()
    expect(tiles(page).first).to_be_visible()
    settled(page)
    expect(page.locator(".st-key-ask-0")).to_have_css("pointer-events", "auto")
    tiles(page).first.dblclick()
    expect(page.get_by_text("question 2 of 3")).to_be_visible()
    settled(page)
    # Must not happen: the next question answered by the same thumb.
    expect(page.get_by_text("question 2 of 3")).to_be_visible()


def faults(page: Page) -> list[str]:
    """What axe finds wrong with this step, and what sticks out, at every width, light and dark."""
    found = []
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 900})
        for scheme in SCHEMES:
            page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
            found += [f"{width} {scheme} {each}" for each in violations(page)]
        found += [f"{width} sticks out"] if overflow(page) > 0 else []
    page.set_viewport_size({"width": WIDTHS[0], "height": 900})
    page.emulate_media(color_scheme="light")
    return found


def test_every_step_of_a_tailgate_is_accessible_and_fits(browser: Browser, own_server: Server) -> None:
    with opened(browser) as tablet:
        page, found = tablet.page, dict[str, list[str]]()

        def look(name: str) -> None:
            found[name] = faults(page)

        sign_in(page, own_server, "bill")
        topic(page)
        look("topics")
        press(page, "Enter a tailgate that was held on paper")
        title(page, "A tailgate on paper")
        look("paper")
        press(page, "Back")
        title(page, "Tailgate")
        take(page)
        look("ready")
        press(page, "Begin the talk")
        expect(page.get_by_text("Point 1 of 3")).to_be_visible()
        look("point")
        press(page, re.compile("^Sign out$"))
        expect(page.get_by_text("Sign out in the middle of the tailgate?")).to_be_visible()
        look("way out")
        press(page, "No, stay")
        to_questions(page)
        look("names")
        page.get_by_role("button", name="Ray Dunn", exact=True).click()
        expect(tiles(page).first).to_be_visible()
        look("question")
        boxes = [box for each in tiles(page).all() if (box := each.bounding_box())]
        for number in (1, 2, 3):
            expect(page.locator(f".st-key-ask-{number - 1}")).to_have_css("pointer-events", "auto")
            tiles(page).first.click()
            expect(page.get_by_text(f"question {number} of 3")).to_have_count(0)
            settled(page)
        look("thanks")
        press(page, "Stop here for now")
        title(page, "Stop here for now")
        look("lay down")
        press(page, "No, go on")
        press(page, "Go on without them")
        expect(page.get_by_text("Answer 1 of 3")).to_be_visible()
        look("answers")
        to_the_end(page)
        look("sign")
        tap_pin(page, rig.PINS["bill"], "Vouch")
        title(page, "The tailgate is on record")
        look("done")
        assert saved(page, "Print this talk").startswith(b"%PDF")
        press(page, "Another tailgate")
        expect(page.get_by_role("heading", name="Your last tailgates")).to_be_visible()
        look("found again")
        assert {name: each for name, each in found.items() if each} == {}
        assert min(box["height"] for box in boxes) >= 60
