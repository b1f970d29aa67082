"""One journey from a hand's first day to the auditor's file, on a server of its own with its clock stopped."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from openpyxl import load_workbook
from playwright.sync_api import Browser, Page, expect

from tests.e2e import rig
from tests.e2e.answers import Asked, Person, in_lesson, in_quiz, right, until, wrong
from tests.e2e.conftest import (
    Server,
    Tablet,
    choose,
    finish_sign_in,
    opened,
    pick_from,
    running,
    saved,
    settled,
    sign_in,
    tap_pin,
    way_out,
)
from trainer import clock, curriculum
from trainer.actions import learning, look, people, quizzing, signing_in
from trainer.actions.desk import Desk
from trainer.actions.sittings import Sitting
from trainer.core.marking import readable
from trainer.core.records import Observation, QuizTaken
from trainer.core.tasks import ChooseOne
from trainer.core.text import pick
from trainer.curriculum import PictureText
from trainer.settings import Settings

pytestmark = pytest.mark.browser

DAY_ONE = datetime.fromisoformat("2026-03-03T15:00:00+00:00")
DAY_TWO = DAY_ONE + timedelta(days=1)
LESSON = COMPETENCY = QUIZ = "hand-placement"
NEW, NAME, PIN = "nia", "Nia Cole", "351708"
SECOND, SECOND_NAME, SECOND_PIN = "joe", "Joe Tran", "860413"


@dataclass
class Story:
    """The rig of the story: its server, its data, the tablet in the doghouse and the PC in the office."""

    server: Server
    where: Settings
    pictures: Mapping[str, PictureText]
    doghouse: Tablet
    office: Tablet

    @property
    def page(self) -> Page:
        """What the tablet in the doghouse shows."""
        return self.doghouse.page

    def desk(self, hand: str, now: datetime = DAY_ONE) -> Desk:
        """A desk of the test's own beside the server; close its store."""
        return rig.at_desk_of(rig.open_desk(self.where, now), hand)


@pytest.fixture
def story(browser: Browser, tmp_path: Path) -> Iterator[Story]:
    """A rig with two observers who hold everything by records from elsewhere, and nobody else's evidence."""
    where = rig.make(tmp_path / "data", DAY_ONE)
    desk = rig.open_desk(where, DAY_ONE)
    try:
        people.add_person(desk, SECOND, SECOND_NAME, "assistant-driller", "day-1")
        signing_in.first_pin(desk, SECOND, signing_in.new_code(desk, SECOND), SECOND_PIN, "setup")
        for observer in ("bill", SECOND):
            rig.bring_all(desk, observer)
    finally:
        desk.store.close()
    with (
        running(tmp_path, TRAINER_NOW=clock.stamp(DAY_ONE)) as server,
        opened(browser) as doghouse,
        opened(browser) as office,
    ):
        yield Story(server, where, curriculum.load(where.root, where.app_root).pictures, doghouse, office)


def test_a_new_hand_learns_passes_is_watched_twice_and_stands_current_in_the_auditors_file(story: Story) -> None:
    code = coordinator_adds_the_hand(story)
    hand_sets_a_pin(story, code)
    card_leads_to_a_lesson(story)
    hand_plays_the_lesson(story)
    hand_takes_the_quiz_through_a_power_cut(story)
    observer_signs(story, "bill", rig.NAMES["bill"], rig.PINS["bill"], brake="Somebody else")
    a_day_goes_by(story)
    observer_signs(story, SECOND, SECOND_NAME, SECOND_PIN, brake=rig.NAMES["bill"])
    sign_in(story.office.page, story.server, rig.COORDINATOR)
    coordinator_sees_the_evidence(story)
    coordinator_takes_the_files(story)
    nothing_is_there_twice(story)


def coordinator_adds_the_hand(story: Story) -> str:
    """The one-use code that the People screen showed for somebody added there."""
    page = story.office.page
    sign_in(page, story.server, rig.COORDINATOR)
    page.get_by_role("link", name="People", exact=True).click()
    page.get_by_role("button", name="Add one person").click()
    page.get_by_label("Hand id", exact=True).fill(NEW)
    page.get_by_label("Name", exact=True).fill(NAME)
    pick_from(page, "Position", "Floorhand")
    pick_from(page, "Crew", "Day crew 1")
    page.get_by_role("button", name="Add", exact=True).click()
    expect(page.get_by_role("heading", name=NAME, exact=True)).to_be_visible()
    expect(page.get_by_text("No PIN yet")).to_be_visible()
    page.get_by_role("button", name="Give a one-use code").click()
    shown = page.get_by_text(re.compile(r"^\d{4} \d{4}$"))
    expect(shown).to_be_visible()
    code = shown.inner_text()

    page.reload()
    expect(page.get_by_text("Code open until")).to_be_visible()
    settled(page)
    assert code not in page.content()
    return code


