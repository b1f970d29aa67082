"""What must never happen does not, tried through the browser and behind it."""

from __future__ import annotations

import json
import os
import re
import shutil
import socket
import subprocess
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, WebSocket, expect

from tests.e2e import rig
from tests.e2e.answers import Person, in_quiz, right, wrong
from tests.e2e.conftest import (
    ROOT,
    Server,
    choose_name,
    command_of,
    free_port,
    opened,
    running,
    settled,
    sign_in,
    tap_pin,
)
from trainer import clock, curriculum
from trainer.actions import quizzing, watching
from trainer.actions.desk import Desk
from trainer.actions.sheets import SOMEBODY_ELSE
from trainer.actions.sittings import Sitting
from trainer.core.banks import Item
from trainer.core.marking import critical_objectives
from trainer.core.shown import worded
from trainer.core.tasks import PlaceCrew, Task, WorkOut
from trainer.core.text import pick
from trainer.errors import Refused
from trainer.settings import Settings
from trainer.web.plain import plain

pytestmark = pytest.mark.browser

NOW = datetime.fromisoformat("2026-03-03T15:00:00+00:00")
QUIZ = "hand-placement"
OWN = "My card"

_EVERYTHING = """() => {
  const found = []
  const walk = root => {
    found.push(root.innerHTML)
    root.querySelectorAll("*").forEach(each => { if (each.shadowRoot) walk(each.shadowRoot) })
  }
  walk(document.documentElement)
  found.push(location.href, document.cookie, JSON.stringify(localStorage), JSON.stringify(sessionStorage))
  return found.join("\\n")
}"""


@dataclass
class Site:
    """A rig with its clock stopped, and the server in front of it."""

    server: Server
    where: Settings

    def desk(self, hand: str) -> Desk:
        """A desk of the test's own with that hand at it; close its store."""
        return rig.at_desk_of(rig.open_desk(self.where, NOW), hand)


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    """A rig on which the driller holds everything."""
    folder = tmp_path_factory.mktemp("must-not")
    where = rig.make(folder / "data", NOW)
    desk = rig.open_desk(where, NOW)
    rig.bring_all(desk, "bill")
    desk.store.close()
    with running(folder, TRAINER_NOW=clock.stamp(NOW)) as server:
        yield Site(server, where)


@dataclass
class Line:
    """Everything that came down the line to one page."""

    frames: list[bytes] = field(default_factory=list)

    def listen(self, page: Page) -> None:
        """From now on."""
        page.on("websocket", self._open)

    def _open(self, line: WebSocket) -> None:
        line.on("framereceived", self._take)

    def _take(self, frame: str | bytes) -> None:
        self.frames.append(frame if isinstance(frame, bytes) else frame.encode())

    def holds(self, text: str) -> bool:
        """Whether ``text`` came: as it is, as Markdown or as JSON writes it."""
        everything = b"\n".join(self.frames)
        return any(form.encode() in everything for form in forms_of(text))


def forms_of(text: str) -> set[str]:
    """Every way in which a page could hold ``text``."""
    written = {text, plain(text)}
    once = {json.dumps(each)[1:-1] for each in written}
    return {*written, *once, *(json.dumps(each)[1:-1] for each in once)}


def test_no_key_is_in_the_page_before_the_answer(browser: Browser, site: Site) -> None:
    with opened(browser) as tablet:
        page, line, desk = tablet.page, Line(), site.desk("ray")
        line.listen(page)
        person = Person(page, curriculum.load(site.where.root, site.where.app_root).pictures)
        sign_in(page, site.server, "ray")
        page.goto(f"{site.server.url}quiz?quiz={QUIZ}")
        page.get_by_role("button", name="Start the quiz").click()
        expect(page.get_by_text("Question 1 of ")).to_be_visible()
        settled(page)
        sitting = quizzing.open_sitting(desk, QUIZ)
        assert sitting is not None
        missed = last_ordinary(sitting)
        for position in range(len(sitting.form.items)):
            expect(page.get_by_text(f"Question {position + 1} of ")).to_be_visible()
            settled(page)
            asked = in_quiz(sitting, position)
            nothing_tells(page, line, sitting, position)
            person.give(asked, wrong(asked) if position == missed else right(asked))
            # Nor does a tap that is not final yet.
            nothing_tells(page, line, sitting, position)
            person.press("Save and go on")

        expect(page.get_by_role("heading", name="Passed", exact=True)).to_be_visible()
        settled(page)
        # The same search finds the reason once it may be said, so that it could have found it before.
        assert any(line.holds(why) for why in whys_of(sitting.item(missed)[0]))
        desk.store.close()


