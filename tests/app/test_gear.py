"""Slips and bowls on screen: how each stands, a check, a die change that does not count out, a paper test."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import APP, PATIENCE_S, signed_in
from tests.app.crew_pages import Made, copied, make
from tests.app.office_pages import at, go, keys_on, words_on
from tests.e2e import rig
from trainer.actions import gearing
from trainer.actions.desk import Desk
from trainer.core.records import Gear


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Made:
    """Nobody holds anything yet."""
    return make(tmp_path_factory.mktemp("gear") / "data")


@pytest.fixture
def desk(made: Made, data: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    """A copy of it."""
    with copied(made, data, monkeypatch) as site:
        yield site


def open_page(app: AppTest, site: Desk, hand: str = "bill", **steps: str) -> AppTest:
    """The page as ``hand`` sees it."""
    signed_in(app, site, hand)
    app.run()
    return go(app, "gear", **steps)


def records(site: Desk) -> list[str]:
    bodies = [each.body for each in site.store.records(kinds=("gear",))]
    return [f"{body.gear} {body.what} {body.outcome}" for body in bodies if isinstance(body, Gear)]


def test_each_set_stands_there_with_its_word_and_a_way_in(app: AppTest, desk: Desk) -> None:
    open_page(app, desk)
    assert {"gear-open-set-5-a", "gear-open-set-5-b", "gear-open-bowl-1"} <= keys_on(app)
    app.button("gear-open-set-5-a").click().run()
    assert at(app, "gear") == "set-5-a"
    assert {"gear-do-check", "gear-do-dies", "gear-do-paper-test", "gear-do-out"} <= keys_on(app)
    assert "not proven stays out" in words_on(app)


def test_a_defect_takes_it_out_and_only_a_decision_brings_it_back(app: AppTest, desk: Desk) -> None:
    open_page(app, desk, gear="set-5-a")
    app.button("gear-do-check").click().run()
    app.radio("gear-outcome-check").set_value("defect")
    app.button("gear-save-check").click().run()
    assert "Still missing: what is wrong, in a word." in words_on(app)
    assert records(desk) == []
    app.text_area("gear-told").set_value("Keeper gone on segment 1")
    app.button("gear-save-check").click().run()
    assert records(desk) == ["set-5-a check defect"]
    assert at(app, "do") == ""
    assert "Keeper gone on segment 1" in words_on(app)
    assert "gear-do-back" in keys_on(app)
    assert "gear-do-out" not in keys_on(app)
    # The list says it as well: who took it out, when, and why.
    listed = words_on(go(app, "gear"))
    assert "- Mar 3, 2026: Checked, a defect found (Bill Hart). It stays out." in listed
    assert "- Why: Keeper gone on segment 1" in listed


def test_what_is_missing_is_named_all_at_once_and_under_its_field(app: AppTest, desk: Desk) -> None:
    open_page(app, desk, gear="set-5-a")
    app.button("gear-do-dies").click().run()
    app.button("gear-save-dies").click().run()
    assert "Still missing: how it came out, how many dies came out, how many dies went in." in words_on(app)
    assert "".join(each.body for each in app.get("html")).count("Missing</span>") == 3
    app.radio("gear-outcome-dies").set_value("count-short")
    app.number_input("gear-dies_out").set_value(30)
    app.button("gear-save-dies").click().run()
    assert "Still missing: how many dies went in, what happened to the missing die." in words_on(app)
    assert records(desk) == []


def test_a_set_that_is_out_is_not_called_proven_and_one_with_new_dies_says_what_ended_its_test(
    app: AppTest, desk: Desk
) -> None:
    bill = rig.at_desk_of(desk, "bill")
    full = [[1.0, 1.0, 1.0]] * 3
    gearing.note_test(bill, "set-5-a", "bowl-1", full, "520", "", date(2026, 3, 1), desk.new_id())
    counts = {"dies_out": "45", "dies_in": "45"}
    gearing.note(bill, "set-5-a", "dies", "done", "", date(2026, 3, 2), counts, desk.new_id())
    gearing.note_test(bill, "set-5-b", "bowl-1", full, "520", "", date(2026, 3, 1), desk.new_id())
    gearing.note(bill, "set-5-b", "out", "out", "Handle loose", date(2026, 3, 2), {}, desk.new_id())

    said = words_on(open_page(app, desk, gear="set-5-a"))
    assert "Mar 2, 2026: Dies changed, as many in as out. That ended the full paper test of Mar 1, 2026." in said
    assert "No full paper test" not in said
    assert "- Last full paper test" not in said
    assert "45 out, 45 in" in said
    assert "116.9 klbf (520 kN) on the slips · Bowl 1 in the master bushing" in said
    out = words_on(go(app, "gear", gear="set-5-b"))
    assert "Taken out of service (Bill Hart). It stays out." in out
    assert "Proven through" not in out
    assert "- Last full paper test Mar 1, 2026" in out
    assert "116.9 klbf (520 kN) on the slips · Slip set B, 5 in drill pipe" in words_on(go(app, "gear", gear="bowl-1"))


def test_dies_that_do_not_count_out_are_not_saved_as_done(app: AppTest, desk: Desk) -> None:
    open_page(app, desk, gear="set-5-a")
    app.button("gear-do-dies").click().run()
    app.radio("gear-outcome-dies").set_value("done")
    app.number_input("gear-dies_out").set_value(999)
    app.number_input("gear-dies_in").set_value(999)
    app.button("gear-save-dies").click().run()
    assert "A set has no more than 120 dies." in words_on(app)
    app.number_input("gear-dies_out").set_value(30)
    app.number_input("gear-dies_in").set_value(29)
    app.button("gear-save-dies").click().run()
    assert "a die is missing" in words_on(app)
    assert records(desk) == []
    app.number_input("gear-dies_in").set_value(30)
    app.button("gear-save-dies").click().run()
    assert records(desk) == ["set-5-a dies done"]


def test_a_paper_test_is_read_and_says_what_comes_next(app: AppTest, desk: Desk) -> None:
    open_page(app, desk, gear="set-5-a")
    app.button("gear-do-paper-test").click().run()
    app.button("gear-save-test").click().run()
    assert "Still missing: the load, segment 1, segment 2, segment 3." in words_on(app)
    app.button_group("gear-2-top").set_value(1.0)
    app.button("gear-save-test").click().run()
    assert "the load, segment 1, segment 2 (middle third, bottom third), segment 3." in words_on(app)
    asked = app.number_input("gear-load")
    assert asked.label == "Load on the slips, klbf (101.2 or more; that is 450 kN)"
    asked.set_value(-5.0)
    app.button("gear-save-test").click().run()
    missing = "a load that can be right, segment 1, segment 2 (middle third, bottom third), segment 3."
    under, together = (each.value for each in app.error)
    assert under.startswith("That is too little load for a test. It takes 450 kN (101.2 klbf) or more")
    assert together == f"Still missing: {missing}"
    app.number_input("gear-load").set_value(101.1)
    for segment in (1, 2, 3):
        for third, share in (("top", 1.0), ("middle", 0.5), ("bottom", 0.0)):
            app.button_group(f"gear-{segment}-{third}").set_value(share)
    app.button("gear-save-test").click().run()
    assert "It takes 450 kN (101.2 klbf) or more" in words_on(app)
    app.number_input("gear-load").set_value(99999.0)
    app.button("gear-save-test").click().run()
    assert "More than 4500 kN (1011.6 klbf) cannot be." in words_on(app)
    assert records(desk) == []
    app.number_input("gear-load").set_value(101.2)
    app.button("gear-save-test").click().run()
    assert records(desk) == ["set-5-a paper-test top only"]
    body = next(desk.store.records(kinds=("gear",))).body
    assert isinstance(body, Gear)
    assert body.figures["load_kn"] == "450.2"
    assert "Repeat the test with new slips" in words_on(app)
    assert "Nothing is destroyed on this word alone" in words_on(app)
    assert "Out of service" in "".join(each.body for each in app.get("html"))


def test_an_address_with_nonsense_in_it_shows_the_list(app: AppTest, desk: Desk) -> None:
    open_page(app, desk, gear="set-9", do="polish")
    assert "gear-open-set-5-a" in keys_on(app)
    assert not app.exception


def test_a_hand_has_no_such_page(app: AppTest, desk: Desk) -> None:
    signed_in(app, desk, "ray")
    app.run()
    assert "Slips and bowls" not in words_on(app)


def test_it_is_there_in_spanish(desk: Desk) -> None:
    app = AppTest.from_file(str(APP), default_timeout=PATIENCE_S)
    open_page(app, desk, rig.COORDINATOR)
    app.button("speak-es").click().run()
    go(app, "gear", gear="set-5-a")
    assert "Cambiar los dados" in [each.label for each in app.button]


def test_a_drillers_first_page_names_what_may_not_stand_in_the_table(app: AppTest, desk: Desk) -> None:
    signed_in(app, desk, "bill")
    app.run()
    assert "Not for the table today" in [each.value for each in app.subheader]
    app.button("today-to-gear").click().run()
    assert app.title[0].value == "Slips and bowls"
