"""A quiz on screen: what it says before, one question a page, a critical miss at once, and what came of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from itertools import count
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import PATIENCE_S
from tests.app.learning import (
    LESSON,
    Taps,
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
    tapping,
    wrong_of,
)
from trainer.actions import quizzing
from trainer.actions.desk import Desk
from trainer.actions.sittings import Sitting
from trainer.core.banks import Bank, Item
from trainer.core.forms import DrawnItem, Form, draw
from trainer.core.marking import critical_objectives
from trainer.core.records import Part
from trainer.core.shown import to_answer
from trainer.core.tasks import ChooseAll, PutInOrder, TickSteps
from trainer.core.telling import RIGHT, told


@pytest.fixture
def site(data: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    """A rig on a known day."""
    with rig_at(data, monkeypatch) as desk:
        yield desk


@pytest.fixture
def taps(monkeypatch: pytest.MonkeyPatch) -> Taps:
    """Taps without a browser."""
    return tapping(monkeypatch)


def sitting_of(site: Desk) -> Sitting:
    """Ray's open quiz."""
    found = quizzing.open_sitting(of(site, "ray"), LESSON)
    assert found
    return found


def criticals(sitting: Sitting) -> list[int]:
    """The positions of the must-knows."""
    critical = critical_objectives(sitting.bank)
    return [place for place in range(len(sitting.form.items)) if sitting.item(place)[0].objective in critical]


def answered(site: Desk, count: int, wrong: tuple[int, ...] = ()) -> Sitting:
    """Ray's quiz with the first ``count`` questions answered, those at ``wrong`` wrongly."""
    mine = of(site, "ray")
    sitting = quizzing.start(mine, LESSON)
    for place in range(count):
        answer = wrong_of(sitting, place) if place in wrong else key_of(sitting, place)
        sitting = quizzing.answer(mine, sitting.draft_id, place, answer).sitting
    return sitting


def taken(site: Desk, wrong: tuple[int, ...] = ()) -> str:
    """The record of a quiz that ray has finished."""
    return quizzing.finish(of(site, "ray"), answered(site, 12, wrong).draft_id)[0].record_id


def test_before_the_start_it_says_what_waits(app: AppTest, site: Desk, taps: Taps) -> None:
    open_page(app, site, "ray", "quiz", quiz=LESSON)

    said = page_words(app)
    assert "12 questions. 10 right are needed." in said
    assert "3 of them are must-knows" in said
    assert "No clock. Each answer is saved." in said
    assert "twelve-hour tour" in said
    press(app, "start")
    assert sitting_of(site).answered == 0
    assert app.subheader[0].value


def test_each_tap_is_kept_and_a_reload_shows_it_again(app: AppTest, site: Desk, taps: Taps) -> None:
    sitting = answered(site, 0)
    tapped = wrong_of(sitting, 0)
    open_page(app, site, "ray", "quiz", quiz=LESSON)
    taps.waiting.append(tapped)
    app.run()

    fresh = AppTest.from_file(str(app._script_path), default_timeout=PATIENCE_S)
    open_page(fresh, site, "ray", "quiz", quiz=LESSON)
    assert taps.drawn[-1][1] == tapped
    assert sitting_of(site).answered == 0


def test_saving_is_final_and_goes_to_the_next_question(app: AppTest, site: Desk, taps: Taps) -> None:
    sitting = answered(site, 0)
    open_page(app, site, "ray", "quiz", quiz=LESSON)
    first = app.subheader[0].value
    taps.waiting.append(key_of(sitting, 0))
    app.run()
    press(app, "save-")

    assert sitting_of(site).answered == 1
    assert app.subheader[0].value != first
    assert "Saved: 1 of 12." in page_words(app)

    fresh = AppTest.from_file(str(app._script_path), default_timeout=PATIENCE_S)
    open_page(fresh, site, "ray", "quiz", quiz=LESSON)
    assert fresh.subheader[0].value != first


