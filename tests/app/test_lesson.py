"""A lesson on screen: decide, see what follows, read why, go on; and nothing is lost on the way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import PATIENCE_S
from tests.app.learning import LESSON, Taps, of, on_page, open_page, page_words, passed, press, rig_at, tapping
from trainer.actions import learning
from trainer.actions.desk import Desk
from trainer.core.lessons import Scene
from trainer.core.marking import right_answer
from trainer.core.records import Part
from trainer.core.shown import to_handles
from trainer.core.tasks import Answer, ChooseOne, PlaceCrew
from trainer.core.workings import FUNCTIONS
from trainer.web import wording
from trainer.words import Words


@pytest.fixture
def site(data: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    """A rig on a known day."""
    with rig_at(data, monkeypatch) as desk:
        yield desk


@pytest.fixture
def taps(monkeypatch: pytest.MonkeyPatch) -> Taps:
    """Taps without a browser."""
    return tapping(monkeypatch)


def playing_of(site: Desk) -> learning.Playing:
    """Where ray is in the lesson."""
    return learning.open_lesson(of(site, "ray"), LESSON)


def handle(site: Desk, option: str) -> str:
    """The handle under which ray sees ``option`` of the scene that he is in."""
    playing = playing_of(site)
    assert playing.scene
    assert playing.scene.task
    return str(to_handles(playing.scene.task, playing.play.order(playing.scene), option))


def right_of(playing: learning.Playing, scene: Scene) -> Answer:
    """The right answer in handles."""
    assert scene.task
    key = right_answer(scene.task, playing.play.parameters(scene), FUNCTIONS)
    return to_handles(scene.task, playing.play.order(scene), key)


def go_to(site: Desk, name: str) -> learning.Playing:
    """Have ray stand in the scene called ``name``, every one before it done rightly."""
    playing = playing_of(site)
    while playing.scene and playing.scene.id != name:
        answer = right_of(playing, playing.scene) if playing.scene.task else ""
        playing = learning.choose(of(site, "ray"), playing.draft_id, playing.scene.id, answer)
    return playing


def test_a_scene_shows_where_one_is_and_asks_before_it_lets_one_on(app: AppTest, site: Desk, taps: Taps) -> None:
    open_page(app, site, "ray", "lesson", lesson=LESSON)

    assert app.title[0].value == "Before you walk out"
    button = next(each for each in app.button if each.key and each.key.startswith("decide-"))
    assert (button.label, button.disabled) == ("Choose first", True)
    assert "I know this already: go to the quiz" in page_words(app)
    assert [task.kind for task, _, _ in taps.drawn] == ["choose-one"]


def test_a_wrong_choice_shows_what_follows_and_why_and_comes_back(app: AppTest, site: Desk, taps: Taps) -> None:
    open_page(app, site, "ray", "lesson", lesson=LESSON)
    taps.waiting.append(handle(site, "tape"))
    app.run()
    press(app, "decide-")

    said = page_words(app)
    assert "Not that way" in said
    assert "the ring catches on the bar as the slips drop" in said
    assert "It has to come off" in said
    assert "both-off" not in said

    press(app, "on-")
    assert app.title[0].value == "Before you walk out"
    assert "Try again" not in page_words(app)


def test_a_right_choice_says_why_and_goes_on(app: AppTest, site: Desk, taps: Taps) -> None:
    open_page(app, site, "ray", "lesson", lesson=LESSON)
    taps.waiting.append(handle(site, "both-off"))
    app.run()
    press(app, "decide-")

    assert "Nothing on your hand can catch now" in page_words(app)
    press(app, "on-")
    assert app.title[0].value == "Where a hand never goes"


def test_what_was_tapped_and_not_pressed_yet_is_there_after_a_reload(app: AppTest, site: Desk, taps: Taps) -> None:
    playing = go_to(site, "never-places")
    tapped = right_of(playing, playing.scene)[:3]  # type: ignore[arg-type, index]
    open_page(app, site, "ray", "lesson", lesson=LESSON, seen="1")
    taps.waiting.append(tapped)
    app.run()

    fresh = AppTest.from_file(str(app._script_path), default_timeout=PATIENCE_S)
    taps.drawn.clear()
    open_page(fresh, site, "ray", "lesson", lesson=LESSON, seen="1")

    assert taps.drawn[0][1] == tapped
    assert playing_of(site).path == playing.path


def test_opened_anew_it_shows_the_last_step_again_from_the_store(app: AppTest, site: Desk, taps: Taps) -> None:
    go_to(site, "never-places")
    open_page(app, site, "ray", "lesson", lesson=LESSON)

    assert "Nothing on your hand can catch now" in page_words(app)
    press(app, "on-")
    assert app.title[0].value == "Where a hand never goes"

    press(app, "last-step")
    assert "Nothing on your hand can catch now" in page_words(app)


def test_a_wrong_pointing_tells_one_thing_and_how_many_are_left_and_keeps_the_rest(
    app: AppTest, site: Desk, taps: Taps
) -> None:
    playing = go_to(site, "never-places")
    some = right_of(playing, playing.scene)[1:3]  # type: ignore[arg-type, index]
    open_page(app, site, "ray", "lesson", lesson=LESSON, seen="1")
    taps.waiting.append(some)
    app.run()
    press(app, "decide-")

    assert "And 4 more to find." in page_words(app)
    press(app, "on-")
    assert taps.drawn[-1][1] == some


def test_each_try_is_drawn_under_a_key_of_its_own(app: AppTest, site: Desk, taps: Taps) -> None:
    open_page(app, site, "ray", "lesson", lesson=LESSON)
    first = taps.drawn[-1][2]["key"]
    taps.waiting.append(handle(site, "tape"))
    app.run()
    press(app, "decide-")
    press(app, "on-")

    assert taps.drawn[-1][2]["key"] != first


def test_a_worked_case_is_read_and_left_in_one_press(app: AppTest, site: Desk, taps: Taps) -> None:
    playing = go_to(site, "worked")
    open_page(app, site, "ray", "lesson", lesson=LESSON, seen=str(len(playing.path)))
    assert not any(task for task, _, about in taps.drawn if not about.get("locked"))

    press(app, "decide-")
    assert app.title[0].value == "A glove is caught"


def test_the_end_writes_the_lesson_once_and_leads_to_the_quiz(app: AppTest, site: Desk, taps: Taps) -> None:
    playing = go_to(site, "floor-task")
    open_page(app, site, "ray", "lesson", lesson=LESSON, seen=str(len(playing.path)))
    press(app, "decide-")

    assert app.title[0].value == "That was the lesson"
    app.run()
    assert [record.kind for record in site.store.records(kinds=("lesson",))] == ["lesson"]

    assert "Lesson: Where your hands go" in page_words(app)
    press(app, "to-quiz")
    assert app.title[0].value == "Quiz: Where your hands go"


def test_after_the_end_what_comes_next_is_the_cards_own_and_a_passed_quiz_is_no_more_than_offered(
    app: AppTest, site: Desk, taps: Taps
) -> None:
    passed(site, "ray", Part.KNOWLEDGE, date(2026, 3, 1), by="ray")
    open_page(app, site, "ray", "lesson", lesson=LESSON, done="1")
    said = page_words(app)

    assert "Quiz: good until" in said
    assert "A lesson alone is no proof" not in said
    assert app.subheader[0].value.startswith("Take the lesson: ")
    assert "Hand placement" not in app.subheader[0].value
    press(app, "to-quiz")
    assert app.title[0].value == "Quiz: Where your hands go"


def test_back_from_the_quiz_by_the_browser_opens_the_lesson_that_led_there(
    app: AppTest, site: Desk, taps: Taps
) -> None:
    open_page(app, site, "ray", "lesson", quiz=LESSON)
    assert app.title[0].value == "Before you walk out"

    playing = go_to(site, "floor-task")
    open_page(app, site, "ray", "lesson", lesson=LESSON, seen=str(len(playing.path)))
    press(app, "decide-")
    open_page(app, site, "ray", "lesson", quiz=LESSON)
    assert app.title[0].value == "That was the lesson"

    press(app, "again")
    assert app.title[0].value == "Before you walk out"


def test_every_scene_says_which_lesson_it_is_in(app: AppTest, site: Desk, taps: Taps) -> None:
    open_page(app, site, "ray", "lesson", lesson=LESSON)
    assert "Lesson: Where your hands go" in [each.value for each in app.caption]


def test_a_look_back_shows_the_right_answer_and_leaves_the_path_alone(app: AppTest, site: Desk, taps: Taps) -> None:
    before = go_to(site, "out-in-time").path
    open_page(app, site, "ray", "lesson", lesson=LESSON, scene="ring", quiz=LESSON)

    task, answer, about = taps.drawn[-1]
    right = next(choice for choice in task.choices if choice.handle == answer)
    assert right.text.startswith("Leave the ring in the tray")
    assert about["locked"]
    assert "back" in on_page(app)
    assert playing_of(site).path == before


def test_every_scene_can_be_looked_back_at_and_every_outcome_drawn(app: AppTest, site: Desk, taps: Taps) -> None:
    for scene in site.catalogue.lessons[LESSON].scenes:
        open_page(app, site, "luis", "lesson", lesson=LESSON, scene=scene.id)
        assert not [*app.exception, *app.error], scene.id
        assert app.title[0].value == wording.line(scene.title, Words("es", {}))


def test_a_scene_that_is_not_there_opens_the_lesson_instead(app: AppTest, site: Desk, taps: Taps) -> None:
    open_page(app, site, "ray", "lesson", lesson=LESSON, scene="nowhere")

    assert app.title[0].value == "Before you walk out"


def test_a_lesson_that_is_not_there_leads_to_the_card(app: AppTest, site: Desk, taps: Taps) -> None:
    open_page(app, site, "ray", "lesson", lesson="nothing")

    assert app.title[0].value == "My card"


def test_a_sentence_without_a_translation_is_marked(site: Desk) -> None:
    scene = site.catalogue.lessons[LESSON].scenes[0]
    assert isinstance(scene.task, ChooseOne)
    half = replace(scene, task=ChooseOne((replace(scene.task.options[0], why={"en": "Only English"}),)))

    assert all("es" in text for text in wording.texts(scene))
    assert {"en": "Only English"} in list(wording.texts(half))


def test_the_reasons_of_a_crew_placed_on_wrong_spots_are_found_among_the_texts(site: Desk) -> None:
    scene = site.catalogue.lessons[LESSON].scene("on-the-handles")
    assert scene
    assert isinstance(scene.task, PlaceCrew)
    assert set(map(id, scene.task.whys.values())) <= set(map(id, wording.texts(scene)))
