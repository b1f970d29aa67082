"""What the browser's voice reads is what the page shows: questions before they are answered, reasons afterwards."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.app.learning import LESSON, key_of, of
from tests.e2e import rig
from tests.e2e.answers import play, wrong
from tests.e2e.conftest import Server, opened, running, settled, sign_in, violations
from trainer import settings
from trainer.actions import quizzing
from trainer.actions.desk import Desk

pytestmark = pytest.mark.browser

VOICE = Path(__file__).with_name("voice.js")
SCENE = "out-in-time"


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """A small rig."""
    folder = tmp_path_factory.mktemp("voice")
    rig.make(folder / "data")
    with running(folder) as server:
        yield server


@pytest.fixture
def desk(server: Server) -> Iterator[Desk]:
    """A desk beside the server."""
    desk = rig.open_desk(settings.read(server.log.parent / "data"))
    yield desk
    desk.store.close()


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A page on a machine that speaks both languages."""
    with opened(browser) as tablet:
        tablet.page.add_init_script(path=VOICE)
        yield tablet.page


def button(page: Page) -> Locator:
    """The one button, in either language and state."""
    return page.get_by_role("button", name=re.compile("^(Read to me|Léamelo)"))


def said(page: Page) -> list[str]:
    """What was spoken so far."""
    found: list[str] = page.evaluate("heard.said.map(each => each.text)")
    return found


def go(page: Page, server: Server, address: str, heading: str) -> None:
    """Open an address of the app and wait for its heading."""
    page.goto(server.url + address)
    expect(page.get_by_role("heading", name=heading).first).to_be_visible()
    settled(page)


def test_a_scene_is_read_as_it_is_shown_and_only_when_asked(page: Page, server: Server, desk: Desk) -> None:
    scene = desk.catalogue.lessons[LESSON].scene(SCENE)
    assert scene
    sign_in(page, server, "ray")
    go(page, server, play(of(desk, "ray"), LESSON, SCENE), "When your hands come out")
    options = page.locator("label .text")
    expect(options).to_have_count(3)
    shown = options.all_inner_texts()
    assert said(page) == []
    expect(button(page)).to_have_attribute("aria-pressed", "false")
    button(page).press("Enter")

    assert said(page) == [
        "When your hands come out",
        scene.text["en"],
        "When do your hands leave the handles?",
        *shown,
    ]
    assert page.evaluate("heard.said.every(each => each.lang === 'en-US')")
    expect(button(page)).to_have_attribute("aria-pressed", "true")
    expect(button(page)).to_have_text("Read to me: Stop")


def test_an_outcome_is_read_with_its_reason(page: Page, server: Server, desk: Desk) -> None:
    sign_in(page, server, "ray")
    go(page, server, play(of(desk, "ray"), LESSON, SCENE, wrong), "When your hands come out")
    button(page).click()

    assert "Not that way" in said(page)
    assert any(each.startswith("Why: ") for each in said(page))
    for each in said(page):
        expect(page.get_by_text(each, exact=True).first).to_be_visible()


def test_a_question_is_read_in_the_pages_language_without_a_word_of_its_answer(
    page: Page, server: Server, desk: Desk
) -> None:
    luis = of(desk, "luis")
    sitting = quizzing.start(luis, LESSON)
    sign_in(page, server, "luis")
    page.goto(f"{server.url}quiz?quiz={LESSON}")
    expect(page.get_by_text(re.compile("^Pregunta 1 de"))).to_be_visible()
    settled(page)
    button(page).click()

    shown = sitting.shown(0, "es")
    assert said(page)[0] == shown.text
    assert [each.text for each in shown.task.choices if each.text] == said(page)[1 : 1 + len(shown.task.choices)] or (
        shown.task.kind not in ("choose-one", "choose-all")
    )
    assert page.evaluate("heard.said.every(each => each.lang === 'es_MX')")
    quizzing.answer(luis, sitting.draft_id, 0, key_of(sitting, 0))


def test_the_voice_stops_at_the_button_at_the_end_and_with_the_page(page: Page, server: Server, desk: Desk) -> None:
    sign_in(page, server, "ray")
    go(page, server, play(of(desk, "ray"), LESSON, SCENE), "When your hands come out")
    button(page).click()
    before = page.evaluate("heard.cancelled")
    button(page).click()
    assert page.evaluate("heard.cancelled") == before + 1
    expect(button(page)).to_have_text("Read to me")

    button(page).click()
    page.evaluate("heard.over()")
    expect(button(page)).to_have_attribute("aria-pressed", "false")

    button(page).click()
    before = page.evaluate("heard.cancelled")
    page.get_by_role("link", name="My card").click()
    expect(page.get_by_role("heading", name="My card")).to_be_visible()
    page.wait_for_function("before => heard.cancelled === before + 1", arg=before)


def test_going_on_to_the_outcome_stops_the_voice(page: Page, server: Server, desk: Desk) -> None:
    sign_in(page, server, "ray")
    go(page, server, play(of(desk, "ray"), LESSON, SCENE), "When your hands come out")
    button(page).click()
    page.get_by_role("radio").first.check()
    settled(page)
    # A tap on an answer is no other page.
    expect(button(page)).to_have_attribute("aria-pressed", "true")
    page.get_by_role("button", name="That is my answer").click()
    expect(page.get_by_text("You chose:")).to_be_visible()
    settled(page)

    expect(button(page)).to_have_attribute("aria-pressed", "false")


def test_without_a_voice_of_the_machine_there_is_no_button_until_one_comes(
    browser: Browser, server: Server, desk: Desk
) -> None:
    with opened(browser) as tablet:
        page = tablet.page
        page.add_init_script("window.voicesAtFirst = []")
        page.add_init_script(path=VOICE)
        sign_in(page, server, "ray")
        go(page, server, play(of(desk, "ray"), LESSON, SCENE), "When your hands come out")
        for lang, is_local in (("", True), ("es-MX", True), ("en-US", False)):
            page.evaluate("voice => heard.come([voice])", {"lang": lang, "localService": is_local})
            expect(button(page)).to_be_hidden()
        page.evaluate("heard.come([{ lang: 'en-GB', localService: true }])")

        expect(button(page)).to_be_visible()


@pytest.mark.parametrize(("width", "scheme"), [(1280, "light"), (320, "dark")])
def test_the_button_is_big_enough_and_clean_for_axe(
    browser: Browser, server: Server, desk: Desk, width: int, scheme: str
) -> None:
    with opened(browser, width, scheme) as tablet:
        page = tablet.page
        page.add_init_script(path=VOICE)
        sign_in(page, server, "ray")
        go(page, server, play(of(desk, "ray"), LESSON, SCENE), "When your hands come out")
        assert violations(page) == []
        button(page).click()
        box = button(page).bounding_box()

        assert box is not None
        assert min(box["width"], box["height"]) >= 44
        assert violations(page) == []