def test_no_key_is_on_the_page_before_the_answer(app: AppTest, site: Desk, taps: Taps) -> None:
    sitting = answered(site, 0)
    open_page(app, site, "ray", "quiz", quiz=LESSON)

    task, kept, about = taps.drawn[-1]
    item, drawn = sitting.item(0)
    assert kept is None
    assert not about.get("verdicts")
    shown = repr(task) + page_words(app)
    for each in drawn.options:
        # Parts of a picture are named in the drawing anyway; options go out under neutral handles.
        assert f"'{each}'" not in shown or any(choice.part == each for choice in task.choices), item.id


def test_a_missed_must_know_shows_the_right_answer_at_once(app: AppTest, site: Desk, taps: Taps) -> None:
    place = criticals(answered(site, 0))[0]
    sitting = answered(site, place)
    open_page(app, site, "ray", "quiz", quiz=LESSON, seen=str(place))
    taps.waiting.append(wrong_of(sitting, place))
    app.run()
    press(app, "save-")

    assert "Not right, and this one is a must-know" in page_words(app)
    assert taps.drawn[-1][2]["locked"]
    assert taps.drawn[-1][2]["verdicts"]
    item, _ = sitting.item(place)
    press(app, "see-scene")
    assert app.query_params["scene"] in (item.scene, [item.scene])


def test_a_missed_must_know_is_shown_again_after_a_restart_until_it_was_looked_at(
    app: AppTest, site: Desk, taps: Taps
) -> None:
    place = criticals(answered(site, 0))[0]
    answered(site, place + 1, (place,))
    open_page(app, site, "ray", "quiz", quiz=LESSON)

    assert "must-know" in page_words(app)
    press(app, "next-")
    assert "must-know" not in page_words(app)


def test_another_miss_says_nothing_before_the_end(app: AppTest, site: Desk, taps: Taps) -> None:
    opened = answered(site, 0)
    place = next(each for each in range(12) if each not in criticals(opened))
    answered(site, place + 1, (place,))
    open_page(app, site, "ray", "quiz", quiz=LESSON, seen=str(place))

    assert "Not right" not in page_words(app)
    assert not taps.drawn[-1][2].get("locked")


def test_the_last_answer_finishes_the_quiz_once_and_shows_the_result(app: AppTest, site: Desk, taps: Taps) -> None:
    sitting = answered(site, 11)
    open_page(app, site, "ray", "quiz", quiz=LESSON, seen="11")
    taps.waiting.append(key_of(sitting, 11))
    app.run()
    press(app, "save-")

    assert app.title[0].value == "Passed"
    said = page_words(app)
    assert "12 of 12 right, 10 needed" in said
    assert "Good until Mar 3, 2027." in said
    app.run()
    assert len(list(site.store.records(kinds=("quiz",)))) == 1


def test_a_pass_says_what_is_missing_to_the_sign_off_and_goes_on_as_the_card_does(
    app: AppTest, site: Desk, taps: Taps
) -> None:
    open_page(app, site, "ray", "quiz", quiz=LESSON, taken=taken(site))

    said = page_words(app)
    assert "The quiz alone is not the sign-off." in said
    assert "On the job: 0 of 2 watches, by different observers." in said
    # What the card would say: the other lessons can be learnt at once, a watch has to wait for an observer.
    following = app.subheader[0].value
    assert following.startswith("Take the lesson: ")
    assert "Hand placement" not in following
    press(app, "to-card")
    assert app.subheader[0].value == following


def test_a_pass_of_what_is_watched_already_speaks_of_no_watch(app: AppTest, site: Desk, taps: Taps) -> None:
    for day, by in ((date(2026, 3, 1), "bill"), (date(2026, 3, 2), "ana")):
        passed(site, "ray", Part.PRACTICAL, day, by=by)
    open_page(app, site, "ray", "quiz", quiz=LESSON, taken=taken(site))

    assert "Good until Mar 3, 2027." in page_words(app)
    assert "The quiz alone" not in page_words(app)


