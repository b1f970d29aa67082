"""Every lesson played to its end through the page script: by its best path, and with a wrong choice in every scene."""

from __future__ import annotations

import html
import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from importlib import import_module
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.learning import of, on_page, open_page, page_words, press, rig_at
from tests.e2e.answers import handles, in_lesson, right, wrong
from trainer.actions import learning
from trainer.actions.desk import Desk
from trainer.core.playing import ONWARD
from trainer.core.records import LessonTaken
from trainer.core.tasks import Answer, PlaceCrew, PointAt
from trainer.core.telling import hint
from trainer.core.text import Text, pick
from trainer.web.parts import mounting

APP = Path(__file__).parents[2]
LESSONS = sorted(each.stem for each in (APP / "content" / "lessons").glob("*.yaml") if "." not in each.stem)
READERS = {"en": "ray", "es": "luis"}


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """One rig for all lessons: who plays one leaves no trace on another."""
    data = tmp_path_factory.mktemp("lessons") / "data"
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("TRAINER_DATA", str(data))
        for name in ("TRAINER_ROOT", "TRAINER_DATABASE_URL"):
            patch.delenv(name, raising=False)
        with rig_at(data, patch) as desk:
            yield desk


@dataclass
class Seen:
    """What the parts on the page were given to draw, in this run."""

    drawn: list[str] = field(default_factory=list)

    def words(self) -> str:
        """All sentences given to parts."""
        return "\n".join(self.drawn)


@pytest.fixture
def seen(monkeypatch: pytest.MonkeyPatch) -> Seen:
    """The parts draw as ever, and tell what."""
    found, draw = Seen(), mounting.mount

    def telling(name: str, key: str, given: dict[str, object]) -> object:
        found.drawn.append(json.dumps(given, ensure_ascii=False, default=str))
        return draw(name, key, given)

    for part in ("choose", "place_crew", "point_at", "put_in_order", "order_on_picture", "picture", "step_ticks"):
        # By the module: the package gives the function of the same name.
        monkeypatch.setattr(import_module(f"trainer.web.parts.{part}"), "mount", telling)
    return found


@dataclass
class Reader:
    """Somebody in a lesson: taps are kept in the store as a browser has them kept, the page is run and pressed."""

    app: AppTest
    site: Desk
    seen: Seen
    lesson: str
    language: str

    @property
    def desk(self) -> Desk:
        """The reader's own desk."""
        return of(self.site, READERS[self.language])

    def playing(self) -> learning.Playing:
        """Where the reader is."""
        return learning.open_lesson(self.desk, self.lesson)

    def answer(self, given: Answer) -> None:
        """Tap ``given``, in ids, in the scene that comes now, and press the button under it."""
        playing = self.playing()
        asked, scene = in_lesson(playing), playing.scene
        assert scene
        if asked is not None:
            learning.keep(self.desk, playing.draft_id, scene.id, handles(asked, given))
        if any(key.startswith("on-") for key in on_page(self.app)):
            press(self.app, "on-")
        else:
            self.app.run()
        assert self.app.title[0].value.replace("\\", "") == self.said(scene.title)
        self.seen.drawn.clear()
        press(self.app, "decide-")

    @property
    def is_done(self) -> bool:
        """Whether this is the page after the end."""
        return "again" in on_page(self.app)

    def shown(self) -> str:
        """All that is on the page, as it is read."""
        return html.unescape(page_words(self.app)).replace("\\", "") + self.seen.words()

    def said(self, text: Text) -> str:
        """``text`` in the reader's language, which must have it."""
        assert self.language in text, text
        return pick(text, self.language)


@pytest.fixture(params=[(lesson, language) for lesson in LESSONS for language in READERS], ids=":".join)
def reader(request: pytest.FixtureRequest, app: AppTest, site: Desk, seen: Seen) -> Reader:
    """A lesson just opened, in one language."""
    lesson, language = request.param
    found = Reader(app, site, seen, lesson, language)
    open_page(app, site, READERS[language], "lesson", lesson=lesson)
    return found


def answer_right(reader: Reader) -> None:
    """Answer the scene rightly and see why."""
    playing = reader.playing()
    scene, asked = playing.scene, in_lesson(playing)
    assert scene
    reader.answer(right(asked) if asked else ONWARD)
    if asked is not None:
        last = reader.playing().last
        assert last
        assert last.right
        shown = reader.shown()
        reasons = [scene.right] if scene.right else list(last.why)
        assert all(reader.said(each) in shown for each in reasons), scene.id


def answer_wrong(reader: Reader) -> None:
    """Answer the scene wrongly, see what follows and why, and stand in the same scene again."""
    playing = reader.playing()
    scene, asked = playing.scene, in_lesson(playing)
    assert scene
    if asked is None:
        return
    task = playing.play.asked(scene)
    assert task
    given = wrong(asked)
    if isinstance(task, PointAt):
        key = right(asked)
        assert isinstance(key, tuple)
        # One left out: what follows is told of the places that should have been pointed at.
        given = key[1:] or (next(each.part for each in task.spots if not each.right),)
    reader.answer(given)

    shown, told = reader.shown(), hint(task, given).told
    assert told or isinstance(task, PlaceCrew) or asked.parameters, scene.id
    for each in told:
        assert reader.said(each.why) in shown, (scene.id, each.id)
        assert each.then is None or reader.said(each.then) in shown, (scene.id, each.id)
    after = reader.playing().scene
    assert after
    assert after.id == scene.id


def at_the_end(reader: Reader) -> LessonTaken:
    """The record that the end has written; the way to the quiz stands there."""
    assert {"to-quiz", "next-press"} & on_page(reader.app)
    record = list(reader.site.store.records(kinds=("lesson",)))[-1]
    assert isinstance(record.body, LessonTaken)
    assert (record.body.lesson, record.body.language) == (reader.lesson, reader.language)
    return record.body


def test_a_lesson_is_played_to_its_end_by_its_best_path(reader: Reader) -> None:
    assert "to-quiz" in on_page(reader.app)
    scenes = reader.playing().play.lesson.scenes
    while not reader.is_done:
        answer_right(reader)

    assert len(at_the_end(reader).path) <= len(scenes)


def test_a_lesson_is_played_to_its_end_with_a_wrong_choice_in_every_scene(reader: Reader) -> None:
    asked = sum(scene.task is not None for scene in reader.playing().play.lesson.scenes)
    while not reader.is_done:
        answer_wrong(reader)
        answer_right(reader)

    assert len(at_the_end(reader).path) > asked
