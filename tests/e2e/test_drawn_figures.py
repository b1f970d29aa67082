"""What is drawn for one person alone: sheets to read, numbers to work out, and what a mistake comes to on this rig."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.e2e import answers, rig
from tests.e2e.answers import Asked, Person
from tests.e2e.conftest import SCHEMES, Server, opened, overflow, running, settled, sign_in, violations
from trainer import settings
from trainer.actions import learning, quizzing
from trainer.actions.desk import Desk
from trainer.core.tasks import ReadSheet
from trainer.settings import Settings

pytestmark = pytest.mark.browser

LESSON = "hand-placement"
SCENE, ITEM = "read-paper", "read-paper"
APP = Path(__file__).resolve().parents[2]

_TASK = """      kind: read-sheet
      drawing: paper-test
      function: imprint-verdict
      options:
        - id: bottom-only
          text: {en: "Marks below, next to none above", es: "Marcas abajo, casi ninguna arriba"}
          why: {en: "The upper third is bare.", es: "El tercio de arriba está limpio."}
          then: {en: "Taken for that, the set would go to be measured.", es: "Tomado por eso, el juego iría a medir."}
          sheets: [{top: [0, 0.04, 4], middle: [0.25, 0.05, 5], bottom: [0.85, 0.03, 5]}]
        - id: top-only
          text: {en: "Marks above, next to none below", es: "Marcas arriba, casi ninguna abajo"}
          why: {en: "The lower third is bare.", es: "El tercio de abajo está limpio."}
          then: {en: "Taken for that, the bowl would come out.", es: "Tomado por eso, saldría el tazón."}
          sheets: [{top: [0.85, 0.03, 5], middle: [0.25, 0.05, 5], bottom: [0, 0.04, 4]}]
        - id: full
          text: {en: "Marks from end to end", es: "Marcas de punta a punta"}
          why: {en: "Every third is full.", es: "Cada tercio está lleno."}
          then: {en: "Taken for that, the set would stay in.", es: "Tomado por eso, el juego seguiría puesto."}
          sheets: [{top: [0.95, 0.01, 6], middle: [0.95, 0.01, 6], bottom: [0.95, 0.01, 6]}]
        - id: partial
          text: {en: "Thin from end to end", es: "Flojas de punta a punta"}
          why: {en: "Every third is thin.", es: "Cada tercio está flojo."}
          then: {en: "Taken for that, the test would be done again.", es: "Tomado por eso, se repetiría la prueba."}
          sheets: [{top: [0.5, 0.04, 5], middle: [0.5, 0.04, 5], bottom: [0.5, 0.04, 5]}]
"""
_SCENE = f"""  - id: {SCENE}
    title: {{en: "The paper", es: "El papel"}}
    text: {{en: "It came out of the bowl a minute ago.", es: "Salió del tazón hace un minuto."}}
    ask: {{en: "What does it show?", es: "¿Qué muestra?"}}
    task:
{_TASK}"""
_ITEM = f"""  - id: {ITEM}
    objective: OBJECTIVE
    scene: {SCENE}
    text: {{en: "Look at this paper. What does it show?", es: "Mire este papel. ¿Qué muestra?"}}
    task:
{_TASK}"""


@dataclass(frozen=True, slots=True)
class Drawn:
    """A server whose lesson begins with a sheet, and whose bank holds one."""

    server: Server
    where: Settings

    def desk(self, hand: str) -> Desk:
        """A desk with ``hand`` at it; close its store."""
        return rig.at_desk_of(rig.open_desk(self.where), hand)


def make_root(root: Path) -> None:
    """The app's own content with the sheet in it: as the first scene, and beside an item that is as easy to guess."""
    for name in ("content", "quizzes"):
        shutil.copytree(APP / name, root / name)
    lesson, bank = root / f"content/lessons/{LESSON}.yaml", root / f"quizzes/{LESSON}.yaml"
    text = lesson.read_text("utf-8")
    lesson.write_text(text.replace("scenes:\n", f"scenes:\n{_SCENE}\n", 1), "utf-8")
    text = bank.read_text("utf-8")
    objective = re.search(r"\n    objective: (\S+)\n(?:    .*\n)*?      kind: choose-one\n", text)
    assert objective is not None
    bank.write_text(f"{text.rstrip()}\n\n{_ITEM.replace('OBJECTIVE', objective[1])}", "utf-8")


@pytest.fixture(scope="module")
def drawn(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Drawn]:
    """A rig of which nothing but the content is changed."""
    folder = tmp_path_factory.mktemp("drawn")
    make_root(folder / "root")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("TRAINER_ROOT", str(folder / "root"))
        where = rig.make(folder / "data")
        assert where == settings.read(folder / "data")
        with running(folder, TRAINER_ROOT=str(folder / "root")) as server:
            yield Drawn(server, where)


