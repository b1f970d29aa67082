"""On and off the slips: a hand's own page, taking off, bringing back with a second's PIN, allowing with two PINs."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import APP, PATIENCE_S, signed_in
from tests.app.crew_pages import PUSHER_PIN, Made, allow, copied, hold, make
from tests.app.office_pages import at, bring, go, keys_on, once, words_on
from tests.e2e import rig
from trainer.actions import bringing, dispensed, dispensing, people, reinstating, signing_in
from trainer.actions.desk import Desk
from trainer.core.records import Reinstated, StoodDown

CELL = {"hand": "ray", "competency": "set-slips"}


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Made:
    """A rig with a toolpusher; nobody holds anything yet."""
    return make(tmp_path_factory.mktemp("slips") / "data")


@pytest.fixture
def desk(made: Made, data: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    """A copy of it."""
    with copied(made, data, monkeypatch) as site:
        yield site


def open_page(app: AppTest, site: Desk, by: str = "bill", **steps: str) -> AppTest:
    """The page as ``by`` sees it."""
    signed_in(app, site, by)
    app.run()
    return go(app, "slips", **steps)


def take_off(site: Desk, by: str = "bill") -> None:
    """Ray off the slips for setting them."""
    reinstating.stand_down(rig.at_desk_of(site, by), "ray", "set-slips", "Hand under the handle")


def written(site: Desk, kind: str) -> list[object]:
    """The bodies of ray's records of that kind."""
    return [each.body for each in site.store.records(kinds=(kind,), hand="ray")]


def test_all_about_a_hand_the_worst_first_each_the_way_to_its_records(app: AppTest, desk: Desk) -> None:
    hold(desk, "ray")
    take_off(desk)
    open_page(app, desk, hand="ray")
    assert app.title[0].value == "Ray Dunn"
    cells = [key for key in (each.key for each in app.button) if str(key).startswith("cell-")]
    assert cells[0] == "cell-set-slips"
    assert len(cells) == len(desk.catalogue.needed_by("floorhand"))
    app.button("cell-set-slips").click().run()
    assert (at(app, "hand"), at(app, "competency")) == ("ray", "set-slips")
    assert {"to-back", "evidence-hand"} <= keys_on(app)


def test_a_hand_sees_nobodys_page_and_the_driller_has_no_way_to_take_himself_off(app: AppTest, desk: Desk) -> None:
    open_page(app, desk, hand="bill")
    assert not {"slips-off", "slips-back"} & keys_on(app)
    go(app, "slips", hand="bill", do="off")
    assert "off-go" not in keys_on(app)


def test_taking_off_asks_for_what_and_why_and_acts_at_once(app: AppTest, desk: Desk) -> None:
    open_page(app, desk, hand="ray")
    app.button("slips-off").click().run()
    assert "Make safe first, then swap." in words_on(app)
    app.button("off-go").click().run()
    assert "Still missing: what it is for, what happened." in words_on(app)
    app.button_group("off-what").set_value(["set-slips", "pull-slips"])
    app.button("off-go").click().run()
    assert "Still missing: what happened." in words_on(app)
    assert written(desk, "stood-down") == []

    app.text_area("off-why").set_value("Kicked the slips in")
    app.button("off-go").click().run()
    bodies = [each for each in written(desk, "stood-down") if isinstance(each, StoodDown)]
    assert [(each.competency, each.observer) for each in bodies] == [("set-slips", "bill"), ("pull-slips", "bill")]
    said = words_on(app)
    assert "off the slips for: Setting the slips, Pulling the slips." in said
    assert said.index("**Next**") < said.index("Make safe first, then swap.")


