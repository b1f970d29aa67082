"""Today's page: the crew before the job, what each hand holds and lacks, and what to talk through first."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import APP, PATIENCE_S, signed_in
from tests.app.core_subjects import core_root
from tests.app.crew_pages import Made, allow, copied, hold, make
from tests.app.learning import START, at
from tests.app.office_pages import at as step_at
from tests.app.office_pages import bring, go, keys_on, words_on
from tests.e2e import rig
from trainer.actions import leaving_off, people, reinstating, talking
from trainer.actions.desk import Desk
from trainer.actions.talking import Miss
from trainer.web import today_hands
from trainer.web.plain import plain


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Made:
    """Nobody holds anything yet."""
    return make(tmp_path_factory.mktemp("today") / "data")


@pytest.fixture
def desk(made: Made, data: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    """A copy of it."""
    with copied(made, data, monkeypatch) as site:
        yield site


def open_page(app: AppTest, site: Desk, hand: str = "bill", **steps: str) -> AppTest:
    """The page as ``hand`` sees it."""
    signed_in(app, site, hand)
    app.run()
    return go(app, "today", **steps)


def test_it_is_the_first_page_of_a_driller_and_of_nobody_else(desk: Desk) -> None:
    for hand, title in (("bill", "Who holds what today"), ("ray", "My card"), (rig.COORDINATOR, "Matrix")):
        app = AppTest.from_file(str(APP), default_timeout=PATIENCE_S)
        signed_in(app, desk, hand)
        app.run()
        assert app.title[0].value == title


def test_the_drillers_own_crew_comes_first_and_another_can_be_picked(app: AppTest, desk: Desk) -> None:
    open_page(app, desk)
    assert step_at(app, "crew") == "day-1"
    assert {"watch-ray", "watch-luis"} <= keys_on(app)
    assert "On tour now** · 06\\:00\\-18\\:00 · crew change Mar 15" in words_on(app)

    app.button_group[0].set_value("night-1").run()
    assert step_at(app, "crew") == "night-1"
    assert "watch-ana" in keys_on(app)
    assert "watch-ray" not in keys_on(app)
    assert "On hitch, off tour now" in words_on(app)


def test_a_crew_at_home_says_when_it_is_back(app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    moment = datetime.fromisoformat("2026-03-20T15:00:00+00:00")
    at(monkeypatch, moment)
    open_page(app, rig_desk(desk, moment))
    assert "**Days off** · 06\\:00\\-18\\:00 · back Mar 30" in words_on(app)


def rig_desk(desk: Desk, moment: datetime) -> Desk:
    """The same desk at another time."""
    return Desk(desk.store, desk.catalogue, moment, desk.new_id, desk.actor)


def lines_of(app: AppTest, start: str) -> list[str]:
    """The lines on the page that begin so."""
    return [line for line in words_on(app).splitlines() if line.startswith(start)]


def test_what_a_new_hand_lacks_stands_in_words_the_first_few_by_name(app: AppTest, desk: Desk) -> None:
    bring(desk, "ray,hand-placement,practical,2026-03-01,pass,ana,")
    open_page(app, desk)
    assert lines_of(app, "- To be watched once, by another observer: Hand placement")
    assert any("Setting the slips" in line for line in lines_of(app, "- To be watched 2 times: "))
    quizzes = lines_of(app, "- Quiz to pass: ")
    assert all(line.count(",") <= today_hands.NAMED for line in quizzes)
    wanted = [each for each in desk.catalogue.needed_by("floorhand") if each.needs.knowledge]
    assert f" and {len(wanted) - today_hands.NAMED} more" in quizzes[0]


def test_a_hand_who_holds_all_takes_one_line(app: AppTest, desk: Desk) -> None:
    hold(desk, "ray")
    open_page(app, desk)
    assert "**1** holds all" in words_on(app)
    assert "watch-ray" not in keys_on(app)
    assert "watch-luis" in keys_on(app)


def test_what_runs_out_is_said_with_the_last_working_day_before_it(app: AppTest, desk: Desk) -> None:
    # Good for 90 days: until 11 March, within this hitch.
    hold(desk, "ray", "2025-12-11")
    open_page(app, desk)
    assert lines_of(app, "- Quiz and watch run out Mar 11: ")
    many = sum(str(button.key).startswith("open-") for button in app.button)
    assert f"**1** holds all · **{many - 1}** lack something · of all {many}: **1** due soon" in words_on(app)


def test_of_what_runs_out_it_is_said_whether_quiz_or_watch_each_on_its_own_line(app: AppTest, desk: Desk) -> None:
    hold(desk, "ray", "2025-12-11")
    bring(
        desk, "ray,hand-placement,outside-practical,2026-02-20,pass,Somebody Else,",
        "ray,set-slips,outside-knowledge,2026-02-20,pass,Somebody Else,",
    )  # fmt: skip
    open_page(app, desk)
    assert lines_of(app, "- Quiz runs out Mar 11: ")[0].startswith("- Quiz runs out Mar 11: Hand placement.")
    assert lines_of(app, "- Watch runs out Mar 11: ")[0].startswith("- Watch runs out Mar 11: Setting the slips.")
    (both,) = lines_of(app, "- Quiz and watch run out Mar 11: ")
    assert "Hand placement" not in both
    assert "Setting the slips" not in both


def test_the_crew_stands_by_position_and_who_is_off_the_slips_is_named_over_it(app: AppTest, desk: Desk) -> None:
    people.add_person(desk, "al", "Al Ames", "derrickhand", "day-1")
    hold(desk, "ray")
    bring(desk, "ray,set-slips,stood-down,2026-03-02,,Somebody Else,Hand under the handle")
    open_page(app, desk)
    order = [button.key for button in app.button if str(button.key).startswith("open-")]
    assert order[:3] == ["open-luis", "open-ray", "open-al"]
    assert "**1** off the slips" in words_on(app)
    assert "Not on the slips for: Setting the slips." in words_on(app)
    assert "watch-ray" not in keys_on(app)
    # Whoever is off the slips is not left off for the tour besides.
    assert "leave-ray" not in keys_on(app)
    assert "leave-luis" in keys_on(app)
    app.button("back-ray").click().run()
    assert (step_at(app, "hand"), step_at(app, "do")) == ("ray", "back")


def test_who_is_not_on_slips_today_is_marked_with_a_tap_and_undone_with_another(app: AppTest, desk: Desk) -> None:
    before = desk.store.heads()
    open_page(app, desk)
    # What the button does is not said in the words of what is so: else a glance takes it for how the hand stands.
    assert app.button("leave-ray").label == "Leave off this tour"
    app.button("leave-ray").click().run()
    assert "**1** not on slips today" in words_on(app)
    assert {each.hand: each.by for each in leaving_off.left_off(desk).values()} == {"ray": "bill"}
    assert "leave-luis" in keys_on(app)
    app.button("put-ray").click().run()
    assert "not on slips today" not in words_on(app)
    assert leaving_off.left_off(desk) == {}
    assert desk.store.heads() == before


def test_what_is_allowed_for_a_while_stands_beside_what_is_lacking(app: AppTest, desk: Desk) -> None:
    allow(desk, "ray", "set-slips")
    open_page(app, desk)
    (line,) = lines_of(app, "- Allowed with conditions to the end of the tour of Mar 3: **Setting the slips**.")
    assert line.endswith("Bill stays beside him")
    reinstating.stand_down(rig.at_desk_of(desk, "bill"), "ray", "set-slips", "Hand under the handle")
    app.run()
    assert lines_of(app, "- No longer allowed since off the slips: Setting the slips.")


def test_a_position_of_which_nothing_is_asked_is_only_named(
    app: AppTest, desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The first six subjects ask nothing of a toolpusher.
    monkeypatch.setenv("TRAINER_ROOT", str(core_root(tmp_path / "root")))
    people.add_person(desk, "pushy", "Vic Lund", "toolpusher", "day-1")
    open_page(app, desk)
    [named] = [each.value for each in app.caption if "nothing asked of the position:" in each.value]
    assert "Vic Lund" in named


def test_a_name_leads_to_all_about_that_hand(app: AppTest, desk: Desk) -> None:
    open_page(app, desk)
    app.button("open-ray").click().run()
    assert app.title[0].value == "Ray Dunn"


def test_a_tap_opens_a_sheet_for_that_hand(app: AppTest, desk: Desk) -> None:
    open_page(app, desk)
    app.button("watch-ray").click().run()
    assert app.title[0].value == "Ray Dunn: what is it for?"


def test_a_missed_must_know_is_talked_through_with_one_tap(
    app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    waiting = [Miss("record-1", "ray", "hand-placement", "hand-placement", ("never-places",), START.date())]
    asked: list[str | None] = []
    monkeypatch.setattr(talking, "misses_to_talk_through", lambda _desk, crew: asked.append(crew) or waiting)
    monkeypatch.setattr(talking, "talk_done", lambda _desk, record: waiting.clear() or asked.append(record))
    open_page(app, desk)
    assert "Talk through before the job" in [each.value for each in app.subheader]
    missed = desk.catalogue.banks["hand-placement"].objective("never-places")
    assert missed is not None
    (line,) = [each.value for each in app.markdown if each.value.startswith("**Ray Dunn** ·")]
    assert line.endswith(f", Mar 3: {plain(missed.title['en'])}")

    app.button("talk-record-1").click().run()
    assert asked[-2:] == ["record-1", "day-1"]
    assert "talk-record-1" not in keys_on(app)


def test_another_day_shows_another_standing(app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    hold(desk, "ray", "2025-12-11")
    moment = START + timedelta(days=10)
    at(monkeypatch, moment)
    open_page(app, rig_desk(desk, moment))
    assert any(line.endswith(" Mar 11") for line in lines_of(app, "- Was due: "))
