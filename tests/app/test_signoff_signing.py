"""The sign-off pages: what signing would write, two PINs, and the result."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import held, signed_in
from tests.app.crew_pages import Made, copied, hold, make
from tests.app.learning import START, at, of
from tests.app.office_pages import at as step_at
from tests.app.office_pages import go, keys_on, words_on
from tests.app.signoff_pages import field, fresh, observations, open_page, pins, sheet
from tests.e2e import rig
from trainer.actions import watching
from trainer.actions.desk import Desk
from trainer.actions.sheets import Sheet


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Made:
    """The driller Bill and the derrickhand Ana hold everything."""
    return make(tmp_path_factory.mktemp("signoff") / "data", "bill", "ana")


@pytest.fixture
def desk(made: Made, data: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    """A copy of it."""
    with copied(made, data, monkeypatch) as site:
        yield site


def test_a_look_tells_what_is_not_yet_and_by_which_steps(app: AppTest, desk: Desk) -> None:
    made = sheet(desk, {"calls-signals": "met", "lifting-footing": "met after prompt"}, overall="no")
    open_page(app, desk, sheet=made.sheet_id, step="look")
    told = words_on(app)
    assert "Checks for a dry, clear path before the lift: **Met after prompt**" in told
    assert "Not watched, so nothing is written: Hand placement" in told
    assert {"sign-both", "sign-alone", "sign-declined"} <= keys_on(app)


def test_a_number_that_cannot_be_right_is_refused_in_our_words_at_the_field_and_before_signing(
    app: AppTest, desk: Desk
) -> None:
    made = sheet(desk, {"calls-signals": "met"})
    open_page(app, desk, sheet=made.sheet_id)
    field(app, "number_input", "connections").set_value(5000.0)  # type: ignore[attr-defined]
    app.run()
    told = "5000 cannot be right for: Connections watched. Write a number from 1 to 200, or leave it empty."
    assert [each.value for each in app.error] == [told]
    # What was typed stands there to be mended.
    assert field(app, "number_input", "connections").value == 5000.0  # type: ignore[attr-defined]
    go(app, "signoff", sheet=made.sheet_id, step="look")
    assert told in app.error[0].value
    assert "sign-both" not in keys_on(app)


def test_a_watch_shorter_than_the_site_asks_for_is_told_before_it_is_signed(app: AppTest, desk: Desk) -> None:
    made = sheet(desk, {"calls-signals": "met"}, conditions={"connections": "9", "team": "two"})
    open_page(app, desk, sheet=made.sheet_id, step="look")
    told = [each.value for each in app.warning]
    assert any(each.startswith("This site asks for 10 connections in a watch. This one has 9.") for each in told)
    assert any(each.startswith("This site works a set with 3 people.") for each in told)
    # It is the observer's to judge: it stops nothing.
    assert "sign-both" in keys_on(app)


def noted(site: Desk) -> Sheet:
    """A sheet with something in each place that is signed."""
    made = sheet(
        site, {"calls-signals": "met"}, overall="no", note="Wind from *the* V-door", stop_called=True,
        conditions={"connections": "12", "direction": "out"},
    )  # fmt: skip
    bill = of(site, "bill")
    watching.tick(bill, made.sheet_id, "calls-repeat", "met after prompt", note="a nod")
    watching.tick(bill, made.sheet_id, "hands-out", "not met", note="late once")
    watching.tick(bill, made.sheet_id, "hands-bare", "not met", own_act=False)
    return watching.tick(bill, made.sheet_id, "set-body", "not applicable", note="no pipe in")


@pytest.mark.parametrize("step", ["look", "sign"])
def test_whoever_signs_sees_all_that_is_signed(app: AppTest, desk: Desk, step: str) -> None:
    made = noted(desk)
    if step == "sign":
        watching.sign(of(desk, "bill"), made.sheet_id, rig.PINS["bill"])
    open_page(app, desk, sheet=made.sheet_id, step=step)
    told = words_on(app)
    for each in (
        "Repeats the call back: **Met after prompt**. Note: a nod",
        "**Not met, own act**. Note: late once",
        "**Not met, not the hand's own act**",
        "**Does not apply**. Note: no pipe in",
        "Connections watched: 12 · Running in or out: Pulling out",
        "Watched by Bill Hart.",
        "Would you let Ray Dunn do this alone? **Not yet**",
        r"Note: Wind from \*the\* V\-door",
        "Ray Dunn called a stop.",
        "Met: 2 of 3 steps.",
    ):
        assert each in told, each
    assert [each.label for each in app.expander] == ["All 25 steps, one by one"]


def test_a_sheet_of_clean_ones_only_takes_both_pins(app: AppTest, desk: Desk) -> None:
    made = sheet(desk, {"calls-signals": "met"})
    open_page(app, desk, sheet=made.sheet_id, step="look")
    assert "sign-both" in keys_on(app)
    assert not {"sign-alone", "sign-declined"} & keys_on(app)


def test_a_stand_down_says_first_to_make_safe(app: AppTest, desk: Desk) -> None:
    hold(desk, "ray")
    made = sheet(desk, {"hand-placement": "not met"}, overall="yes")
    open_page(app, desk, sheet=made.sheet_id, step="look")
    assert app.error[0].value.startswith("**Make safe first, then swap. Never leave the pipe.**")
    assert "off the slips at once for: Hand placement" in app.error[0].value
    assert "Look again" in app.warning[0].value


def test_two_pins_sign_a_clean_sheet_and_neither_is_kept(
    app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = sheet(desk, {"calls-signals": "met"})
    open_page(app, desk, sheet=made.sheet_id, step="look")
    pins(monkeypatch, rig.PINS["bill"])
    app.button("sign-both").click().run()
    assert app.title[0].value == "Ray Dunn: now your PIN"
    assert "I have seen it" in app.info[0].value
    assert observations(desk) == []

    pins(monkeypatch, rig.PINS["ray"])
    app.run()
    assert app.title[0].value == "Signed"
    assert step_at(app, "done") == made.sheet_id
    (body,) = observations(desk)
    assert ([each.role for each in body.signatures], body.outcomes) == (
        ["observer", "hand"],
        {"calls-signals": "clean"},
    )
    kept = f"{held(app)} {app.query_params}"
    assert not any(pin in kept for pin in rig.PINS.values())


def test_a_wrong_pin_says_so_and_loses_nothing(app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    made = sheet(desk, {"calls-signals": "met"})
    open_page(app, desk, sheet=made.sheet_id, step="sign", hand="signed")
    pins(monkeypatch, "111222")
    app.run()
    assert held(app).values["signoff-problem"] == "That name and PIN do not match. Try again."
    pins(monkeypatch, rig.PINS["bill"], "111222")
    app.run()
    assert app.title[0].value == "Ray Dunn: now your PIN"
    assert watching.sheet(of(desk, "bill"), made.sheet_id).steps == made.steps
    assert observations(desk) == []


def test_not_yet_signs_on_the_observers_pin_alone(app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    made = sheet(desk, {"calls-signals": "met", "hand-placement": "not met"}, overall="no")
    open_page(app, desk, sheet=made.sheet_id, step="look")
    pins(monkeypatch, rig.PINS["bill"])
    app.button("sign-declined").click().run()

    assert app.title[0].value == "Signed"
    assert "watch again on another tour" in words_on(app)
    (body,) = observations(desk)
    assert (body.hand_present, body.outcomes) == ("declined", {"hand-placement": "not yet"})


def test_after_a_stand_down_the_next_thing_is_to_make_safe(
    app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    hold(desk, "ray")
    made = sheet(desk, {"hand-placement": "not met"}, overall="no")
    open_page(app, desk, sheet=made.sheet_id, step="sign", hand="not present")
    pins(monkeypatch, rig.PINS["bill"])
    app.run()
    assert app.error[0].value.startswith("**Make safe first, then swap. Never leave the pipe.**")
    app.button("cell-hand-placement").click().run()
    assert step_at(app, "hand") == "ray"
    assert "Off the slips" in words_on(app)


def test_the_result_names_what_is_still_to_be_watched(
    app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = sheet(desk, {"calls-signals": "met", "set-slips": "met"})
    watching.commit(of(desk, "bill"), made.sheet_id, rig.PINS["bill"], rig.PINS["ray"])
    open_page(app, desk, done=made.sheet_id)
    assert "1 more watch, on another day and by another observer: Setting the slips." in words_on(app)
    # Somebody else's result, or one that is not there, is not told.
    assert app.title[0].value == "Signed"
    assert open_page(fresh(), desk, "ana", done=made.sheet_id).title == []


def test_a_sheet_signed_elsewhere_leads_to_its_result_and_a_lost_one_to_the_beginning(app: AppTest, desk: Desk) -> None:
    made = sheet(desk, {"calls-signals": "met"})
    watching.commit(of(desk, "bill"), made.sheet_id, rig.PINS["bill"], rig.PINS["ray"])
    assert open_page(app, desk, sheet=made.sheet_id, step="look").title[0].value == "Signed"
    assert open_page(app, desk, sheet="nothing").title[0].value == "Sign-off"


def test_the_observers_pin_alone_is_asked_again_after_a_while(
    app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = sheet(desk, {"calls-signals": "met"})
    watching.sign(of(desk, "bill"), made.sheet_id, rig.PINS["bill"])
    assert open_page(app, desk, sheet=made.sheet_id, step="sign").title[0].value == "Ray Dunn: now your PIN"
    at(monkeypatch, START + timedelta(minutes=11))
    later = replace(desk, now=START + timedelta(minutes=11))
    assert open_page(app, later, sheet=made.sheet_id, step="sign").title[0].value == "Ray Dunn: sign"


def test_going_back_to_the_sheet_takes_the_observers_pin_off(app: AppTest, desk: Desk) -> None:
    made = sheet(desk, {"calls-signals": "met"})
    watching.sign(of(desk, "bill"), made.sheet_id, rig.PINS["bill"])
    open_page(app, desk, sheet=made.sheet_id, step="sign")
    app.button("to-sheet").click().run()
    assert app.title[0].value == "Ray Dunn: on the job"
    assert open_page(app, desk, sheet=made.sheet_id, step="sign").title[0].value == "Ray Dunn: sign"


def test_practice_counts_for_nothing_and_says_so(app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    made = sheet(desk, {"hand-placement": "not met"}, purpose="practice", overall="", brake="")
    open_page(app, desk, sheet=made.sheet_id, step="look")
    assert "counts neither for nor against" in words_on(app)
    pins(monkeypatch, rig.PINS["bill"])
    app.button("sign-alone").click().run()
    assert "Kept as practice" in words_on(app)
    [printed] = app.get("download_button")
    assert printed.proto.label == "Print the sheet of Mar 3, 2026 (PDF)"
    assert observations(desk)[0].outcomes == {}


def test_a_sheet_is_thrown_away_only_after_a_question(app: AppTest, desk: Desk) -> None:
    made = sheet(desk, {"calls-signals": "met"})
    open_page(app, desk, sheet=made.sheet_id)
    app.button("drop").click().run()
    assert watching.sheets(of(desk, "bill")) != ()
    app.button("drop-yes").click().run()
    assert watching.sheets(of(desk, "bill")) == ()
    assert app.title[0].value == "Sign-off"


def test_the_records_say_which_steps_kept_a_watch_from_clean(app: AppTest, desk: Desk) -> None:
    made = sheet(desk, {"hand-placement": "met"}, overall="no")
    watching.tick(of(desk, "bill"), made.sheet_id, "hands-out", "not met", note="late once")
    watching.commit(of(desk, "bill"), made.sheet_id, rig.PINS["bill"], None, watching.NOT_PRESENT)
    signed_in(app, desk, "bill")
    told = words_on(go(app, "evidence", hand="ray", competency="hand-placement"))
    assert "**Not met, own act**. Note: late once" in told
    assert "Hands only on the handles" not in told