def asked_in_lesson(site: Drawn, hand: str) -> Asked:
    """The sheet that ``hand`` gets when he begins the lesson anew."""
    desk = site.desk(hand)
    learning.drop(desk, learning.open_lesson(desk, LESSON).draft_id)
    asked = answers.in_lesson(learning.open_lesson(desk, LESSON))
    desk.store.close()
    assert asked is not None
    return asked


def quiz_with_sheet(site: Drawn, hand: str) -> tuple[Asked, int]:
    """The sheet in a quiz of ``hand`` that has come to it, and its place; forms are drawn until one holds it."""
    desk = site.desk(hand)
    while True:
        sitting = quizzing.start(desk, LESSON)
        place = next((n for n, each in enumerate(sitting.form.items) if each.item_id == ITEM), None)
        if place is not None:
            break
        with desk.store.transaction() as writing:
            writing.drop_draft(sitting.draft_id)
    for before in range(place):
        asked = answers.in_quiz(sitting, before)
        quizzing.answer(desk, sitting.draft_id, before, answers.handles(asked, answers.right(asked)))
    asked = answers.in_quiz(sitting, place)
    desk.store.close()
    return asked, place


def leave_quiz(site: Drawn, hand: str) -> None:
    """Forget the open quiz of ``hand``."""
    desk = site.desk(hand)
    sitting = quizzing.open_sitting(desk, LESSON)
    if sitting is not None:
        with desk.store.transaction() as writing:
            writing.drop_draft(sitting.draft_id)
    desk.store.close()


def go(page: Page, site: Drawn, address: str) -> None:
    page.goto(f"{site.server.url}{address}")
    expect(page.locator("h1, h3").first).to_be_visible()
    settled(page)


def paper(page: Page) -> str:
    """The drawing of the sheet on screen."""
    figure = page.get_by_role("img", name=re.compile("^The paper of a slip test"))
    expect(figure).to_be_visible()
    return str(figure.inner_html())


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("width", [1280, 320])
def test_every_state_is_clean_and_fits(browser: Browser, drawn: Drawn, width: int, scheme: str) -> None:
    desk = drawn.desk("ray")
    at_number = answers.play(desk, "lifting-footing", "your-share")
    on_rig = answers.play(desk, "set-slips", "still-moving", lambda _: "brake-it")
    misread = answers.play(desk, LESSON, SCENE, answers.wrong)
    desk.store.close()
    quiz_with_sheet(drawn, "ray")
    states = {
        "a sheet misread": misread,
        "a sheet": f"{misread}&seen=1",
        "a number": at_number,
        "what it comes to here": on_rig,
        "a sheet in a quiz": f"quiz?quiz={LESSON}",
    }
    found, wide = {}, {}
    with opened(browser, width, scheme) as tablet:
        sign_in(tablet.page, drawn.server, "ray")
        for state, address in states.items():
            go(tablet.page, drawn, address)
            found[state], wide[state] = violations(tablet.page), overflow(tablet.page)
        tablet.forgive()
    leave_quiz(drawn, "ray")
    assert found == {state: [] for state in found}
    assert {state: by for state, by in wide.items() if by > 0} == {}


def test_a_sheet_is_read_by_keyboard_in_the_lesson_and_shown_again_with_the_reason(page: Page, drawn: Drawn) -> None:
    asked = asked_in_lesson(drawn, "ray")
    sign_in(page, drawn.server, "ray")
    go(page, drawn, f"lesson?lesson={LESSON}")
    person = Person(page, {}, by_keyboard=True)
    before = paper(page)

    person.give(asked, answers.wrong(asked))
    person.press("That is my answer")
    expect(page.get_by_text("Not that way")).to_be_visible()
    expect(page.get_by_text("Taken for that, ")).to_be_visible()
    assert paper(page) == before

    person.press("Try again")
    # The sheet with the first answer in it goes before the new one can be answered.
    expect(page.get_by_text("Not that way")).to_have_count(0)
    settled(page)
    person.give(asked, answers.right(asked))
    person.press("That is my answer")
    expect(page.get_by_text(re.compile("^Every third is|third is bare"))).to_be_visible()
    assert paper(page) == before
    expect(page.get_by_text("Taken for that, ")).to_have_count(0)