def test_who_looks_at_the_pass_of_another_gets_nothing_to_do_from_it(app: AppTest, site: Desk, taps: Taps) -> None:
    open_page(app, site, "bill", "quiz", quiz=LESSON, taken=taken(site))

    assert app.title[0].value == "Passed"
    assert "The quiz alone" not in page_words(app)
    assert not app.subheader


def test_a_result_names_what_to_fix_and_leads_to_the_scene_and_back(app: AppTest, site: Desk, taps: Taps) -> None:
    sitting = answered(site, 0)
    place = criticals(sitting)[0]
    record = taken(site, (place,))
    item, _ = sitting.item(place)
    open_page(app, site, "ray", "quiz", quiz=LESSON, taken=record)

    said = page_words(app)
    assert app.title[0].value == "Not yet"
    assert "11 of 12 right, 10 needed" in said
    assert "Must-know, and this quiz has not shown it yet:" in said
    assert "Tue, Mar 3, 21:00" in said.replace("\\", "")

    press(app, "see-1")
    scene = site.catalogue.lessons[LESSON].scene(item.scene)
    assert scene
    assert app.title[0].value == scene.title["en"]
    press(app, "back")
    assert app.title[0].value == "Not yet"


def test_too_soon_says_from_when_and_offers_no_start(app: AppTest, site: Desk, taps: Taps) -> None:
    taken(site, tuple(range(6)))
    open_page(app, site, "ray", "quiz", quiz=LESSON)

    assert "start" not in on_page(app)
    assert "You can take this quiz again from Tue, Mar 3, 21:00" in page_words(app).replace("\\", "")
    assert "last" in on_page(app)


def test_after_the_next_tour_it_may_be_started_again(
    app: AppTest, site: Desk, taps: Taps, monkeypatch: pytest.MonkeyPatch
) -> None:
    taken(site, tuple(range(6)))
    at(monkeypatch, later(site, 12).now)
    open_page(app, later(site, 12), "ray", "quiz", quiz=LESSON)

    assert "start" in on_page(app)


def test_a_quiz_left_alone_for_half_a_day_is_closed_and_can_be_looked_at(
    app: AppTest, site: Desk, taps: Taps, monkeypatch: pytest.MonkeyPatch
) -> None:
    answered(site, 3)
    at(monkeypatch, later(site, 12).now)
    open_page(app, later(site, 12), "ray", "quiz", quiz=LESSON)

    assert "Your last try: not yet" in page_words(app)
    press(app, "last")
    assert "3 of 12 right, 10 needed" in page_words(app)


def test_another_hands_result_is_refused_and_a_driller_sees_it(app: AppTest, site: Desk, taps: Taps) -> None:
    record = taken(site, tuple(place for place in range(12) if place not in criticals(answered(site, 0)))[:2])
    open_page(app, site, "luis", "quiz", quiz=LESSON, taken=record)
    assert app.error
    assert not app.title

    other = AppTest.from_file(str(app._script_path), default_timeout=PATIENCE_S)
    open_page(other, site, "bill", "quiz", quiz=LESSON, taken=record)
    assert other.title[0].value == "Passed"
    assert "A close pass" in page_words(other)


def test_the_record_names_the_language_that_was_on_screen(app: AppTest, site: Desk, taps: Taps) -> None:
    open_page(app, site, "luis", "quiz", quiz=LESSON)
    press(app, "speak-en")
    press(app, "start")
    sitting = quizzing.open_sitting(of(site, "luis"), LESSON)
    assert sitting
    assert sitting.language == "en"


def drawn_with(monkeypatch: pytest.MonkeyPatch, wanted: Callable[[Item], bool]) -> None:
    """From now on every form has an item that is ``wanted``: the first such among the seeds 0, 1, 2 ..."""

    def with_it(bank: Bank, _: str, *counts: Mapping[str, int]) -> Form:
        forms = (draw(bank, str(seed), *counts) for seed in count())
        return next(form for form in forms if any(wanted(_item(bank, each)) for each in form.items))

    monkeypatch.setattr(quizzing, "draw", with_it)