def hand_sets_a_pin(story: Story, code: str) -> None:
    """The hand signs in with the code and chooses a PIN."""
    page = story.page
    choose(page, story.server, "Day crew 1", NAME)
    page.get_by_role("button", name="First time here").click()
    # The keys of the PIN are there until the keys of the code are.
    expect(page.get_by_label("One-use code", exact=True)).to_be_visible()
    tap_pin(page, code.replace(" ", ""), "Go on")
    expect(page.get_by_label("New PIN", exact=True)).to_be_visible()
    tap_pin(page, PIN, "Go on")
    expect(page.get_by_label("New PIN, again", exact=True)).to_be_visible()
    finish_sign_in(page, PIN, "Save and sign in")

    expect(page.get_by_role("heading", name="My card")).to_be_visible()
    # The bar is the hand's own: nothing of the office in it.
    expect(page.get_by_role("link", name="People")).to_have_count(0)


def card_leads_to_a_lesson(story: Story) -> None:
    """The next thing is a lesson, begun from there, left, and offered again; then the one of the story."""
    page = story.page
    following = page.locator(".st-key-next-thing")
    expect(following.get_by_role("heading", name=re.compile("^Take the lesson: "))).to_be_visible()
    following.get_by_role("button", name="Start the lesson").click()
    expect(page.get_by_text("Scene 1 of ")).to_be_visible()
    page.get_by_role("button", name="Stop here, go on later").click()

    expect(following.get_by_role("heading", name=re.compile("^Take the lesson: "))).to_be_visible()
    on_the_way = page.locator(f".st-key-path-{LESSON}")
    on_the_way.locator("summary").click()
    on_the_way.get_by_role("button", name="Lesson", exact=True).click()
    expect(page.get_by_text("Scene 1 of ")).to_be_visible()


def hand_plays_the_lesson(story: Story) -> None:
    """Every scene answered through the screen, every second one by keyboard alone; the first one wrongly before."""
    page, desk = story.page, story.desk(NEW)
    try:
        lesson = desk.catalogue.lessons[LESSON]
        for number, scene in enumerate(lesson.scenes, start=1):
            expect(page.get_by_text(f"Scene {number} of {len(lesson.scenes)}")).to_be_visible()
            expect(page.get_by_role("heading", name=pick(scene.title, "en"), exact=True)).to_be_visible()
            person = Person(page, story.pictures, by_keyboard=number % 2 == 0)
            asked = in_lesson(learning.open_lesson(desk, LESSON))
            if number == 1:
                assert asked is not None
                a_wrong_choice_plays_out_and_comes_back(person, asked)
            if asked is not None:
                person.give(asked, right(asked))
                person.press("That is my answer")
                expect(page.get_by_text("Right", exact=True).first).to_be_visible()
            person.press("Go on")

        expect(page.get_by_role("heading", name="That was the lesson")).to_be_visible()
        assert len(list(desk.store.records(kinds=("lesson",), hand=NEW))) == 1
        assert not list(desk.store.evidence_rows(hands=(NEW,)))
    finally:
        desk.store.close()


def a_wrong_choice_plays_out_and_comes_back(person: Person, asked: Asked) -> None:
    """What follows is shown with its reason, and the same scene is asked again."""
    page, task = person.page, asked.task
    assert isinstance(task, ChooseOne)
    chosen = next(each for each in task.options if each.id == wrong(asked))
    person.give(asked, chosen.id)
    person.press("That is my answer")
    expect(page.get_by_text("Not that way", exact=True)).to_be_visible()
    assert chosen.then is not None
    expect(page.get_by_text(pick(chosen.then, "en"))).to_be_visible()
    expect(page.get_by_text(pick(chosen.why, "en"))).to_be_visible()
    # The way is not told: that would take the deciding away.
    right_one = next(each for each in task.options if each.right)
    expect(page.get_by_text(pick(right_one.why, "en"))).to_have_count(0)
    person.press("Try again")
    expect(page.get_by_text("Scene 1 of ")).to_be_visible()


