"""Card, lesson and quiz in a real browser: by keyboard, through a power cut, and on every size of screen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.app.learning import LESSON, key_of, of, wrong_of
from tests.e2e import rig
from tests.e2e.conftest import SCHEMES, WIDTHS, Server, opened, overflow, running, settled, sign_in, violations
from trainer import settings
from trainer.actions import learning, quizzing
from trainer.actions.desk import Desk
from trainer.core.marking import critical_objectives, right_answer
from trainer.core.shown import to_handles
from trainer.core.tasks import ChooseOne
from trainer.core.workings import FUNCTIONS

pytestmark = pytest.mark.browser


def miss_first_must_know(desk: Desk) -> quizzing.Sitting:
    """A quiz that has come to a must-know that was not right."""
    sitting = quizzing.start(desk, LESSON)
    critical = critical_objectives(sitting.bank)
    while True:
        place = sitting.answered
        is_critical = sitting.item(place)[0].objective in critical
        given = wrong_of(sitting, place) if is_critical else key_of(sitting, place)
        sitting = quizzing.answer(desk, sitting.draft_id, place, given).sitting
        if is_critical:
            return sitting


def not_yet(desk: Desk) -> str:
    """The record of a quiz with the first half of its answers not right."""
    sitting = quizzing.start(desk, LESSON)
    for place in range(len(sitting.form.items)):
        given = wrong_of(sitting, place) if place < 6 else key_of(sitting, place)
        sitting = quizzing.answer(desk, sitting.draft_id, place, given).sitting
    return quizzing.finish(desk, sitting.draft_id)[0].record_id


def play_to(desk: Desk, scene: str) -> None:
    """The lesson played up to ``scene``."""
    playing = learning.open_lesson(desk, LESSON)
    while playing.scene and playing.scene.id != scene:
        answer = learning.ONWARD if playing.scene.task is None else ""
        if playing.scene.task:
            key = right_answer(playing.scene.task, playing.play.parameters(playing.scene), FUNCTIONS)
            answer = to_handles(playing.scene.task, playing.play.order(playing.scene), key)
        playing = learning.choose(desk, playing.draft_id, playing.scene.id, answer)


@pytest.fixture(scope="module")
def half_way(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Server, str, int]]:
    """A rig on which ray is in the middle of everything; his last quiz, and the answers of the one that is open."""
    folder = tmp_path_factory.mktemp("half-way")
    rig.make(folder / "data")
    desk = of(rig.open_desk(settings.read(folder / "data")), "ray")
    record = not_yet(replace(desk, now=desk.now - timedelta(hours=13)))
    answers = miss_first_must_know(desk).answered
    play_to(desk, "on-the-handles")
    desk.store.close()
    with running(folder) as server:
        yield server, record, answers


def steps_of(record: str, answers: int) -> dict[str, str]:
    """Every state with its address."""
    return {
        "card": "card",
        "a right choice": f"lesson?lesson={LESSON}",
        "a scene": f"lesson?lesson={LESSON}&seen=2",
        "looking back": f"lesson?lesson={LESSON}&scene=out-in-time&quiz={LESSON}&taken={record}",
        "the end": f"lesson?lesson={LESSON}&done=1",
        "a must-know missed": f"quiz?quiz={LESSON}",
        "a question": f"quiz?quiz={LESSON}&seen={answers}",
        "not yet": f"quiz?quiz={LESSON}&taken={record}",
    }


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("width", WIDTHS)
def test_every_state_is_clean_and_fits(
    browser: Browser, half_way: tuple[Server, str, int], width: int, scheme: str
) -> None:
    server, record, answers = half_way
    found, wide = {}, {}
    with opened(browser, width, scheme) as tablet:
        sign_in(tablet.page, server, "ray")
        for state, address in steps_of(record, answers).items():
            tablet.page.goto(f"{server.url}{address}")
            expect(tablet.page.locator("h1, h3").first).to_be_visible()
            settled(tablet.page)
            found[state], wide[state] = violations(tablet.page), overflow(tablet.page)
        # An address below the first makes Streamlit look for its own files below it first.
        tablet.forgive()

    assert found == {state: [] for state in found}
    assert {state: by for state, by in wide.items() if by > 0} == {}


def test_a_quiz_outlives_a_power_cut_with_the_tap_that_was_not_saved_yet(
    browser: Browser, own_server: Server, tmp_path: Path
) -> None:
    desk = of(rig.open_desk(settings.read(tmp_path / "data")), "ray")
    saved = answer_until_tiles(desk)
    desk.store.close()
    with opened(browser) as tablet:
        page = tablet.page
        sign_in(page, own_server, "ray")
        page.locator(".st-key-next-press").get_by_role("button", name="Go on with the quiz").click()
        tile = page.locator("label.tile").first
        tile.click()
        expect(page.get_by_role("button", name="Save and go on")).to_be_enabled()
        question = page.locator("h3").first.inner_text()
        settled(page)

        own_server.kill()
        own_server.start()
        settled(page)
        expect(tile.locator("input")).to_be_checked()
        page.reload()
        settled(page)
        expect(page.locator("h3").first).to_have_text(question)
        expect(tile.locator("input")).to_be_checked()

        page.get_by_role("button", name="Save and go on").click()
        expect(page.get_by_text(f"Saved: {saved + 1} of 12.")).to_be_visible()
        tablet.forgive()


def test_back_from_the_quiz_shows_the_end_of_the_lesson_that_led_there(
    browser: Browser, own_server: Server, tmp_path: Path
) -> None:
    desk = of(rig.open_desk(settings.read(tmp_path / "data")), "ray")
    play_to(desk, "")
    learning.finish(desk, learning.open_lesson(desk, LESSON).draft_id)
    desk.store.close()
    with opened(browser) as tablet:
        page = tablet.page
        sign_in(page, own_server, "ray")
        page.goto(f"{own_server.url}lesson?lesson={LESSON}&done=1")
        page.locator(".st-key-next-thing, .st-key-ways-out").get_by_role("button", name="To the quiz").first.click()
        expect(page.get_by_role("heading", name="Quiz: Where your hands go")).to_be_visible()
        settled(page)

        page.go_back()
        expect(page.get_by_role("heading", name="That was the lesson")).to_be_visible()
        tablet.forgive()


def test_the_line_that_says_how_far_one_is_is_as_wide_as_the_page_where_nothing_reads_aloud(
    browser: Browser, half_way: tuple[Server, str, int]
) -> None:
    server, _, answers = half_way
    with opened(browser, 320) as tablet:
        sign_in(tablet.page, server, "ray")
        tablet.page.goto(f"{server.url}quiz?quiz={LESSON}&seen={answers}")
        bar, heading = tablet.page.get_by_test_id("stProgress"), tablet.page.get_by_test_id("stHeading").first
        expect(bar).to_be_visible()
        settled(tablet.page)
        tablet.page.wait_for_function("document.querySelector('.st-key-aloud [data-empty]')")
        assert bar.bounding_box()["width"] == heading.bounding_box()["width"]  # type: ignore[index]


def answer_until_tiles(desk: Desk) -> int:
    """How many answers are saved in a quiz that has come to one of several to choose, which is no must-know."""
    sitting = quizzing.start(desk, LESSON)
    critical = critical_objectives(sitting.bank)
    while True:
        place = sitting.answered
        item = sitting.item(place)[0]
        if isinstance(item.task, ChooseOne) and item.objective not in critical:
            return place
        sitting = quizzing.answer(desk, sitting.draft_id, place, key_of(sitting, place)).sitting