def test_two_people_get_two_sheets_and_nothing_on_the_page_names_the_answer(browser: Browser, drawn: Drawn) -> None:
    seen = {}
    for hand in ("ray", "bill"):
        asked = quiz_with_sheet(drawn, hand)[0]
        assert isinstance(asked.task, ReadSheet)
        with opened(browser) as tablet:
            sent: list[str] = []
            tablet.page.on("websocket", partial(_keep_frames, sent))
            sign_in(tablet.page, drawn.server, hand)
            go(tablet.page, drawn, f"quiz?quiz={LESSON}")
            seen[hand] = paper(tablet.page)
            told = "".join(sent)
            assert "Thin from end to end" in told
            for secret in ("bottom-only", "top-only", "imprint", "grain", "The upper third is bare", "Taken for that"):
                assert secret not in told
            tablet.forgive()
        leave_quiz(drawn, hand)
    assert seen["ray"] != seen["bill"]


def _keep_frames(sent: list[str], socket: object) -> None:
    def keep(frame: str | bytes) -> None:
        sent.append(frame.decode("latin-1") if isinstance(frame, bytes) else frame)

    socket.on("framereceived", keep)  # type: ignore[attr-defined]


def test_a_sheet_misread_in_a_quiz_stands_beside_the_reason_at_its_end(page: Page, drawn: Drawn) -> None:
    asked, place = quiz_with_sheet(drawn, "bill")
    sign_in(page, drawn.server, "bill")
    go(page, drawn, f"quiz?quiz={LESSON}")
    before, person = paper(page), Person(page, {})
    person.give(asked, answers.wrong(asked))
    person.press("Save and go on")
    expect(page.get_by_text(f"Saved: {place + 1} of 12")).to_be_visible()

    desk = drawn.desk("bill")
    sitting = quizzing.start(desk, LESSON)
    for rest in range(place + 1, 12):
        other = answers.in_quiz(sitting, rest)
        quizzing.answer(desk, sitting.draft_id, rest, answers.handles(other, answers.right(other)))
    desk.store.close()
    go(page, drawn, f"quiz?quiz={LESSON}")
    expect(page.get_by_text("What to fix, and why")).to_be_visible()
    assert paper(page) == before


def test_a_number_that_is_none_is_refused_with_nothing_lost_and_counts_in_the_unit_chosen(
    page: Page, drawn: Drawn
) -> None:
    desk = drawn.desk("ray")
    address = answers.play(desk, "lifting-footing", "your-share")
    asked = answers.in_lesson(learning.open_lesson(desk, "lifting-footing"))
    desk.store.close()
    assert asked is not None
    mass = float(asked.parameters["mass"])
    sign_in(page, drawn.server, "ray")
    go(page, drawn, address)
    number = page.get_by_role("textbox", name=re.compile("^Your number"))
    decide = page.get_by_role("button", name="That is my answer")

    number.fill("a third")
    number.press("Enter")
    expect(page.get_by_text("Choose the unit too.")).to_be_visible()
    expect(page.get_by_text("a third is not a number")).to_be_visible()
    page.get_by_role("radio", name="lb", exact=True).click()
    expect(page.get_by_text("Choose the unit too.")).to_have_count(0)
    settled(page)
    expect(page.get_by_text("a third is not a number")).to_be_visible()
    expect(page.get_by_role("button", name="Choose first")).to_be_disabled()
    page.reload()
    settled(page)
    expect(number).to_have_value("a third")

    number.fill(f"{mass / 3 * 2.20462:.1f}".replace(".", ","))
    number.press("Enter")
    settled(page)
    decide.click()
    expect(page.get_by_text(re.compile(r"^You chose: \d+,\d lb \(\d+\.?\d* kg\)"))).to_be_visible()
    expect(page.get_by_text("Right", exact=True)).to_be_visible()


def test_a_number_and_its_unit_are_given_by_keyboard_alone(page: Page, drawn: Drawn) -> None:
    desk = drawn.desk("ray")
    address = answers.play(desk, "lifting-footing", "your-share")
    asked = answers.in_lesson(learning.open_lesson(desk, "lifting-footing"))
    desk.store.close()
    assert asked is not None
    sign_in(page, drawn.server, "ray")
    go(page, drawn, address)
    person = Person(page, {}, by_keyboard=True)
    person.give(asked, answers.right(asked))
    person.sees(asked, answers.right(asked))
    person.press("That is my answer")
    expect(page.get_by_text("Right", exact=True)).to_be_visible()


def test_a_mistake_is_told_in_the_rigs_own_figures_with_the_standing_rule_under_it(page: Page, drawn: Drawn) -> None:
    desk = drawn.desk("ray")
    address = answers.play(desk, "set-slips", "still-moving", lambda _: "brake-it")
    desk.store.close()
    sign_in(page, drawn.server, "ray")
    go(page, drawn, address)
    expect(page.get_by_text(re.compile(r"puts up to \d+ klbf \(\d+ kN\) on the slips"))).to_be_visible()
    expect(page.get_by_text("for training only")).to_be_visible()
    expect(page.get_by_text("{figure")).to_have_count(0)
