"""Slips and bowls on screen: how each stands, a check, a die change that does not count out, a paper test."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import APP, signed_in
from tests.app.crew_pages import Made, copied, make
from tests.app.office_pages import at, go, keys_on, words_on
from tests.e2e import rig
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
    assert "Write a word on it" in words_on(app)
    assert records(desk) == []
    app.text_area("gear-told").set_value("Keeper gone on segment 1")
    app.button("gear-save-check").click().run()
    assert records(desk) == ["set-5-a check defect"]
    assert at(app, "do") == ""
    assert "Keeper gone on segment 1" in words_on(app)
    assert "gear-do-back" in keys_on(app)
    assert "gear-do-out" not in keys_on(app)


def test_dies_that_do_not_count_out_are_not_saved_as_done(app: AppTest, desk: Desk) -> None:
    open_page(app, desk, gear="set-5-a")
    app.button("gear-do-dies").click().run()
    app.radio("gear-outcome-dies").set_value("done")
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
    assert "Something is missing" in words_on(app)
    app.number_input("gear-load").set_value(520.0)
    for segment in (1, 2, 3):
        for third, share in (("top", 1.0), ("middle", 0.5), ("bottom", 0.0)):
            app.button_group(f"gear-{segment}-{third}").set_value(share)
    app.button("gear-save-test").click().run()
    assert records(desk) == ["set-5-a paper-test top only"]
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
    app = AppTest.from_file(str(APP), default_timeout=20)
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
