"""Which steps of a page offer to be read aloud, each under a key of its own, and in whose language."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import PATIENCE_S, signed_in
from tests.app.learning import LESSON, key_of, of, open_page, rig_at, wrong_of
from tests.app.test_tailgate import answered, begun
from trainer.actions import learning, quizzing, tailgating
from trainer.actions.desk import Desk
from trainer.actions.meetings import ANSWERS, TALK
from trainer.core.shown import ShownTask
from trainer.core.tasks import ChooseOne
from trainer.web import parts
from trainer.words import Words

Offers = list[tuple[str, str]]


@pytest.fixture
def site(data: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    """A rig on a known day."""
    with rig_at(data, monkeypatch) as desk:
        yield desk


@pytest.fixture
def offers(monkeypatch: pytest.MonkeyPatch) -> Offers:
    """The language and key of each button that a run draws."""
    drawn: Offers = []

    def read_aloud(language: str, *, words: Words, key: str) -> None:
        assert words.say("parts.read")
        drawn.append((language, key))

    monkeypatch.setattr(parts, "read_aloud", read_aloud)
    return drawn


def newest(offers: Offers) -> tuple[str, str]:
    """The one button of the run that was just drawn."""
    found = offers[-1]
    offers.clear()
    return found


def test_a_scene_its_outcome_and_the_scene_looked_back_at_are_three_steps(
    app: AppTest, site: Desk, offers: Offers
) -> None:
    open_page(app, site, "ray", "lesson", lesson=LESSON)
    asked = newest(offers)
    playing = learning.open_lesson(of(site, "ray"), LESSON)
    shown = learning.shown_scene(playing, "en")
    assert isinstance(shown, ShownTask)
    assert playing.scene
    assert isinstance(playing.scene.task, ChooseOne)
    learning.choose(of(site, "ray"), playing.draft_id, playing.scene.id, shown.choices[0].handle)
    app.run()
    outcome = newest(offers)
    app.query_params["scene"] = playing.scene.id
    app.run()
    back = newest(offers)

    assert len({asked, outcome, back}) == 3
    assert {each[0] for each in (asked, outcome, back)} == {"en"}


def test_each_question_and_each_must_know_missed_is_a_step(app: AppTest, site: Desk, offers: Offers) -> None:
    luis = of(site, "luis")
    sitting = quizzing.start(luis, LESSON)
    open_page(app, site, "luis", "quiz", quiz=LESSON)
    steps = [newest(offers)]
    for place in range(len(sitting.form.items)):
        given = (wrong_of if place == 0 else key_of)(sitting, place)
        sitting = quizzing.answer(luis, sitting.draft_id, place, given).sitting
        app.run()
        steps.append(newest(offers))

    assert len(set(steps)) == len(steps)
    assert {language for language, _ in steps} == {"es"}


def test_the_end_of_a_quiz_is_read_too(app: AppTest, site: Desk, offers: Offers) -> None:
    ray = of(site, "ray")
    sitting = quizzing.start(ray, LESSON)
    for place in range(len(sitting.form.items)):
        sitting = quizzing.answer(ray, sitting.draft_id, place, key_of(sitting, place)).sitting
    record, _ = quizzing.finish(ray, sitting.draft_id)
    open_page(app, site, "ray", "quiz", quiz=LESSON, taken=record.record_id)

    assert newest(offers) == ("en", f"read-{record.record_id}")


def test_at_a_tailgate_the_talk_is_the_drillers_and_the_question_the_persons(
    app: AppTest, site: Desk, offers: Offers
) -> None:
    token = signed_in(app, site, "bill")
    bill, meeting = of(site, "bill"), begun(site, token)
    tailgating.turn(bill, meeting.tailgate_id, TALK)
    app.run()
    app.switch_page("views/tailgate.py").run()
    talk = newest(offers)
    tailgating.turn(bill, meeting.tailgate_id, "ask")
    tailgating.call_up(bill, meeting.tailgate_id, "luis")
    app.run()
    question = newest(offers)
    answered(site, meeting, "luis")
    tailgating.turn(bill, meeting.tailgate_id, ANSWERS)
    app.run()

    assert (talk[0], question[0], newest(offers)[0]) == ("en", "es", "en")


def test_what_is_not_there_in_the_pages_language_is_read_in_english(offers: Offers) -> None:
    def page() -> None:
        from trainer.web import aloud, cached

        with aloud.beside(cached.all_words()["es"], "half", {"en": "Both", "es": "Los dos"}, {"en": "Only English"}):
            pass

    AppTest.from_function(page, default_timeout=PATIENCE_S).run()
    assert newest(offers) == ("en", "read-half")
