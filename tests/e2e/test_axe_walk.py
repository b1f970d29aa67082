"""Every screen in every state, light and dark, wide and narrow: nothing that axe finds at A or AA, nothing cut off.

States are made by the actions behind the server where that is quicker than clicking; one page a person is then only
made narrower and darker. The steps of signing in have a walk of their own.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.app.crew_pages import PUSHER_PIN, add_pusher, allow
from tests.app.office_pages import bring
from tests.e2e import rig
from tests.e2e.answers import Asked, handles, in_quiz, play, right, wrong
from tests.e2e.conftest import (
    SCHEMES,
    WIDTHS,
    Server,
    opened,
    overflow,
    running,
    settled,
    sign_in,
    tap_pin,
    violations,
)
from trainer import clock
from trainer.actions import quizzing, watching
from trainer.actions.desk import Desk
from trainer.actions.sheets import SOMEBODY_ELSE
from trainer.core.marking import critical_objectives
from trainer.core.shown import KINDS
from trainer.settings import Settings
from trainer.web import figures_list

pytestmark = pytest.mark.browser

NOW = datetime.fromisoformat("2026-03-03T15:00:00+00:00")
PASSED, NOT_YET, MISSED = "hand-placement", "set-slips", "lifting-footing"
"""The quizzes of the hand: one passed, one not, one open at a must-know that was not right."""

_DRAWS = 40
_IS_IN = """scheme => {
  const ground = getComputedStyle(document.querySelector("[data-testid=stApp]")).backgroundColor.match(/\\d+/g)
  return ground.map(Number).reduce((a, b) => a + b) < 384 === (scheme === "dark")
}"""
_STILL = """async () => {
  for (const _ of [1, 2]) await new Promise(requestAnimationFrame)
  // One that is paused, or goes round for ever, never ends; and no browser keeps this page waiting for good.
  const ends = each => each.playState === 'running' && each.effect.getComputedTiming().endTime !== Infinity
  const ended = Promise.allSettled(document.getAnimations().filter(ends).map(each => each.finished))
  await Promise.race([ended, new Promise(resolve => setTimeout(resolve, 5000))])
}"""

SITE_FILE = (Path(rig.__file__).parents[2] / "content" / "site.yaml").read_text(encoding="utf-8")
ROSTER = "hand_id,name,position,crew,joined\nines,Inés Duarte,florhand,night-1,24/11/2026\nmeg,Meg Ott,driller,day-9,\n"


@dataclass
class Site:
    """A rig whose people stand at every kind of place."""

    server: Server
    where: Settings

    @contextmanager
    def desk(self, hand: str) -> Iterator[Desk]:
        """A desk beside the server with that hand at it."""
        desk = rig.open_desk(self.where, NOW)
        try:
            yield rig.at_desk_of(desk, hand)
        finally:
            desk.store.close()


@dataclass
class Walk:
    """One person's way from state to state, and what was wrong on it."""

    page: Page
    site: Site
    wrong: dict[str, list[str]] = field(default_factory=dict)

    def go(self, address: str, heading: str | re.Pattern[str] = "") -> None:
        """Open an address of the app and wait for its heading."""
        self.page.goto(self.site.server.url + address)
        if heading:
            self.comes(heading)

    def comes(self, heading: str | re.Pattern[str]) -> None:
        """Wait until a page with that heading is there."""
        expect(self.page.get_by_role("heading", name=heading).first).to_be_visible()
        settled(self.page)

    def press(self, name: str | re.Pattern[str]) -> None:
        """Press the first button of that name."""
        self.page.get_by_role("button", name=name).first.click()

    def look(self, state: str) -> None:
        """Hold the page as it stands against axe in every colour and width; it comes out wide and light again."""
        settled(self.page)
        found = []
        for scheme in SCHEMES:
            self.page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
            self.page.wait_for_function(_IS_IN, arg=scheme)
            for width in WIDTHS:
                self.page.set_viewport_size({"width": width, "height": 900})
                self.page.evaluate(_STILL)
                found += [f"{scheme} {width}: {each}" for each in violations(self.page)]
                if overflow(self.page) > 0:
                    found.append(f"{scheme} {width}: {overflow(self.page)} px too wide")
        self.page.set_viewport_size({"width": WIDTHS[0], "height": 900})
        self.page.emulate_media(color_scheme="light")
        if found:
            self.wrong[state] = found


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    """Ray is half-way, Luis off the slips, Bill holds everything."""
    folder = tmp_path_factory.mktemp("walk")
    where = rig.make(folder / "data", NOW)
    desk = rig.open_desk(where, NOW)
    rig.bring_all(desk, "bill")
    bring(
        desk,
        "ray,calls-signals,practical,2026-02-01,pass,bill,Saw all of it",
        "luis,calls-signals,stood-down,2026-03-02,,bill,Hand on the handle",
    )
    desk.store.close()
    with running(folder, TRAINER_NOW=clock.stamp(NOW)) as server:
        site = Site(server, where)
        with site.desk("ray") as ray:
            play(ray, PASSED)
            take(ray, PASSED)
        with site.desk("bill") as bill:
            sheet = fill(bill, "ray", {"calls-repeat": "met after prompt"})
            watching.commit(bill, sheet, rig.PINS["bill"], rig.PINS["ray"], watching.SIGNED, "test")
        yield site