def hand_takes_the_quiz_through_a_power_cut(story: Story) -> None:
    """Twelve questions; the server dies after five saved and one tapped, and nothing is lost."""
    page, desk = story.page, story.desk(NEW)
    try:
        page.get_by_role("button", name="To the quiz").click()
        page.get_by_role("button", name="Start the quiz").click()
        sitting = sitting_now(story, desk)
        items = len(sitting.form.items)
        for position in range(5):
            answer_question(story, sitting, position)
        tapped = in_quiz(sitting, 5)
        tap_only(story, desk, tapped)

        the_power_goes_and_comes_back(story)

        expect(page.get_by_text(f"Question 6 of {items}")).to_be_visible()
        expect(page.get_by_text("Nia Cole")).to_be_visible()
        again = sitting_now(story, desk)
        assert (again.draft_id, again.form, again.answered) == (sitting.draft_id, sitting.form, 5)
        person(story, 5).sees(tapped, right(tapped))
        # What was tapped needs no second tap.
        person(story, 5).press("Save and go on")
        for position in range(6, items):
            answer_question(story, sitting, position)

        expect(page.get_by_role("heading", name="Passed", exact=True)).to_be_visible()
        expect(page.get_by_text(f"{items} of {items} right")).to_be_visible()
        expect(page.get_by_role("heading", name="What to fix")).to_have_count(0)
    finally:
        desk.store.close()
    page.get_by_role("button", name="Back to my card").click()
    cell = page.locator(f".st-key-path-{COMPETENCY}")
    cell.locator("summary").click()
    expect(cell.get_by_text("good until Mar 3, 2027")).to_be_visible()
    expect(cell.get_by_text("0 of 2 watches")).to_be_visible()
    leave(page)


def sitting_now(story: Story, desk: Desk) -> Sitting:
    """The sitting that the store holds open, once the screen shows a question."""
    expect(story.page.get_by_text(re.compile(r"^Question \d+ of \d+$"))).to_be_visible()
    settled(story.page)
    found = quizzing.open_sitting(desk, QUIZ)
    assert found is not None
    return found


def person(story: Story, number: int) -> Person:
    """Who answers question ``number``: every second one by keyboard alone."""
    return Person(story.page, story.pictures, by_keyboard=number % 2 == 1)


def answer_question(story: Story, sitting: Sitting, position: int) -> None:
    """One question answered right and saved."""
    expect(story.page.get_by_text(f"Question {position + 1} of {len(sitting.form.items)}")).to_be_visible()
    asked = in_quiz(sitting, position)
    person(story, position).give(asked, right(asked))
    person(story, position).press("Save and go on")


def tap_only(story: Story, desk: Desk, asked: Asked) -> None:
    """Question 6 answered on screen and not saved, as far as the store has it too."""
    expect(story.page.get_by_text("Question 6 of ")).to_be_visible()
    # First another answer: steps that happen to come in the right order would else need no tap.
    person(story, 5).give(asked, wrong(asked))
    person(story, 5).give(asked, right(asked))

    def is_kept() -> bool:
        sitting = quizzing.open_sitting(desk, QUIZ)
        answer, is_final = sitting.given.get(5, ("", False)) if sitting else ("", False)
        return bool(answer) and not is_final and readable(asked.task, answer) == readable(asked.task, right(asked))

    until(story.page, is_kept)


def the_power_goes_and_comes_back(story: Story) -> None:
    """Kill the server and start it again on the same port and data; nobody touches a page."""
    story.server.kill()
    for tablet in (story.doghouse, story.office):
        app = tablet.page.get_by_test_id("stApp")
        expect(app).not_to_have_attribute("data-test-connection-state", "CONNECTED")
    story.server.start()
    for tablet in (story.doghouse, story.office):
        settled(tablet.page)
        tablet.forgive()


def observer_signs(story: Story, observer: str, name: str, pin: str, brake: str) -> None:
    """The observer fills the sheet about the hand, all of it met, and both put their PINs to it."""
    page = story.page
    choose(page, story.server, "Day crew 1", name)
    finish_sign_in(page, pin)
    page.get_by_role("button", name=f"Open a sheet: {NAME}").click()
    page.locator(".st-key-for-connections").get_by_role("button", name=re.compile("^Assessment")).click()
    expect(page.get_by_role("heading", name=f"{NAME}: on the job")).to_be_visible()
    page.get_by_role("radiogroup", name="Who had the brake?").get_by_role("radio", name=brake).click()
    steps = page.get_by_role("radio", name="Met", exact=True)
    expect(steps.first).to_be_visible()
    count = steps.count()
    for number in range(count):
        steps.nth(number).check()
    page.get_by_role("radiogroup", name="Would you let").get_by_role("radio", name="Yes", exact=True).click()
    page.get_by_role("button", name=f"Look it over and sign: {count} of {count} steps ticked").click()
    expect(page.get_by_text("Before you can sign")).to_have_count(0)
    page.get_by_role("button", name=f"Sign: first you, then {NAME}").click()
    expect(page.get_by_label(f"Your PIN, {name}", exact=True)).to_be_visible()
    tap_pin(page, pin, "Go on")
    expect(page.get_by_label(f"PIN of {NAME}", exact=True)).to_be_visible()
    tap_pin(page, PIN, "Sign")
    expect(page.get_by_role("heading", name="Signed", exact=True)).to_be_visible()
    leave(page)


