"""Screens of hands and drillers, and the figures, in every state and look: axe finds nothing, nothing is cut off."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, expect

from tests.e2e import rig
from tests.e2e.answers import handles, in_quiz, play, right, wrong
from tests.e2e.conftest import tap_pin
from tests.e2e.walks import MISSED, NOT_YET, PASSED, Site, Walk, answer, fill, take, walked, walking, walks_as
from trainer.actions import quizzing
from trainer.actions.desk import Desk
from trainer.core.marking import critical_objectives
from trainer.core.shown import KINDS
from trainer.web import figures_list

pytestmark = pytest.mark.browser

_DRAWS = 40


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    """Ray is half-way, Luis off the slips, Bill holds everything."""
    with walked(tmp_path_factory.mktemp("walk")) as site:
        yield site


@pytest.fixture
def walk(browser: Browser, site: Site, request: pytest.FixtureRequest) -> Iterator[Walk]:
    """The way of the person whom the test names by ``walks_as``."""
    with walking(browser, site, request.param) as walk:
        yield walk


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
