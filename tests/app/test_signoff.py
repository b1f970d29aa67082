"""The sign-off pages: who sees them, and a sheet that is kept at every tap."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.crew_pages import Made, copied, hold, make
from tests.app.learning import of
from tests.app.office_pages import at as step_at
from tests.app.office_pages import bring, go, keys_on, once, words_on
from tests.app.signoff_pages import field, fresh, open_page, sheet
from tests.e2e import rig
from trainer.actions import watching
from trainer.actions.desk import Desk
from trainer.web import signoff_sheet
from trainer.web.parts import Ticked


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Made:
    """The driller Bill and the derrickhand Ana hold everything."""
    return make(tmp_path_factory.mktemp("signoff") / "data", "bill", "ana")


@pytest.fixture
def desk(made: Made, data: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    """A copy of it."""
    with copied(made, data, monkeypatch) as site:
        yield site


def test_an_observer_finds_his_own_crew_first_and_himself_nowhere(app: AppTest, desk: Desk) -> None:
    open_page(app, desk)
    assert app.title[0].value == "Sign-off"
    assert [key for key in (button.key for button in app.button) if key and key.startswith("hand-")] == [
        "hand-luis", "hand-ray", "hand-ana", "hand-sam",
    ]  # fmt: skip
    assert "doghouse" in words_on(app)
    assert "no other job" in words_on(app)


def test_a_derrickhand_sees_the_page_and_a_floorhand_and_the_office_do_not(app: AppTest, desk: Desk) -> None:
    assert "hand-ray" in keys_on(open_page(app, desk, "ana"))
    for hand in ("ray", rig.COORDINATOR):
        assert "hand-luis" not in keys_on(open_page(fresh(), desk, hand))


def test_two_taps_open_a_sheet_on_the_day_his_tour_began(app: AppTest, desk: Desk) -> None:
    open_page(app, desk)
    app.button("hand-ray").click().run()
    assert words_on(app).count("Counts neither for nor against") == 1
    app.button("assessment-connections").click().run()

    (made,) = watching.sheets(of(desk, "bill"))
    assert step_at(app, "sheet") == made.sheet_id
    assert (made.hand, made.details.purpose, made.details.held.isoformat()) == ("ray", "assessment", "2026-03-03")


def test_the_sheets_that_the_hand_needs_come_first_and_the_others_are_folded(app: AppTest, desk: Desk) -> None:
    hold(desk, "ray")
    bring(
        desk, "ray,stop-report,stood-down,2026-02-25,,Somebody Else,", "ray,stop-report,reinstated,2026-02-26,,bill,ok"
    )
    open_page(app, desk, hand="ray")
    assert [each.value for each in app.header][:2] == ["Still needed or due soon", "The rest for this position"]
    order = [key for key in (button.key for button in app.button) if key and key.startswith("assessment-")]
    assert order[:2] == ["assessment-stop-report", "assessment-connections"]
    assert "Still needed: Stop and report" in words_on(app)
    (others,) = app.expander
    folded = {button.key for button in others.button}
    assert "assessment-driller-part" in folded
    assert "assessment-connections" not in folded


def test_a_derrickhand_gets_the_position_s_sheets_first_and_no_word_of_what_another_lacks(
    app: AppTest, desk: Desk
) -> None:
    open_page(app, desk, "ana", hand="ray")
    # Ana reads Spanish.
    assert app.header[0].value == "Para este puesto"
    assert "Falta" not in words_on(app)


def test_nobody_opens_a_sheet_about_himself(app: AppTest, desk: Desk) -> None:
    open_page(app, desk, hand="bill")
    assert app.error[0].value == "Nobody signs for themselves. Ask another observer."
    assert "assessment-connections" not in keys_on(app)


def test_an_open_sheet_is_there_to_go_on_with(app: AppTest, desk: Desk) -> None:
    made = sheet(desk, {"calls-signals": "met"})
    open_page(app, desk)
    assert "Assessment · Mar 3 · 3 of 25 steps" in app.button(f"sheet-{made.sheet_id}").label
    app.button(f"sheet-{made.sheet_id}").click().run()
    assert app.title[0].value == "Ray Dunn: on the job"


def test_a_tap_is_kept_before_the_page_answers(app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    made = watching.open_sheet(of(desk, "bill"), "connections", "ray")
    sent = {"hands-out": Ticked("not met", False, "pushed"), "hands-bare": Ticked("met")}
    monkeypatch.setattr(signoff_sheet, "step_ticks", once(sent))
    open_page(app, desk, sheet=made.sheet_id)

    kept = watching.sheet(of(desk, "bill"), made.sheet_id)
    assert {(each.step, each.state, each.own_act, each.note) for each in kept.steps} == {
        ("hands-out", "not met", False, "pushed"),
        ("hands-bare", "met", True, None),
    }
    assert app.button("to-look").label == "Look it over and sign: 2 of 25 steps ticked"


def test_an_old_screen_undoes_no_tick_of_another_tablet(
    app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    bill = of(desk, "bill")
    made = watching.open_sheet(bill, "connections", "ray")
    watching.tick(bill, made.sheet_id, "hands-out", "met")
    open_page(app, desk, sheet=made.sheet_id)
    watching.tick(bill, made.sheet_id, "hands-out", "not met", note="seen on paper")
    # The old screen still shows the step as met, and sends it along with the next tap.
    stale = {"hands-out": Ticked("met"), "hands-bare": Ticked("met")}
    monkeypatch.setattr(signoff_sheet, "step_ticks", once(stale))
    app.run()

    states = {each.step: each.state for each in watching.sheet(bill, made.sheet_id).steps}
    assert states == {"hands-out": "not met", "hands-bare": "met"}


def test_every_field_is_kept_and_comes_back_after_a_restart(app: AppTest, desk: Desk) -> None:
    bill = of(desk, "bill")
    made = watching.open_sheet(bill, "connections", "ray")
    open_page(app, desk, sheet=made.sheet_id)
    field(app, "number_input", "connections").set_value(12.0)  # type: ignore[attr-defined]
    field(app, "button_group", "direction").set_value("out")  # type: ignore[attr-defined]
    field(app, "button_group", "brake").set_value("luis")  # type: ignore[attr-defined]
    field(app, "button_group", "overall").set_value("no")  # type: ignore[attr-defined]
    field(app, "checkbox", "stop").check()  # type: ignore[attr-defined]
    field(app, "text_area", "note").set_value("Wind from the V-door")  # type: ignore[attr-defined]
    app.run()
    assert not app.exception

    details = watching.sheet(bill, made.sheet_id).details
    assert details.conditions == {"connections": "12", "direction": "out"}
    assert (details.brake, details.overall, details.stop_called) == ("luis", "no", True)
    assert details.note == "Wind from the V-door"

    again = open_page(fresh(), desk, sheet=made.sheet_id)
    assert field(again, "number_input", "connections").value == 12.0  # type: ignore[attr-defined]
    assert field(again, "text_area", "note").value == "Wind from the V-door"  # type: ignore[attr-defined]


@pytest.mark.parametrize(("who", "watched", "is_there"), [("bill", "ray", False), ("ana", "bill", True)])
def test_a_hand_that_is_watched_had_the_brake_only_where_he_is_a_driller(
    app: AppTest, desk: Desk, who: str, watched: str, is_there: bool
) -> None:
    made = watching.open_sheet(of(desk, who), "driller-part", watched, "practice")
    open_page(app, desk, who, sheet=made.sheet_id)
    offered: list[str] = field(app, "button_group", "brake").options  # type: ignore[attr-defined]
    assert (rig.NAMES[watched] in offered) is is_there
    assert any(rig.NAMES[who].split()[0] in each for each in offered)


def test_a_field_changed_on_another_tablet_is_shown_and_not_written_over(app: AppTest, desk: Desk) -> None:
    made = sheet(desk, {}, overall="yes")
    open_page(app, desk, sheet=made.sheet_id)
    watching.fill(of(desk, "bill"), made.sheet_id, replace(made.details, overall="no"))
    app.run()
    assert watching.sheet(of(desk, "bill"), made.sheet_id).details.overall == "no"
    assert field(app, "button_group", "overall").value == "no"  # type: ignore[attr-defined]


def test_a_number_s_unit_is_said_in_the_language_on_screen(app: AppTest, desk: Desk) -> None:
    made = sheet(desk, {}, conditions={"pipe": "5"})
    open_page(app, desk, sheet=made.sheet_id)
    assert field(app, "number_input", "pipe").label == "Pipe size, in"  # type: ignore[attr-defined]
    app.button("speak-es").click().run()
    go(app, "signoff", sheet=made.sheet_id)
    assert field(app, "number_input", "pipe").label == "Tamaño de la tubería, pulg"  # type: ignore[attr-defined]
    go(app, "signoff", sheet=made.sheet_id, step="look")
    assert "Tamaño de la tubería: 5 pulg" in words_on(app)


@pytest.mark.parametrize("details", [{"brake": "bill"}, {"job": "slips"}])
def test_an_observer_with_another_job_is_told_at_once_and_cannot_sign(
    app: AppTest, desk: Desk, details: dict[str, str]
) -> None:
    made = sheet(desk, {"calls-signals": "met"}, **details)
    open_page(app, desk, sheet=made.sheet_id)
    assert "Whoever watches has no other job" in app.warning[0].value
    go(app, "signoff", sheet=made.sheet_id, step="look")
    assert "Whoever watches has no other job" in app.error[0].value
    assert "sign-both" not in keys_on(app)


def test_what_the_observer_does_not_hold_is_said_before_he_ticks(app: AppTest, desk: Desk) -> None:
    bring(desk, "bill,set-slips,stood-down,2026-03-01,,Somebody Else,")
    made = watching.open_sheet(of(desk, "bill"), "connections", "ray")
    open_page(app, desk, sheet=made.sheet_id)
    assert "you do not hold: Setting the slips" in app.warning[0].value
