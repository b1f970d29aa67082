"""My card: what is held and missing in plain words, and one next thing on top."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.core_subjects import core_root
from tests.app.learning import (
    LESSON,
    at,
    key_of,
    later,
    of,
    on_page,
    open_page,
    page_words,
    passed,
    press,
    rig_at,
    stood_down,
)
from trainer.actions import learning, quizzing
from trainer.actions.desk import Desk
from trainer.core.records import LessonTaken, Part, Tailgate
from trainer.web import cached, prints_made


@pytest.fixture
def site(data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    """A rig on a known day, with six subjects."""
    monkeypatch.setenv("TRAINER_ROOT", str(core_root(tmp_path / "root")))
    with rig_at(data, monkeypatch) as desk:
        yield desk


def next_thing(app: AppTest) -> str:
    """The title of the one next thing."""
    return str(app.subheader[0].value)


def test_a_new_hand_is_sent_to_the_lesson_although_a_watch_is_due_before_it(app: AppTest, site: Desk) -> None:
    open_page(app, site, "ray", "card")

    assert next_thing(app) == "Take the lesson: Hand placement"
    said = page_words(app)
    assert "Quiz: not passed yet" in said
    assert "On the job: 0 of 2 watches, by different observers." in said
    assert "Not later than Mar 31, 2026." in said

    press(app, "next-press")
    assert app.title[0].value == "Before you walk out"


def test_one_watch_of_two_asks_for_another_observer(app: AppTest, site: Desk) -> None:
    passed(site, "ray", Part.PRACTICAL, date(2026, 3, 1))
    open_page(app, site, "ray", "card")

    assert "On the job: 1 of 2 watches, by different observers. The next one by another observer." in page_words(app)


def test_an_open_quiz_comes_before_everything_else(app: AppTest, site: Desk) -> None:
    mine = of(site, "ray")
    sitting = quizzing.start(mine, LESSON)
    quizzing.answer(mine, sitting.draft_id, 0, key_of(sitting, 0))
    open_page(app, site, "ray", "card")

    assert next_thing(app) == "Go on with the quiz: Hand placement, 1 of 12 saved"
    said = page_words(app)
    assert "Quiz: begun" in said
    assert "Lesson: later" in said
    press(app, f"step-{LESSON}")
    assert "Quiz: Where your hands go" in [each.value for each in app.caption]


def test_a_lesson_left_half_way_is_gone_on_with(app: AppTest, site: Desk) -> None:
    mine = of(site, "ray")
    playing = learning.open_lesson(mine, LESSON)
    learning.choose(mine, playing.draft_id, "ring", "o1")
    open_page(app, site, "ray", "card")

    assert next_thing(app).startswith("Go on with the lesson: Hand placement, scene ")


def test_a_hand_stood_down_sees_his_driller_first(app: AppTest, site: Desk) -> None:
    stood_down(site, "ray", date(2026, 3, 2))
    open_page(app, site, "ray", "card")

    assert next_thing(app) == "Hand placement: off the slips. See your driller."
    assert "next-press" not in on_page(app)
    assert "Off the slips: see driller" in page_words(app)
    assert "stood down" not in page_words(app).lower()


def test_what_holds_stands_apart_with_its_day_in_the_persons_language(app: AppTest, site: Desk) -> None:
    passed(site, "luis", Part.PRACTICAL, date(2026, 3, 1), competency="calls-signals")
    open_page(app, site, "luis", "card")

    said = page_words(app)
    assert "Tiene al día" in [each.value for each in app.header]
    assert "Vence el 1 mar 2027" in said
    assert "Llamados y señas" in said


def test_with_nothing_to_learn_on_the_tablet_a_watch_is_next(app: AppTest, site: Desk) -> None:
    knows_all_but(site, "ray")
    open_page(app, site, "ray", "card")

    assert next_thing(app) == "Ask for a watch on the floor: Calls and signals"
    assert "next-press" not in on_page(app)


@pytest.mark.parametrize(
    ("first", "said"),
    [
        (date(2026, 3, 1), "Nothing to do now. Next: Calls and signals, and 5 more, due Mar 1, 2027"),
        (date(2026, 2, 20), "Nothing to do now. Next: Calls and signals, due Feb 20, 2027"),
    ],
)
def test_with_nothing_open_it_says_what_is_due_first_and_how_many_more_on_that_day(
    app: AppTest, site: Desk, first: date, said: str
) -> None:
    knows_all_but(site, "ray")
    for competency in site.catalogue.competencies:
        seen = first if competency.id == "calls-signals" else date(2026, 3, 1)
        for day, by in ((seen - timedelta(days=1), "bill"), (seen, "ana")):
            passed(site, "ray", Part.PRACTICAL, day, by=by, competency=competency.id)
    open_page(app, site, "ray", "card")
    assert next_thing(app) == said


def test_a_quiz_that_runs_out_soon_is_next_and_needs_no_lesson(app: AppTest, site: Desk) -> None:
    passed(site, "ray", Part.KNOWLEDGE, date(2025, 3, 20), by="ray")
    for day, by in ((date(2025, 3, 20), "bill"), (date(2025, 3, 22), "ana")):
        passed(site, "ray", Part.PRACTICAL, day, by=by)
    open_page(app, site, "ray", "card")

    assert next_thing(app) == "Take the quiz: Hand placement"


def test_a_missed_quiz_waits_for_the_next_tour_and_shows_from_when(
    app: AppTest, site: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    quizzing.start(of(site, "ray"), LESSON)
    quizzing.close_stale(later(site, 12))
    learning_done(site)
    knows_all_but(site, "ray", LESSON)
    passed(site, "ray", Part.PRACTICAL, date(2026, 3, 1), competency="calls-signals")
    at(monkeypatch, later(site, 13).now)
    open_page(app, later(site, 13), "ray", "card")

    assert next_thing(app) == "Quiz on Hand placement: give it a rest first"
    assert r"Wed, Mar 4, 09:00" in page_words(app).replace("\\", "")


def test_a_quiz_tried_and_not_passed_is_said_on_the_card_and_on_the_way(
    app: AppTest, site: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    quizzing.start(of(site, "ray"), LESSON)
    quizzing.close_stale(later(site, 12))
    at(monkeypatch, later(site, 13).now)
    open_page(app, later(site, 13), "ray", "card")

    said = page_words(app).replace("\\", "")
    assert next_thing(app) == "Take the lesson: Hand placement"
    assert said.count("Quiz tried: not yet. Again from Wed, Mar 4, 09:00. Until then, the lesson.") == 2
    assert "straight to the quiz" not in said
    assert "Quiz: not yet" in said
    assert f"records-{LESSON}" in on_page(app)
    printed = prints_made.record_card(later(of(site, "ray"), 13), cached.all_words()["en"], "ray")
    assert [(each.kind, each.effect) for each in printed.proofs[LESSON]] == [("quiz", "fail")]

    at(monkeypatch, later(site, 25).now)
    assert "Quiz tried: not yet. You can take it again now." in page_words(
        open_page(app, later(site, 25), "ray", "card")
    )


def test_each_subject_of_a_new_hand_stands_there_once_with_the_button_of_its_step(app: AppTest, site: Desk) -> None:
    open_page(app, site, "ray", "card")

    titles = [each.value for each in app.markdown]
    for competency in site.catalogue.competencies:
        name = competency.title["en"]
        found = [title for title in titles if title in (f"**{name}**", f"### {name}")]
        assert len(found) <= 1, competency.id
    assert "Missing or due" not in [each.value for each in app.header]
    assert {f"step-{LESSON}", f"lesson-{LESSON}", f"quiz-{LESSON}"} <= on_page(app)
    press(app, f"step-{LESSON}")
    assert app.title[0].value == "Before you walk out"


def test_what_makes_a_subject_begun_is_said_where_no_part_tells(app: AppTest, site: Desk) -> None:
    talked(site, "ray")
    open_page(app, site, "ray", "card")

    said = page_words(app).replace("\\", "")
    assert "Learning because of this: Tailgate: answered right, Mar 1, 2026." in said


def test_only_what_was_held_is_said_to_run_out(app: AppTest, site: Desk) -> None:
    for part in (Part.PRACTICAL, Part.KNOWLEDGE):
        passed(site, "luis", part, date(2026, 3, 1), competency="calls-signals")
    open_page(app, site, "luis", "card")

    said = page_words(app)
    assert said.count("Vence el") == said.count("Vence el 1 mar 2027") == 1
    assert "A más tardar el 31 mar 2026" in said


def knows_all_but(site: Desk, hand: str, *left: str) -> None:
    """``hand`` has passed every quiz that there is, but for ``left``."""
    for competency in site.catalogue.competencies:
        if competency.needs.knowledge and competency.id not in left:
            passed(site, hand, Part.KNOWLEDGE, date(2026, 3, 1), by=hand, competency=competency.id)


def test_after_a_lesson_its_quiz_is_the_main_thing_where_the_card_says_so(app: AppTest, site: Desk) -> None:
    learning_done(site)
    open_page(app, site, "ray", "lesson", lesson=LESSON, done="1")

    assert next_thing(app) == "Take the quiz: Hand placement"
    assert "to-quiz" not in on_page(app)
    press(app, "next-press")
    assert app.title[0].value == "Quiz: Where your hands go"


def talked(site: Desk, hand: str) -> None:
    """``hand`` has answered right at a talk with the crew on how the slips are set."""
    talk = Tailgate("talk", "set-slips", "set-slips", {}, "throughout", True, "bill")
    with site.store.transaction() as writing:
        writing.append(site.new_record(talk, hand=hand, day=date(2026, 3, 1)))


def learning_done(site: Desk) -> None:
    """Ray has played the lesson to its end before."""
    lesson = site.catalogue.lessons[LESSON]
    with site.store.transaction() as writing:
        writing.append(site.new_record(LessonTaken(LESSON, lesson.hash, "en", (), 7), hand="ray"))


def test_a_coordinator_has_no_cells_but_can_look_at_every_lesson(app: AppTest, site: Desk) -> None:
    open_page(app, site, "coordinator", "card")

    assert "Nothing is asked of your position today." in page_words(app)
    assert f"lesson-{LESSON}" in on_page(app)


def test_a_driller_has_a_card_of_his_own(app: AppTest, site: Desk) -> None:
    open_page(app, site, "bill", "card")

    assert app.title[0].value == "My card"
    assert not app.error
