"""The records behind a cell: told in words, kept from other hands, voided after being asked again."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import signed_in
from tests.app.office_pages import bring, go, keys_on, once, words_on
from tests.e2e import rig
from trainer.actions import look, voiding, watching
from trainer.actions.desk import Desk
from trainer.actions.sheets import SOMEBODY_ELSE
from trainer.core.records import Tailgate
from trainer.web import cached

CELL = {"hand": "ray", "competency": "calls-signals"}


def of_ray(site: Desk) -> list[look.Told]:
    return look.evidence_of(site, "ray", "calls-signals")


@pytest.fixture
def watched(site: Desk) -> Desk:
    """A rig on which ray was watched a month ago, which was entered today."""
    bring(site, f"ray,calls-signals,practical,{site.today - timedelta(days=30)},pass,bill,Saw *all* of it")
    return site


def test_a_cell_says_standing_reason_dates_and_records(app: AppTest, watched: Desk) -> None:
    # A day later than the watch, so that the watch runs out first.
    bring(watched, f"ray,calls-signals,knowledge,{watched.today - timedelta(days=29)},pass,Sam Ito,")
    signed_in(app, watched, rig.COORDINATOR)
    said = words_on(go(app, "evidence", **CELL))
    told = of_ray(watched)[-1]
    assert "First to run out: on the job" in said
    assert "Accepted by Bill Hart." in said
    assert "by the command line." in said
    assert r"Note: Saw \*all\* of it" in said
    assert "This record decides." in said
    assert told.hash[:16] in said
    assert told.record_id.replace("-", r"\-") in said


def test_a_cell_with_nothing_says_so(app: AppTest, site: Desk) -> None:
    signed_in(app, site, rig.COORDINATOR)
    said = words_on(go(app, "evidence", **CELL))
    assert "Nothing yet." in said
    assert "Nothing is on record for this yet." in said


def test_a_cell_that_is_learning_says_all_that_is_missing_and_which_record_made_it_so(app: AppTest, site: Desk) -> None:
    # A tailgate before any quiz holds nothing: all of it is still missing.
    with site.store.transaction() as writing:
        for hand, day in (("ray", 20), ("ray", 10)):
            body = Tailgate("talk", "calls-signals", "calls-signals", {}, "throughout", True, "bill")
            writing.append(site.new_record(body, hand=hand, day=site.today - timedelta(days=day)))
    signed_in(app, site, rig.COORDINATOR)
    go(app, "evidence", **CELL)
    said = words_on(app)
    assert "Missing: quiz." in said
    assert "All that is missing: quiz, on the job." in said
    # The last of the two, as the card has it.
    told = [each.value for each in app.markdown if "Tailgate" in each.value]
    assert ["Learning because of this record." in each for each in told] == [True, False]


def test_an_id_that_nobody_has_leads_to_no_page_of_theirs(app: AppTest, site: Desk) -> None:
    signed_in(app, site, rig.COORDINATOR)
    go(app, "evidence", hand="nobody", competency="calls-signals")
    assert app.error
    assert "evidence-back" in keys_on(app)
    assert "evidence-hand" not in keys_on(app)
    assert "evidence-hand" in keys_on(go(app, "evidence", **CELL))


def test_what_the_position_does_not_need_is_said_and_the_records_are_kept(app: AppTest, site: Desk) -> None:
    bring(site, f"bill,calls-signals,practical,{site.today},pass,Sam Ito,")
    signed_in(app, site, rig.COORDINATOR)
    said = words_on(go(app, "evidence", hand="bill", competency="calls-signals"))
    assert "This position does not need it" in said
    assert "Accepted by Sam Ito." in said


def test_on_an_earlier_day_later_records_are_not_there(app: AppTest, watched: Desk) -> None:
    signed_in(app, watched, rig.COORDINATOR)
    day = watched.today - timedelta(days=31)
    assert "Accepted by" not in words_on(go(app, "evidence", **CELL, day=day.isoformat()))


def test_a_hand_sees_his_own_records_and_no_way_to_void_them(app: AppTest, watched: Desk) -> None:
    signed_in(app, watched, "ray")
    go(app, "evidence", **CELL)
    assert "Accepted by Bill Hart." in words_on(app)
    assert "void-0" not in keys_on(app)
    assert "evidence-back" in keys_on(app)


def test_a_hand_never_gets_anothers_records(app: AppTest, watched: Desk) -> None:
    signed_in(app, watched, "luis")
    go(app, "evidence", **CELL)
    said = words_on(app)
    assert app.error
    assert "Ray Dunn" not in said
    assert "Bill Hart" not in said
    assert "evidence-back" in keys_on(app)


def test_a_record_is_voided_with_a_reason_after_being_asked_again(app: AppTest, watched: Desk) -> None:
    signed_in(app, watched, rig.COORDINATOR)
    go(app, "evidence", **CELL)
    app.button("void-0").click().run()
    app.text_area("void-why").set_value("Wrong *hand*")
    app.button("void-go-on").click().run()

    assert of_ray(watched)[0].voided is None
    assert "cannot be taken back" in words_on(app)
    assert r"Reason: Wrong \*hand\*" in words_on(app)

    app.button("void-yes").click().run()

    [told] = of_ray(watched)
    assert told.voided is not None
    assert (told.voided.by, told.voided.why) == ("Pat Vance", "Wrong *hand*")
    said = words_on(app)
    assert "The record is void." in said
    assert "~~**Earlier record" in said
    assert "Voided" in said
    assert "void-0" not in keys_on(app)


def test_without_a_reason_it_goes_no_further(app: AppTest, watched: Desk) -> None:
    signed_in(app, watched, rig.COORDINATOR)
    go(app, "evidence", **CELL)
    app.button("void-0").click().run()
    app.button("void-go-on").click().run()
    assert "write the reason" in words_on(app)
    assert "void-yes" not in keys_on(app)


def test_it_can_be_left_as_it_is(app: AppTest, watched: Desk) -> None:
    signed_in(app, watched, rig.COORDINATOR)
    go(app, "evidence", **CELL)
    app.button("void-0").click().run()
    app.button("void-stop").click().run()
    assert "void" not in app.query_params
    assert of_ray(watched)[0].voided is None


def test_a_driller_is_not_offered_what_he_did_not_write(app: AppTest, watched: Desk) -> None:
    signed_in(app, watched, "bill")
    go(app, "evidence", **CELL)
    assert "void-0" not in keys_on(app)
    [told] = of_ray(watched)
    # Nor when he types it into the address.
    go(app, "evidence", **CELL, void=told.record_id, sure="yes")
    assert "void-yes" not in keys_on(app)
    assert "void" not in app.query_params


def test_lifting_a_stand_down_takes_the_pin_of_a_second(
    app: AppTest, site: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    bring(site, f"ray,calls-signals,stood-down,{site.today},,bill,Hand on the handle")
    signed_in(app, site, rig.COORDINATOR)
    go(app, "evidence", **CELL)
    assert "Note: Hand on the handle" in words_on(app)
    app.button("void-0").click().run()
    app.text_area("void-why").set_value("It was not ray")
    app.button("void-go-on").click().run()
    assert "void-yes" not in keys_on(app)
    assert {key for key in keys_on(app) if str(key).startswith("second-")} == {"second-ana", "second-bill"}

    monkeypatch.setattr("trainer.web.evidence_void.keypad", once("111222"))
    app.button("second-ana").click().run()
    assert of_ray(site)[0].voided is None

    monkeypatch.setattr("trainer.web.evidence_void.keypad", once(rig.PINS["ana"]))
    app.run()

    assert of_ray(site)[0].voided is not None
    assert "The record is void." in words_on(app)


def test_a_stand_down_voided_on_the_command_line_says_that_no_second_person_agreed(app: AppTest, site: Desk) -> None:
    bring(site, f"ray,calls-signals,stood-down,{site.today},,bill,Hand on the handle")
    voiding.void(site, of_ray(site)[0].record_id, "It was not ray")
    signed_in(app, site, rig.COORDINATOR)
    assert "by the command line, without a second person:" in words_on(go(app, "evidence", **CELL))


def test_sign_offs_that_want_another_pair_of_eyes_are_told_to_those_who_lead_and_to_nobody_else(
    app: AppTest, site: Desk
) -> None:
    sign_off(site, "bill", "ray", "practice")
    sign_off(site, "bill", "ray", "assessment")
    signed_in(app, site, "bill")
    said = words_on(go(app, "evidence", **CELL))
    assert "Another pair of eyes would help" in said
    assert "Bill Hart practised with Ray Dunn and is the only one who signed" in said
    signed_in(app, site, "ray")
    assert "pair of eyes" not in words_on(go(app, "evidence", **CELL))


def sign_off(site: Desk, by: str, hand: str, purpose: str) -> None:
    """A clean watch of the calls."""
    if not look.evidence_of(site, by, CELL["competency"]):
        rig.bring_all(site, by)
    desk = rig.at_desk_of(site, by)
    sheet = watching.open_sheet(desk, "connections", hand, purpose)
    for step in sheet.checklist.steps:
        if step.competency == CELL["competency"]:
            watching.tick(desk, sheet.sheet_id, step.id, "met")
    # Everybody came today: a tour that began yesterday was before that.
    details = replace(sheet.details, held=site.today, overall="yes", brake=SOMEBODY_ELSE)
    watching.fill(desk, sheet.sheet_id, details)
    watching.commit(desk, sheet.sheet_id, rig.PINS[by], rig.PINS[hand], watching.SIGNED, "tests")


def test_the_page_speaks_spanish(app: AppTest, watched: Desk) -> None:
    signed_in(app, watched, "ana")
    said = words_on(go(app, "evidence", hand="ana", competency="calls-signals"))
    assert cached.all_words()["es"].say("evidence.none") in said