@pytest.fixture
def walk(browser: Browser, site: Site, request: pytest.FixtureRequest) -> Iterator[Walk]:
    """The way of the person whom the test names by ``walks_as``; every state on it must have been right."""
    with opened(browser, WIDTHS[0]) as tablet:
        walk = Walk(tablet.page, site)
        sign_in(walk.page, site.server, request.param)
        yield walk
        assert not walk.wrong, "\n".join(f"{state}, {each}" for state, found in walk.wrong.items() for each in found)


def walks_as(hand: str) -> pytest.MarkDecorator:
    """Who goes the way of a test."""
    return pytest.mark.parametrize("walk", [hand], indirect=True)


def take(desk: Desk, quiz: str, misses: int = 0) -> str:
    """The record of ``quiz`` taken with the first ``misses`` questions not right."""
    sitting = quizzing.start(desk, quiz)
    for place in range(len(sitting.form.items)):
        answer(desk, sitting.draft_id, in_quiz(sitting, place), place, is_right=place >= misses)
    return quizzing.finish(desk, sitting.draft_id)[0].record_id


def answer(desk: Desk, draft: str, asked: Asked, place: int, *, is_right: bool = True) -> None:
    """One question answered."""
    quizzing.answer(desk, draft, place, handles(asked, right(asked) if is_right else wrong(asked)))


def come_to(desk: Desk, kind: type) -> str | None:
    """A quiz that stands open at a question of that kind, answered but not saved; ``None`` where no bank has one."""
    for bank in desk.catalogue.banks.values():
        if bank.id in (PASSED, NOT_YET) or not any(isinstance(each.task, kind) for each in bank.items):
            continue
        for _ in range(_DRAWS):
            forget(desk, bank.id)
            sitting = quizzing.start(desk, bank.id)
            places = range(len(sitting.form.items))
            place = next((each for each in places if isinstance(in_quiz(sitting, each).task, kind)), None)
            if place is not None:
                for before in range(place):
                    answer(desk, sitting.draft_id, in_quiz(sitting, before), before)
                asked = in_quiz(sitting, place)
                quizzing.keep(desk, sitting.draft_id, place, handles(asked, right(asked)))
                return bank.id
    return None


def forget(desk: Desk, quiz: str) -> None:
    """Throw the open sitting away: the next one is another form."""
    with desk.store.transaction() as writing:
        for draft in writing.drafts(owner=desk.actor.hand, kind="quiz", subject=quiz):
            writing.drop_draft(draft.draft_id)


def fill(desk: Desk, hand: str, states: dict[str, str], *, brake: str = SOMEBODY_ELSE, overall: str = "yes") -> str:
    """A sheet about ``hand``: these steps as given, every other one met."""
    sheet = watching.open_sheet(desk, "connections", hand)
    for step in sheet.checklist.steps:
        watching.tick(desk, sheet.sheet_id, step.id, states.get(step.id, "met"))
    watching.fill(desk, sheet.sheet_id, replace(sheet.details, brake=brake, overall=overall))
    return sheet.sheet_id


@walks_as("ray")
def test_a_hands_card_and_quiz(walk: Walk) -> None:
    walk.go("card", "My card")
    walk.look("card, half-way")
    walk.go(f"quiz?quiz={NOT_YET}", re.compile("^Quiz: "))
    walk.look("quiz, before the start")
    with walk.site.desk("ray") as ray:
        for kind, name in KINDS:
            quiz = come_to(ray, kind)
            if quiz is not None:
                walk.go(f"quiz?quiz={quiz}")
                expect(walk.page.get_by_text(re.compile(r"^Question \d+ of"))).to_be_visible()
                walk.look(f"quiz, {name}")
        see_a_must_know_missed(walk, ray)
        passed = next(iter(ray.store.records(kinds=("quiz",), hand="ray"))).record_id
        walk.go(f"quiz?quiz={PASSED}&taken={passed}", "Passed")
        walk.look("quiz, passed")
        walk.go(f"quiz?quiz={NOT_YET}&taken={take(ray, NOT_YET, misses=6)}", "Not yet")
        walk.look("quiz, not yet")
    walk.go(f"quiz?quiz={NOT_YET}", re.compile("^Quiz: "))
    expect(walk.page.get_by_text("You can take this quiz again from")).to_be_visible()
    walk.look("quiz, too soon")


