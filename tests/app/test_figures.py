"""The page of the rig's figures: one question at a time, both units, and the inspected class asked first."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import signed_in
from tests.app.office_pages import at, go, keys_on, words_on
from tests.e2e import rig
from trainer.actions.desk import Desk
from trainer.web import figures_list, parts
from trainer.web.parts import Dial, Limit, Moving

EVERYBODY = ("hanging", "stop", "shares", "lift", "contact", "stickup")


@pytest.fixture
def inspected(site: Desk) -> Desk:
    """The small rig with the class of its pipe entered."""
    rig.inspect_pipe(site)
    return site


def turns(monkeypatch: pytest.MonkeyPatch, *moves: Mapping[str, float]) -> list[dict[str, float]]:
    """Dials that are turned to ``moves`` one run after the other; what they stood at before each is in the list."""
    waiting, seen = list(moves), []

    def dials(shown: list[Dial], values: Mapping[str, float], **_: object) -> Mapping[str, float] | None:
        seen.append(dict(values))
        return {**values, **waiting.pop(0)} if waiting else None

    monkeypatch.setattr("trainer.web.figures_turned.dials", dials)
    return seen


def charts(monkeypatch: pytest.MonkeyPatch, module: str) -> list[dict[str, Any]]:
    """What the chart of that figure was given, one entry a run."""
    seen: list[dict[str, Any]] = []

    def chart(*_: object, **given: object) -> None:
        seen.append({"limits": _[3], **given})

    monkeypatch.setattr(f"trainer.web.figures_{module}.chart", chart)
    return seen


def test_a_hand_is_asked_which_question(app: AppTest, inspected: Desk) -> None:
    signed_in(app, inspected, "ray")
    go(app, "figures")
    assert {f"figure-{each}" for each in EVERYBODY} <= keys_on(app)
    assert "figure-grease" not in keys_on(app)
    assert "Zero: stopped first." in words_on(app)


def test_a_tap_opens_the_figure_and_its_place_is_in_the_address(app: AppTest, inspected: Desk) -> None:
    signed_in(app, inspected, "ray")
    go(app, "figures")
    app.button("figure-hanging").click().run()
    assert at(app, "figure") == "hanging"
    assert app.title[0].value == "What hangs in the slips"
    app.button("figures-all").click().run()
    assert at(app, "figure") == ""


@pytest.mark.parametrize("hand", ["bill", "luis"])
@pytest.mark.parametrize("units", ["SI", "US"])
def test_every_figure_is_drawn_in_both_languages_and_units(
    app: AppTest, inspected: Desk, units: str, hand: str
) -> None:
    signed_in(app, inspected, hand)
    is_hand = hand == "luis"
    for figure in figures_list.FIGURES:
        go(app, "figures", figure=figure.name, units=units)
        on_page = words_on(app)
        assert bool(app.error) == (is_hand and figure.name == "grease")
        assert ("Cero: primero, parada." if is_hand else "Zero: stopped first.") in on_page
        assert ("Solo para entrenamiento" if is_hand else "For training and screening only") in on_page
        assert (("Fuente" if is_hand else "Source") in on_page) == (not app.error)


def test_a_hand_who_types_the_address_of_grease_sees_none_of_it(app: AppTest, inspected: Desk) -> None:
    signed_in(app, inspected, "ray")
    go(app, "figures", figure="grease")
    assert [each.value for each in app.error] != []
    assert "squeeze" not in words_on(app).replace("What greased backs do to the squeeze", "")


def test_the_site_says_which_unit_stands_first_and_a_tap_turns_it_round(app: AppTest, inspected: Desk) -> None:
    signed_in(app, inspected, "ray")
    go(app, "figures", figure="hanging")
    assert "201\\.3 klbf \\(895 kN\\)" in words_on(app)
    app.button("figures-units-0").click().run()
    assert at(app, "units") == "SI"
    assert "895 kN \\(201\\.3 klbf\\)" in words_on(app)


def test_what_is_turned_answers_at_once_and_can_be_set_back(
    app: AppTest, inspected: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = turns(monkeypatch, {"mud": 0.0})
    signed_in(app, inspected, "ray")
    go(app, "figures", figure="hanging")
    assert "237\\.5 klbf" in words_on(app)
    app.run()
    assert (seen[0]["mud"], seen[-1]["mud"]) == (10.0, 0.0)

    app.button("back-hanging").click().run()
    assert seen[-1]["mud"] == 10.0
    assert "201\\.3 klbf" in words_on(app)
    assert "back-hanging" not in keys_on(app)


def test_the_stop_shows_its_limits_and_a_string_that_moves(
    app: AppTest, inspected: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = charts(monkeypatch, "stop")
    signed_in(app, inspected, "ray")
    go(app, "figures", figure="stop")
    limits: list[Limit] = seen[-1]["limits"]
    at_of = {each.tone: each.at for each in limits}
    assert at_of["soon"] == pytest.approx(at_of["late"] / 1.25)
    assert at_of["loose"] == 0
    assert {"calm", "late", "soon", "loose"} == set(at_of)
    moving = seen[-1]["moving"]
    assert isinstance(moving, Moving)
    assert len(moving.told) == len(moving.times) == len(moving.pull)
    assert "10 % larger" in words_on(app).replace("\\", "")
    assert "no permitted speed" in words_on(app)


def test_stopped_pipe_is_said_to_carry_its_weight_only(
    app: AppTest, inspected: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    turns(monkeypatch, {"speed": 0.0})
    signed_in(app, inspected, "ray")
    go(app, "figures", figure="stop")
    assert "Stopped first: the slips carry" in words_on(app).replace("\\", "")


def test_without_a_class_a_hand_is_told_whom_to_ask_and_sees_no_limit(
    app: AppTest, site: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = charts(monkeypatch, "stop")
    signed_in(app, site, "ray")
    go(app, "figures", figure="stop")
    assert "First: how much wall is left?" in [each.value for each in app.subheader]
    assert "Ask your coordinator" in words_on(app)
    assert not app.selectbox
    assert {each.tone for each in seen[-1]["limits"]} == {"calm", "loose"}
    go(app, "figures", figure="stickup")
    assert "Box face not higher" not in words_on(app)


def test_a_coordinator_enters_a_class_to_look_with_and_nothing_is_kept(app: AppTest, site: Desk) -> None:
    before = site.store.heads()
    signed_in(app, site, rig.COORDINATOR)
    go(app, "figures", figure="stickup")
    app.button("wall-enter").click().run()
    assert "Choose the class" in app.error[0].value
    app.selectbox("wall-class").set_value("class-2")
    app.number_input("wall-left").set_value(72)
    app.button("wall-enter").click().run()
    assert "not higher than" in words_on(app)
    assert "on this screen only: Class 2" in words_on(app)
    assert site.store.heads() == before


def test_the_height_shown_never_passes_the_sites_own(
    app: AppTest, inspected: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    turns(monkeypatch, {"torque": 4000.0}, {"torque": 60000.0})
    signed_in(app, inspected, "ray")
    go(app, "figures", figure="stickup")
    assert "36 in (0.91 m) above the slips: the site's own height" in words_on(app).replace("\\", "")
    app.run()
    assert "less than the site's own height" in words_on(app).replace("\\", "")


def test_a_load_that_the_pipe_cannot_hold_is_said_in_words(
    app: AppTest, inspected: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    turns(monkeypatch, {"load": 560.0})
    signed_in(app, inspected, "luis")
    go(app, "figures", figure="stickup")
    assert "no aguantaría" in app.warning[0].value


def test_the_lift_says_that_the_equation_is_not_for_teams_and_what_the_site_does(app: AppTest, inspected: Desk) -> None:
    signed_in(app, inspected, "ray")
    go(app, "figures", figure="lift")
    on_page = words_on(app).replace("\\", "")
    assert "does not cover team lifts" in on_page
    assert "Three people on the set" in on_page
    assert [each.value for each in app.subheader] == ["Then why do we lift it?"]


def test_out_of_reach_no_weight_is_recommended(app: AppTest, inspected: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    turns(monkeypatch, {"reach": 30.0})
    signed_in(app, inspected, "ray")
    go(app, "figures", figure="lift")
    assert "No weight at all is recommended" in words_on(app)


@pytest.mark.parametrize(
    ("asked", "chosen", "share"), [("set-5-b", "set-5-b", "50\\.0 lb"), ("nonsense", "set-5-a", "60\\.0 lb")]
)
def test_a_site_whose_sets_differ_is_asked_which_one(
    app: AppTest, inspected: Desk, asked: str, chosen: str, share: str
) -> None:
    own: Any = inspected.store.site_figures().site["rig"]
    lighter = {**own["slips"]["set-5-b"], "mass": "150 lb"}
    rig.write_figures(inspected, {"rig": {**own, "slips": {**own["slips"], "set-5-b": lighter}}})
    signed_in(app, inspected, "ray")
    go(app, "figures", figure="shares", set=asked)
    assert app.selectbox("figures-set").value == chosen
    assert share in words_on(app)


def test_a_site_without_rig_figures_says_whom_to_ask(app: AppTest, site: Desk) -> None:
    rig.write_figures(site, {"rig": None})
    signed_in(app, site, "ray")
    go(app, "figures", figure="stop")
    assert "has not entered the figures of its rig yet" in words_on(app)


def test_a_figure_that_is_none_opens_the_list(app: AppTest, inspected: Desk) -> None:
    signed_in(app, inspected, "ray")
    go(app, "figures", figure="nothing", units="parsecs")
    assert app.title[0].value == "Rig figures"


def test_the_parts_are_those_of_the_page() -> None:
    assert {"chart", "dials", "picture"} <= set(parts.__all__)
    assert replace(Limit(1.0, "calm", "x"), at=2.0).at == 2.0