def last_ordinary(sitting: Sitting) -> int:
    """The last question that may be missed in a pass."""
    critical = critical_objectives(sitting.bank)
    places = range(len(sitting.form.items))
    return max(place for place in places if sitting.item(place)[0].objective not in critical)


def nothing_tells(page: Page, line: Line, sitting: Sitting, position: int) -> None:
    """Neither what came down the line nor what the page holds tells a key, a reason, or a question still to come."""
    item, drawn = sitting.item(position)
    assert line.holds(worded(pick(item.text, "en"), drawn.parameters)), "the search itself is wrong"
    page_text = page.evaluate(_EVERYTHING)
    for each in sitting.bank.items:
        for why in whys_of(each):
            assert not line.holds(why), (each.id, why)
            assert not any(form in page_text for form in forms_of(why)), (each.id, why)
    so_far = {text_of(sitting, place) for place in range(position + 1)}
    for place in range(position + 1, len(sitting.form.items)):
        if text_of(sitting, place) not in so_far:
            assert not line.holds(text_of(sitting, place)), sitting.item(place)[0].id
    everything = page_text.encode() + b"\n".join(line.frames)
    assert not re.search(rb'\\*"(?:right|key|correct)\\*"\s*:\s*(?:true|false|\[)', everything)
    for name in telling_ids(item.task):
        assert f'"{name}"'.encode() not in everything, name
    for choice in [*page.get_by_role("radio").all(), *page.get_by_role("checkbox").all()]:
        assert re.fullmatch(r"o\d+", choice.get_attribute("value") or "")


def text_of(sitting: Sitting, place: int) -> str:
    """The question there as it is shown."""
    item, drawn = sitting.item(place)
    return worded(pick(item.text, "en"), drawn.parameters)


def whys_of(item: Item) -> list[str]:
    """Every reason that an item can give, in both languages."""
    task = item.task
    found = [item.why] if item.why else []
    for name in ("options", "steps", "spots"):
        found += [each.why for each in getattr(task, name, ()) if hasattr(each, "why")]
    if isinstance(task, PlaceCrew):
        found += [*task.whys.values(), task.why]
    if isinstance(task, WorkOut):
        found += [*task.mistakes.values(), task.why]
    return [text for each in found for text in each.values()]


def telling_ids(task: Task) -> list[str]:
    """Ids of options long enough to be nothing else: content may have named them by what they are."""
    names = [each.id for name in ("options", "steps") for each in getattr(task, name, ())]
    return [name for name in names if "-" in name]


def test_nobody_signs_for_himself(browser: Browser, site: Site) -> None:
    with opened(browser) as tablet:
        page = tablet.page
        sign_in(page, site.server, "bill")
        page.get_by_role("link", name="Sign-off", exact=True).click()
        expect(page.get_by_role("button", name=re.compile("^Ray Dunn"))).to_be_visible()
        settled(page)
        expect(page.get_by_role("button", name="Bill Hart")).to_have_count(0)

        page.goto(f"{site.server.url}signoff?hand=bill")
        expect(page.get_by_role("alert").filter(has_text="Nobody signs for themselves")).to_be_visible()
        settled(page)
        expect(page.get_by_role("button", name=re.compile("^(Assessment|Practice)"))).to_have_count(0)

    desk = site.desk("bill")
    with pytest.raises(Refused, match="observer-is-hand"):
        watching.open_sheet(desk, "connections", "bill")
    assert not list(desk.store.records(kinds=("observation",)))
    assert not list(desk.store.drafts(owner="bill"))
    desk.store.close()


def filled_sheet(site: Site, observer: str, hand: str) -> str:
    """A sheet about ``hand``, all of it met and ready to be signed."""
    desk = site.desk(observer)
    sheet = watching.open_sheet(desk, "connections", hand)
    for step in sheet.checklist.steps:
        watching.tick(desk, sheet.sheet_id, step.id, "met")
    watching.fill(desk, sheet.sheet_id, replace(sheet.details, brake=SOMEBODY_ELSE, overall="yes"))
    desk.store.close()
    return sheet.sheet_id