def a_day_goes_by(story: Story) -> None:
    """The next morning: everybody's session has run out with the tour."""
    desk = story.desk(NEW)
    try:
        assert standing(desk) == "learning"
    finally:
        desk.store.close()
    story.server.stop()
    story.server.environment = {**story.server.environment, "TRAINER_NOW": clock.stamp(DAY_TWO)}
    story.server.start()
    for tablet in (story.doghouse, story.office):
        expect(tablet.page.get_by_role("heading", name="Which crew?")).to_be_visible()
        settled(tablet.page)
        tablet.forgive()


def standing(desk: Desk) -> str:
    """How the hand stands in the competency of the story."""
    return next(str(cell.standing) for cell in look.card(desk, NEW).cells if cell.competency == COMPETENCY)


def coordinator_sees_the_evidence(story: Story) -> None:
    """The cell is current, and behind it stand the quiz and both watches."""
    page = story.office.page
    cell = page.locator(f"td[data-row={NEW}][data-column={COMPETENCY}]")
    expect(cell).to_contain_text("Current")
    cell.click()
    expect(page.get_by_role("heading", name="Hand placement", exact=True)).to_be_visible()
    for name in (rig.NAMES["bill"], SECOND_NAME):
        expect(page.get_by_text(f"Watched by {name}.")).to_have_count(1)
    expect(page.get_by_text("Quiz passed")).to_have_count(1)
    expect(page.get_by_text("This record decides.")).to_have_count(1)
    page.get_by_role("button", name="Back to the matrix").click()
    expect(cell).to_be_visible()


def coordinator_takes_the_files(story: Story) -> None:
    """The matrix as CSV and XLSX, each read back with the hand's row in it."""
    expected = {
        "hand_id": NEW, "name": NAME, "position": "floorhand", "crew": "day-1", "competency": COMPETENCY,
        "standing": "current", "due": "2027-03-03", "late": "",
    }  # fmt: skip
    text = saved(story.office.page, "as CSV").decode("utf-8-sig")
    rows = [row for row in csv.DictReader(io.StringIO(text)) if row["hand_id"] == NEW]
    assert len({row["competency"] for row in rows}) == len(rows)
    row = next(row for row in rows if row["competency"] == COMPETENCY)
    assert {name: row[name] for name in expected} == expected

    sheet = load_workbook(io.BytesIO(saved(story.office.page, "as XLSX")))["Matrix"]
    head, *lines = sheet.iter_rows(values_only=True)
    cells = [dict(zip(head, line, strict=True)) for line in lines]
    found = [cell for cell in cells if (cell["hand_id"], cell["competency"]) == (NEW, COMPETENCY)]
    assert len(found) == 1
    assert (found[0]["name"], found[0]["standing"]) == (NAME, "current")
    assert found[0]["due"] == datetime(2027, 3, 3)  # noqa: DTZ001 - a sheet's day has no zone


def nothing_is_there_twice(story: Story) -> None:
    """One quiz, two observations by two observers on two days, and a ledger without a fault."""
    desk = story.desk(NEW, DAY_TWO)
    try:
        bodies = [each.body for each in desk.store.records(kinds=("quiz", "observation"), hand=NEW)]
        quizzes = [body for body in bodies if isinstance(body, QuizTaken)]
        watches = [body for body in bodies if isinstance(body, Observation)]
        assert [body.points for body in quizzes] == [len(quizzes[0].items)]
        assert [(body.observer, body.held) for body in watches] == [("bill", "2026-03-03"), (SECOND, "2026-03-04")]
        assert desk.store.verify() == []
        assert standing(desk) == "current"
    finally:
        desk.store.close()


def leave(page: Page) -> None:
    """Sign out, with nobody's name left on the screen."""
    # The page is loaded anew, so that nothing of the person stays in its memory.
    with page.expect_event("load"):
        way_out(page).click()
    expect(page.get_by_role("heading", name="Which crew?")).to_be_visible()
    settled(page)
    assert NAME not in page.content()