def see_a_must_know_missed(walk: Walk, desk: Desk) -> None:
    """A sitting that has come to a must-know that was not right."""
    forget(desk, MISSED)
    sitting = quizzing.start(desk, MISSED)
    critical = critical_objectives(sitting.bank)
    must = next(n for n in range(len(sitting.form.items)) if sitting.item(n)[0].objective in critical)
    for place in range(must + 1):
        answer(desk, sitting.draft_id, in_quiz(sitting, place), place, is_right=place < must)
    walk.go(f"quiz?quiz={MISSED}")
    expect(walk.page.get_by_text("Not right, and this one is a must-know")).to_be_visible()
    walk.look("quiz, must-know missed")


@walks_as("ray")
def test_a_lesson(walk: Walk) -> None:
    with walk.site.desk("ray") as ray:
        lessons = list(ray.catalogue.lessons.values())
        scenes = [(lesson, scene) for lesson in lessons for scene in lesson.scenes]
        for kind, name in KINDS:
            lesson, scene = next((pair for pair in scenes if isinstance(pair[1].task, kind)), (None, None))
            if lesson is None or scene is None:
                continue
            for state, last in (("asked", None), ("not right", wrong), ("right", right)):
                walk.go(play(ray, lesson.id, scene.id, last), scene.title["en"])
                walk.look(f"lesson, {name}, {state}")
        plan, scene = next(pair for pair in scenes if getattr(pair[1].task, "at", None))
        for state, last in (("asked", None), ("not right", wrong), ("right", right)):
            walk.go(play(ray, plan.id, scene.id, last), scene.title["en"])
            walk.look(f"lesson, order on a picture, {state}")
        walk.go(f"lesson?lesson={lessons[0].id}&scene={lessons[0].scenes[1].id}", lessons[0].scenes[1].title["en"])
        walk.look("lesson, looked back at")
        walk.go(play(ray, lessons[0].id), "That was the lesson")
        walk.look("lesson, end")


@walks_as("luis")
def test_the_card_of_a_hand_off_the_slips_in_spanish_and_what_is_not_his(walk: Walk) -> None:
    walk.go("card")
    expect(walk.page.get_by_text("Fuera de las cuñas").first).to_be_visible()
    walk.look("card, off the slips")
    walk.go("evidence?hand=bill&competency=hand-placement")
    expect(walk.page.get_by_role("alert").first).to_be_visible()
    walk.look("refused")


@walks_as("bill")
def test_a_drillers_day_and_the_sheet(walk: Walk) -> None:
    with walk.site.desk("bill") as bill:
        problem = fill(bill, "luis", {"calls-repeat": "not applicable", "hands-open": "not met"}, brake="", overall="")
        fatal = fill(bill, "ray", {"calls-silence": "not met"}, overall="no")
    walk.go("", "Who holds what today")
    walk.look("today")
    walk.go("signoff", "Who did you watch?")
    walk.look("sign-off, who")
    walk.go("signoff?hand=luis", re.compile("what is it for"))
    walk.look("sign-off, what for")
    walk.go(f"signoff?sheet={problem}", re.compile("on the job$"))
    expect(walk.page.get_by_text("Why does it not apply?").first).to_be_visible()
    walk.look("sign-off, sheet")
    walk.go(f"signoff?sheet={problem}&step=look", re.compile("look it over$"))
    expect(walk.page.get_by_text("Before you can sign")).to_be_visible()
    walk.look("sign-off, cannot be signed")
    walk.go(f"signoff?sheet={fatal}&step=look", re.compile("look it over$"))
    expect(walk.page.get_by_text("Make safe first").first).to_be_visible()
    walk.look("sign-off, takes the hand off")
    walk.press(re.compile("^Sign: first you"))
    walk.comes("Ray Dunn: sign")
    tap_pin(walk.page, "246802", "Go on")
    expect(walk.page.get_by_role("alert").filter(has_text="do not match")).to_be_visible()
    walk.look("sign-off, wrong PIN")
    tap_pin(walk.page, rig.PINS["bill"], "Go on")
    walk.comes("Ray Dunn: now your PIN")
    walk.look("sign-off, the hand's PIN")
    tap_pin(walk.page, rig.PINS["ray"], "Sign")
    walk.comes("Signed")
    walk.look("sign-off, done")
    walk.go(f"signoff?sheet={problem}&step=drop", re.compile("^Throw away"))
    walk.look("sign-off, throw away")


@walks_as(rig.COORDINATOR)
def test_the_rigs_figures(walk: Walk) -> None:
    walk.go("figures", "Rig figures")
    walk.look("figures")
    walk.go("figures?figure=stop", "What a sudden stop does")
    walk.comes("First: how much wall is left?")
    walk.press("Look with this")
    expect(walk.page.get_by_role("alert").first).to_be_visible()
    walk.look("figures, class asked and not given")
    with walk.site.desk("bill") as bill:
        rig.inspect_pipe(bill)
    for figure in figures_list.FIGURES:
        walk.go(f"figures?figure={figure.name}")
        expect(walk.page.locator("[class*=st-key-figures-point] p")).to_be_visible()
        walk.page.locator(".st-key-figures-workings summary").click()
        walk.look(f"figures, {figure.name}")


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