@pytest.mark.parametrize("address", ["matrix", "people", "today", "tailgate", "people?do=add", "signoff"])
def test_a_hand_who_types_an_address_of_the_office_lands_on_his_own_page(page: Page, site: Site, address: str) -> None:
    sign_in(page, site.server, "ray")
    page.goto(f"{site.server.url}{address}")

    expect(page.get_by_role("heading", name=OWN)).to_be_visible()
    settled(page)
    assert re.match(rf"{re.escape(site.server.url)}card(\?|$)", page.url)
    for other in ("Luis Ortega", "Bill Hart", "Ana María"):
        assert other not in page.evaluate(_EVERYTHING)


def test_a_hand_does_not_see_the_records_of_another(page: Page, site: Site) -> None:
    sign_in(page, site.server, "ray")
    page.goto(f"{site.server.url}evidence?hand=bill&competency={QUIZ}")

    expect(page.get_by_role("alert").filter(has_text="belongs to somebody else")).to_be_visible()
    settled(page)
    for telling in ("Bill Hart", "Training school"):
        assert telling not in page.evaluate(_EVERYTHING)


def test_six_wrong_pins_lock_and_the_right_one_does_not_open(browser: Browser, site: Site) -> None:
    with opened(browser) as tablet:
        page = tablet.page
        choose_name(page, site.server, "luis")
        for number in range(6):
            tap_pin(page, "246802")
            # In the language of whoever has chosen his name.
            said = "no van juntos" if number < 5 else "Demasiados intentos. Espere 1 min"
            expect(page.get_by_role("alert").filter(has_text=said)).to_be_visible()
            settled(page)
        tap_pin(page, rig.PINS["luis"])
        expect(page.get_by_role("alert").filter(has_text="Pida un código de un solo uso")).to_be_visible()
        settled(page)
        expect(page.get_by_role("heading", name="Mi tarjeta")).to_have_count(0)
        assert "trainer_session" not in {each["name"] for each in page.context.cookies()}


def test_six_wrong_pins_under_a_sheet_sign_nothing(browser: Browser, site: Site) -> None:
    sheet = filled_sheet(site, "bill", "ray")
    with opened(browser) as tablet:
        page = tablet.page
        sign_in(page, site.server, "bill")
        page.goto(f"{site.server.url}signoff?sheet={sheet}&step=sign")
        field = page.get_by_label("Your PIN, Bill Hart", exact=True)
        for number in range(6):
            expect(field).to_be_visible()
            tap_pin(page, "246802", "Go on")
            said = "do not match" if number < 5 else "Too many tries."
            expect(page.get_by_role("alert").filter(has_text=said)).to_be_visible()
            settled(page)
        expect(page.get_by_label(re.compile("^PIN of Ray"))).to_have_count(0)
        page.goto(f"{site.server.url}signoff?done={sheet}")
        expect(page.get_by_role("heading", name="Signed", exact=True)).to_have_count(0)

    desk = site.desk("bill")
    assert desk.store.record(sheet) is None
    desk.store.close()


BREAKS: Mapping[str, tuple[str, str, str]] = {
    "a line that is not YAML": ("content/lessons/hand-placement.yaml", "minutes: 7", "minutes: [7"),
    "a key that nobody knows": ("quizzes/hand-placement.yaml", "lesson: hand-placement", "lessen: hand-placement"),
    "a question without a right answer": ("quizzes/hand-placement.yaml", "right: true", "right: false"),
}


@pytest.mark.parametrize("name", BREAKS)
def test_broken_content_never_serves(tmp_path: Path, name: str) -> None:
    root = tmp_path / "root"
    for folder in ("content", "quizzes"):
        shutil.copytree(ROOT / folder, root / folder)
    file, good, bad = BREAKS[name]
    broken = (root / file).read_text(encoding="utf-8").replace(good, bad)
    assert bad in broken
    (root / file).write_text(broken, encoding="utf-8")
    kept = {each: value for each, value in os.environ.items() if not each.startswith("TRAINER_")}
    port = free_port()
    done = subprocess.run(
        command_of(tmp_path / "data", port), env={**kept, "TRAINER_ROOT": str(root)}, cwd=ROOT,
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip

    assert done.returncode == 1
    assert done.stdout == ""
    assert re.search(rf"^{re.escape(file)}:\d+: ", done.stderr, re.MULTILINE)
    assert "Traceback" not in done.stderr
    assert not (tmp_path / "data").exists()
    with socket.socket() as probe:
        assert probe.connect_ex(("127.0.0.1", port)) != 0