def _item(bank: Bank, drawn: DrawnItem) -> Item:
    found = bank.item(drawn.item_id)
    assert found
    return found


def test_what_to_fix_in_an_order_names_each_step_that_stands_elsewhere(
    app: AppTest, site: Desk, taps: Taps, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn_with(monkeypatch, lambda item: isinstance(item.task, PutInOrder))
    sitting = answered(site, 0)
    orders = [place for place in range(12) if isinstance(sitting.item(place)[0].task, PutInOrder)]
    record = taken(site, tuple(orders))
    open_page(app, site, "ray", "quiz", quiz=LESSON, taken=record)

    said = page_words(app).replace("\\", "")
    assert orders
    for place in orders:
        item, drawn = sitting.item(place)
        assert isinstance(item.task, PutInOrder)
        answer = to_answer(item.task, drawn.options, wrong_of(sitting, place))
        misplaced = [each.id for each in told(item.task, answer) if each.mark != RIGHT]
        texts = {step.id: step.text["en"] for step in item.task.steps}
        assert misplaced
        assert all(f"**{texts[each]}:**" in said for each in misplaced)
        heading = said.index("**Right order**")
        places = [said.index(f"{number}. **{text}", heading) for number, text in enumerate(texts.values(), start=1)]
        assert places == sorted(places)
        assert f"- **{texts[misplaced[0]]}" not in said
        # The right order stands for itself: no remark on the order that was given.
        assert "Too early" not in said
        assert "Before it comes" not in said
        whys = {step.id: step.why["en"] for step in item.task.steps}
        assert all(f"**{texts[each]}:** {whys[each]}" in said for each in texts)


def test_of_several_that_fit_it_is_said_what_is_part_of_the_answer(
    app: AppTest, site: Desk, taps: Taps, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn_with(monkeypatch, lambda item: isinstance(item.task, ChooseAll))
    sitting = answered(site, 0)
    several = [place for place in range(12) if isinstance(sitting.item(place)[0].task, ChooseAll)]
    open_page(app, site, "ray", "quiz", quiz=LESSON, taken=taken(site, tuple(several)))

    said = page_words(app)
    assert several
    assert "**Not part of the answer:**" in said
    assert "**Part of the answer, but left out:**" in said
    assert "**Not right:**" not in said
    assert "Right, but left out" not in said


def test_a_watch_that_is_told_is_ticked_on_the_sheet_and_its_miss_shown_row_by_row(
    app: AppTest, site: Desk, taps: Taps, monkeypatch: pytest.MonkeyPatch
) -> None:
    mine = of(site, "ana")
    drawn_with(monkeypatch, lambda item: item.id == "om-told")
    sitting = quizzing.start(mine, "observing")
    place = next(n for n in range(12) if sitting.item(n)[0].id == "om-told")
    for before in range(place):
        sitting = quizzing.answer(mine, sitting.draft_id, before, key_of(sitting, before)).sitting
    open_page(app, site, "ana", "quiz", quiz="observing")
    item, drawn = sitting.item(place)
    assert isinstance(item.task, TickSteps)
    assert item.situation
    assert all(each in page_words(app).replace("\\", "") for each in item.situation["es"].split("\n\n"))
    assert [each.text for each in taps.drawn[-1][0].choices] == [row.text["es"] for row in item.task.rows]
    assert [each.critical for each in taps.drawn[-1][0].choices] == [row.critical for row in item.task.rows]

    taps.waiting.append(wrong_of(sitting, place))
    app.run()
    press(app, "save-")
    key = {row.id: (row.state,) for row in item.task.rows}
    assert to_answer(item.task, drawn.options, taps.drawn[-1][1] or ()) == key
    assert taps.drawn[-1][2]["locked"] is True
    assert all(each in page_words(app).replace("\\", "") for each in item.situation["es"].split("\n\n"))