def test_whoever_took_off_on_this_tour_needs_a_second_with_a_pin(
    app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    take_off(desk)
    open_page(app, desk, **CELL, do="back")
    assert "Back does not mean current" in words_on(app)
    assert "Brought back by **Bill Hart**" in words_on(app)
    app.text_area("back-done").set_value("Three sets beside the driller")
    app.button("back-go").click().run()
    assert {key for key in keys_on(app) if str(key).startswith("second-")} == {"second-ana", "second-coordinator"}

    monkeypatch.setattr("trainer.web.slips_back.keypad", once("111222"))
    app.button("second-ana").click().run()
    assert written(desk, "reinstated") == []

    # A reload takes all that the server held for this tab: nobody types it again.
    fresh = AppTest.from_file(str(APP), default_timeout=PATIENCE_S)
    monkeypatch.setattr("trainer.web.slips_back.keypad", once(""))
    open_page(fresh, desk, **CELL, do="back", titles="set-slips")
    assert "Done about it: Three sets beside the driller" in words_on(fresh)
    assert "back-other" in keys_on(fresh)
    monkeypatch.setattr("trainer.web.slips_back.keypad", once(rig.PINS["ana"]))
    app.run()
    (body,) = written(desk, "reinstated")
    assert isinstance(body, Reinstated)
    assert (body.second, desk.store.text(body.done or "")) == ("ana", "Three sets beside the driller")
    assert "Until they are passed again Ray Dunn is learning." in words_on(app)
    assert desk.store.drafts(kind=bringing.KIND) == ()
    go(app, "evidence", **CELL)
    assert "By Bill Hart, with Ana María Núñez\\-Castellanos." in words_on(app)


def test_anybody_else_who_judges_brings_back_alone_and_says_what_was_done(app: AppTest, desk: Desk) -> None:
    take_off(desk)
    open_page(app, desk, rig.COORDINATOR, hand="ray", do="back")
    said = words_on(app)
    assert "- **Setting the slips**: off since Mar 3, 2026, by Bill Hart." in said
    assert "    - What happened: Hand under the handle" in said
    app.button("back-go").click().run()
    assert "Still missing: what was done about it." in words_on(app)
    app.text_area("back-done").set_value("Walked through it")
    app.button("back-go").click().run()
    (body,) = written(desk, "reinstated")
    assert isinstance(body, Reinstated)
    assert (body.competency, body.second, body.observer) == ("set-slips", None, rig.COORDINATOR)


def test_leaving_it_as_it_is_throws_away_what_was_typed(app: AppTest, desk: Desk) -> None:
    take_off(desk)
    open_page(app, desk, **CELL, do="back")
    app.text_area("back-done").set_value("Three sets beside the driller")
    app.button("back-go").click().run()
    assert desk.store.drafts(kind=bringing.KIND)
    app.button("slips-stop").click().run()
    assert desk.store.drafts(kind=bringing.KIND) == ()
    assert written(desk, "reinstated") == []


def test_a_step_can_be_left_as_it_is(app: AppTest, desk: Desk) -> None:
    open_page(app, desk, hand="ray", do="off")
    app.button("slips-stop").click().run()
    assert app.title[0].value == "Ray Dunn"
    go(app, "slips", **CELL, do="off")
    app.button("slips-stop").click().run()
    assert app.title[0].value == "Setting the slips"
    assert written(desk, "stood-down") == []


def with_toolpusher(site: Desk) -> None:
    """The toolpusher that can allow it."""
    people.add_person(site, "pushy", "Vic Lund", "toolpusher", "day-1")
    signing_in.first_pin(site, "pushy", signing_in.new_code(site, "pushy"), PUSHER_PIN, "setup")


def test_allowing_takes_conditions_and_both_pins_and_is_shown_beside_the_standing(
    app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    with_toolpusher(desk)
    signed_in(app, desk, "bill")
    app.run()
    go(app, "evidence", **CELL)
    app.button("to-allow").click().run()
    assert "allow-go" in keys_on(app)
    go(app, "slips", **CELL, do="allow")
    app.button("allow-go").click().run()
    assert "Still missing: the conditions." in words_on(app)
    app.text_area("allow-conditions").set_value("Bill stays *beside* him")
    app.button("allow-go").click().run()
    assert "With this PIN you allow it:" in words_on(app)

    monkeypatch.setattr("trainer.web.slips_allow.keypad", once(rig.PINS[rig.COORDINATOR]))
    app.run()
    assert dispensed.shown(desk) == ()
    monkeypatch.setattr("trainer.web.slips_allow.keypad", once(PUSHER_PIN))
    app.run()
    assert dispensed.shown(desk) == ()
    monkeypatch.setattr("trainer.web.slips_allow.keypad", once(rig.PINS[rig.COORDINATOR]))
    app.run()
    assert [(each.competency, each.pusher, each.state) for each in dispensed.shown(desk)] == [
        ("set-slips", "Vic Lund", "runs")
    ]
    assert "Tell the crew the conditions before the job." in words_on(app)

    go(app, "evidence", **CELL)
    said = words_on(app)
    assert "Allowed with conditions to the end of the tour of Mar 3." in said
    assert r"Conditions: Bill stays \*beside\* him" in said
    assert "Allowed by Vic Lund and Pat Vance, to Mar 3, 2026." in said
    assert "to-allow" not in keys_on(app)
    assert "void-0" in keys_on(app)


def test_what_is_missing_or_went_wrong_is_said_before_both_pins(app: AppTest, desk: Desk) -> None:
    bring(
        desk,
        "ray,pull-slips,outside-knowledge,2026-02-20,pass,Somebody Else,",
        "ray,hand-placement,practical,2026-03-02,fail,Somebody Else,Hand on the pipe",
        "ray,stop-report,stood-down,2026-03-02,,Somebody Else,Said nothing",
    )
    with_toolpusher(desk)
    about = {"hand": "ray", "competency": "pull-slips"}
    open_page(app, desk, **about, do="allow")
    told = [
        "Before you allow it: this is missing or open",
        "Off the slips for: Stop and report.",
        "To be watched 2 times: Pulling the slips",
        "First comes Hand placement: ",
        "Not yet on Mar 2: Hand placement, watched on the job.",
    ]
    assert [each for each in told if each not in words_on(app)] == []
    assert "Quiz to pass: Pulling the slips" not in words_on(app)
    app.text_area("allow-conditions").set_value("Bill stays beside him")
    app.button("allow-go").click().run()
    assert "With this PIN you allow it:" in words_on(app)
    assert [each for each in told if each not in words_on(app)] == []


def test_beside_what_stays_undone_the_page_says_that_the_allowance_counts(app: AppTest, desk: Desk) -> None:
    assert "until it ends, this counts here" not in words_on(open_page(app, desk, hand="ray"))
    allow(desk, "ray", "set-slips")
    said = words_on(go(app, "slips", hand="ray"))
    governs = "**Allowed with conditions to the end of the tour of Mar 3:** until it ends, this counts here."
    assert said.count(governs) == 1
    assert said.index("Setting slips only as the third") < said.index(governs)
    take_off(desk)
    app.run()
    assert governs not in words_on(app)


def test_without_a_toolpusher_it_cannot_be_allowed_and_the_page_says_so(app: AppTest, desk: Desk) -> None:
    open_page(app, desk, **CELL, do="allow")
    assert "There is no toolpusher here today." in words_on(app)
    app.button("allow-throw").click().run()
    assert app.title[0].value == "Setting the slips"
    assert desk.store.drafts(kind=dispensing.KIND) == ()


def test_a_stand_down_ends_it_and_the_cell_says_so_to_the_hand_too(app: AppTest, desk: Desk) -> None:
    allow(desk, "ray", "set-slips")
    take_off(desk)
    signed_in(app, desk, "ray")
    app.run()
    said = words_on(go(app, "evidence", **CELL))
    assert "Off the slips ended that." in said
    assert not {"to-back", "to-off", "to-allow"} & keys_on(app)
    open_page(app, desk, **CELL, do="allow")
    assert "allow-go" not in keys_on(app)


def test_nothing_can_be_done_about_another_day(app: AppTest, desk: Desk) -> None:
    signed_in(app, desk, "bill")
    app.run()
    go(app, "evidence", **CELL, day="2026-03-01")
    assert not {"to-off", "to-allow"} & keys_on(app)


def asked_of_the_coordinator(site: Desk) -> str:
    """The id of a form about ray that has the toolpusher's PIN and waits for the coordinator's."""
    with_toolpusher(site)
    bill = rig.at_desk_of(site, "bill")
    form = dispensing.open_form(bill, "ray", "set-slips")
    dispensing.fill(
        bill, form.form_id, lasts=dispensing.TOUR, conditions="Beside *Bill*", pusher="pushy",
        coordinator=rig.COORDINATOR,
    )  # fmt: skip
    dispensing.sign(bill, form.form_id, PUSHER_PIN, "tests")
    return form.form_id


def test_a_coordinator_ashore_finds_what_waits_over_the_matrix_and_puts_his_pin(
    app: AppTest, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    form_id = asked_of_the_coordinator(desk)
    signed_in(app, desk, rig.COORDINATOR)
    app.run()
    assert "Vic Lund has put a PIN to it and asks you: allow Ray Dunn to do Setting the slips" in words_on(app)

    app.button(f"agree-open-{form_id}").click().run()

    said = words_on(app)
    assert r"Beside \*Bill\*" in said
    assert "This tour, of Mar 3" in said
    monkeypatch.setattr("trainer.web.slips_agree.keypad", once("000000"))
    app.run()
    assert dispensed.shown(desk) == ()
    monkeypatch.setattr("trainer.web.slips_agree.keypad", once(rig.PINS[rig.COORDINATOR]))
    app.run()
    assert [(each.competency, each.coordinator) for each in dispensed.shown(desk)] == [
        ("set-slips", rig.NAMES[rig.COORDINATOR])
    ]
    assert "Tell the crew the conditions before the job." in words_on(app)
    assert f"agree-open-{form_id}" not in keys_on(go(app, "matrix"))


def test_the_tablet_on_the_rig_goes_on_once_the_coordinator_has_put_his_pin_elsewhere(app: AppTest, desk: Desk) -> None:
    form_id = asked_of_the_coordinator(desk)
    open_page(app, desk, **CELL, do="allow", step="sign")
    assert "On a screen of their own it stands over the matrix" in words_on(app)
    dispensing.commit(rig.at_desk_of(desk, rig.COORDINATOR), form_id, rig.PINS[rig.COORDINATOR], "shore")
    app.run()
    assert "Tell the crew the conditions before the job." in words_on(app)
    assert desk.store.drafts(kind=dispensing.KIND) == ()


def test_what_no_longer_waits_says_so(app: AppTest, desk: Desk) -> None:
    form_id = asked_of_the_coordinator(desk)
    dispensing.drop(rig.at_desk_of(desk, "bill"), form_id)
    open_page(app, desk, rig.COORDINATOR, **CELL, do="agree", form=form_id)
    assert "This no longer waits for your PIN." in words_on(app)
    open_page(app, desk, "bill", **CELL, do="agree", form=form_id)
    assert "This no longer waits for your PIN." in words_on(app)


def test_a_derrickhand_takes_off_and_brings_back_from_the_sign_off_page(app: AppTest, desk: Desk) -> None:
    signed_in(app, desk, "ana")
    app.run()
    go(app, "signoff", hand="ray")
    assert "to-back" not in keys_on(app)
    app.button("to-off").click().run()
    assert (at(app, "hand"), at(app, "do")) == ("ray", "off")
    go(app, "slips", hand="ray", do="off")
    app.button_group("off-what").set_value(["set-slips"])
    app.text_area("off-why").set_value("Hand under the handle")
    app.button("off-go").click().run()
    [body] = written(desk, "stood-down")
    assert isinstance(body, StoodDown)
    assert body.observer == "ana"

    app.button("slips-home").click().run()
    assert app.title[0].value == "Visto bueno"
    go(app, "signoff", hand="ray")
    assert "to-back" in keys_on(app)


def test_a_derrickhand_sees_nothing_else_there_and_a_floorhand_has_no_such_page(app: AppTest, desk: Desk) -> None:
    hold(desk, "ray")
    open_page(app, desk, "ana", hand="ray")
    assert "slips-off" in keys_on(app)
    assert not [key for key in keys_on(app) if key.startswith("cell-")]
    assert "Al día" not in words_on(app)
    for step in ("allow", "agree"):
        go(app, "slips", hand="ray", competency="set-slips", do=step)
        assert not {"allow-go", "agree-not"} & keys_on(app)
    open_page(app, desk, "ana", hand="ana")
    assert "off-go" not in keys_on(app)
    open_page(app, desk, "luis", hand="ray")
    assert app.title[0].value == "Mi tarjeta"


def test_a_driller_begins_it_on_his_own_pages_only(app: AppTest, desk: Desk) -> None:
    signed_in(app, desk, "bill")
    app.run()
    assert not {"to-off", "to-back"} & keys_on(go(app, "signoff", hand="ray"))
