"""Lessons played to their end in a real browser by keyboard alone: the best path, and a path with wrong choices."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.app.learning import of
from tests.e2e import rig
from tests.e2e.answers import Asked, Person, in_lesson, right, until, wrong
from tests.e2e.conftest import Server, opened, running, settled, sign_in
from trainer import settings, words
from trainer.actions import learning
from trainer.actions.desk import Desk
from trainer.core.sheets import as_drawn
from trainer.core.tasks import Answer, ChooseOne, PlaceCrew, PointAt, PutInOrder, TickSteps
from trainer.core.telling import hint
from trainer.core.text import pick
from trainer.curriculum import load

pytestmark = pytest.mark.browser

APP = Path(__file__).parents[2]
READERS = {"en": "ray", "es": "luis"}

# The kinds that a keyboard finds hardest; each stands in the lessons below, with a list and a plan to put in order.
DRAWN = (PlaceCrew, PointAt, PutInOrder, TickSteps)


@dataclass(frozen=True, slots=True)
class Reader:
    """Somebody at a lesson with a keyboard and nothing else."""

    desk: Desk
    person: Person
    lesson: str

    def playing(self) -> learning.Playing:
        """Where the lesson stands."""
        return learning.open_lesson(self.desk, self.lesson)

    def say(self, key: str, **values: object) -> str:
        """A sentence of the screen."""
        return words.load(APP, APP)[self.person.language].say(key, **values)

    def decide(self, answer: Answer | None) -> None:
        """Give ``answer``, in ids, to the scene on screen and press; ``None`` only goes on."""
        before = self.playing()
        asked, scene = in_lesson(before), before.scene
        assert scene
        heading = self.person.page.get_by_role("heading", level=1)
        expect(heading).to_have_text(pick(scene.title, self.person.language))
        settled(self.person.page)
        if asked is not None and answer is not None:
            self.person.give(asked, answer)
        self.person.press(self.say("lesson.go-on" if asked is None else "lesson.decide"))
        until(self.person.page, lambda: len(self.playing().path) != len(before.path))

    def sees_why(self, asked: Asked, answer: Answer) -> None:
        """See the verdict on ``answer`` and a reason, and leave them."""
        page, last = self.person.page, self.playing().last
        assert last
        expect(page.locator(".badge").first).to_have_text(self.say(f"lesson.{'right' if last.right else 'wrong'}"))
        told = hint(as_drawn(asked.task, asked.parameters), answer).told
        reasons = [last.said] if last.said else [each.why for each in told] or list(last.why)
        for each in reasons[:1]:
            expect(page.get_by_text(pick(each, self.person.language)).first).to_be_visible()
        self.person.press(self.say("lesson.go-on" if last.right else "lesson.try-again"))


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Server, Path]]:
    """A rig for all of them: each plays a lesson of his own."""
    folder = tmp_path_factory.mktemp("lessons")
    rig.make(folder / "data")
    with running(folder) as found:
        yield found, folder


@pytest.fixture
def reader(request: pytest.FixtureRequest, browser: Browser, server: tuple[Server, Path]) -> Iterator[Reader]:
    """The reader of one language, signed in, at the first scene of one lesson."""
    lesson, language = request.param
    served, folder = server
    site = rig.open_desk(settings.read(folder / "data"))
    hand = READERS[language]
    with opened(browser) as tablet:
        sign_in(tablet.page, served, hand)
        tablet.page.goto(f"{served.url}lesson?lesson={lesson}")
        person = Person(tablet.page, load(APP, APP).pictures, by_keyboard=True, language=language)
        yield Reader(of(site, hand), person, lesson)
        tablet.forgive()
    site.store.close()


def answers_of(asked: Asked | None, *, with_wrong: bool) -> list[Answer | None]:
    """What is answered in a scene, one after the other: a wrong one first where that is wanted."""
    if asked is None:
        return [None]
    tries = [wrong(asked)] if with_wrong and isinstance(asked.task, (*DRAWN, ChooseOne)) else []
    return [*tries, right(asked)]


def play_through(reader: Reader, *, with_wrong: bool) -> set[type]:
    """The lesson played to its end; the kinds of task that were answered."""
    done: set[type] = set()
    for _ in reader.playing().play.lesson.scenes:
        asked = in_lesson(reader.playing())
        # One wrong choice of each kind is enough to see the way back.
        is_new = asked is not None and type(asked.task) not in done
        for answer in answers_of(asked, with_wrong=with_wrong and is_new):
            reader.decide(answer)
            if asked is not None and answer is not None:
                reader.sees_why(asked, answer)
        if asked is not None:
            done.add(type(asked.task))
    return done


@pytest.mark.parametrize(
    "reader", [("set-slips", "en"), ("hand-placement", "es"), ("observing", "es")], indirect=True, ids=":".join
)
def test_the_best_path_by_keyboard_alone(reader: Reader) -> None:
    expect(reader.person.page.locator("html")).to_have_attribute("lang", reader.person.language)
    expect(reader.person.page.get_by_role("button", name=reader.say("lesson.skip"))).to_be_visible()
    done = play_through(reader, with_wrong=False)

    assert {PointAt, PutInOrder} <= done
    expect(reader.person.page.get_by_role("heading", name=reader.say("lesson.end-title"))).to_be_visible()
    # What comes next for this hand is the quiz of this lesson, or else that quiz is offered under it.
    is_next = reader.person.page.get_by_role("button", name=reader.say("lesson.end-quiz")).count() == 0
    reader.person.press(reader.say("card.press-quiz" if is_next else "lesson.end-quiz"))
    expect(reader.person.page).to_have_url(re.compile("/quiz"))


@pytest.mark.parametrize("reader", [("hand-placement", "en"), ("crewing-handles", "es")], indirect=True, ids=":".join)
def test_a_path_with_wrong_choices_by_keyboard_alone(reader: Reader) -> None:
    done = play_through(reader, with_wrong=True)

    assert {PlaceCrew, PutInOrder, ChooseOne} <= done
    expect(reader.person.page.get_by_role("heading", name=reader.say("lesson.end-title"))).to_be_visible()
