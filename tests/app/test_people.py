"""The page about people: who is here, codes, one person at a time, and files looked at before they are taken in."""

from __future__ import annotations

import re
from datetime import date, timedelta

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import signed_in
from tests.app.office_pages import go, keys_on, words_on
from tests.e2e import rig
from trainer.actions import people, signing_in
from trainer.actions.desk import Desk
from trainer.actions.people import Listed
from trainer.web import people_list


@pytest.fixture
def office(app: AppTest, site: Desk) -> AppTest:
    """The page script with the coordinator at it."""
    signed_in(app, site, rig.COORDINATOR)
    return app


def person(site: Desk, hand: str) -> Listed:
    """That person as the office lists them."""
    return next(each for each in people.listed(site) if each.hand == hand)


def upload(app: AppTest, text: str) -> AppTest:
    """Choose a file with this in it."""
    return app.file_uploader[0].upload("file.csv", text.encode(), "text/csv").run()


@pytest.mark.parametrize("hand", ["ray", "bill"])
def test_nobody_but_the_office_sees_the_page(app: AppTest, site: Desk, hand: str) -> None:
    signed_in(app, site, hand)
    go(app, "people")
    assert app.title[0].value != "People"
    assert "people-add" not in keys_on(app)


def test_everybody_here_is_listed_by_crew_with_what_is_missing(office: AppTest, site: Desk) -> None:
    signing_in.new_code(site, "luis")
    go(office, "people")
    said = words_on(office)
    assert "**6** people here today · **1** without a PIN" in said
    assert [each.value for each in office.header] == ["Day crew 1", "Night crew 1", "Office and others"]
    shown = "".join(str(each.proto.body) for each in office.get("html"))
    assert "No PIN yet" in shown
    assert "Code open until" in shown


def test_a_name_with_markup_stays_a_name(office: AppTest, site: Desk) -> None:
    go(office, "people", hand="sam")
    assert office.title[0].value == r"Sam \*Reed\* \<b\>"


def test_a_code_is_shown_once_and_opens_the_door(office: AppTest, site: Desk) -> None:
    go(office, "people", hand="sam")
    office.button("code-sam-0").click().run()
    [code] = [each.value for each in office.markdown if re.fullmatch(r"\d{4} \d{4}", each.value)]
    signing_in.first_pin(site, "sam", code, "583920", "tablet")

    office.run()

    assert code not in words_on(office)
    assert person(site, "sam").has_pin


def test_the_coordinators_own_code_comes_from_the_command_line(office: AppTest) -> None:
    go(office, "people", hand=rig.COORDINATOR)
    assert [each.value for each in office.code] == ["python3 -m trainer pin coordinator"]
    assert not any(str(key).startswith("code-") for key in keys_on(office))


def test_a_lost_tablet_is_signed_out(office: AppTest, site: Desk) -> None:
    session = signing_in.sign_in(site, "ray", rig.PINS["ray"], "tablet").session
    go(office, "people", hand="ray")
    office.button("out-ray").click().run()
    assert signing_in.who(site, session) is None


def test_somebody_is_added_and_their_page_comes_next(office: AppTest, site: Desk) -> None:
    go(office, "people", do="add")
    office.text_input("add-hand").set_value("ines")
    office.text_input("add-name").set_value("Inés Duarte")
    office.selectbox("position-add-en").set_value("floorhand")
    office.selectbox("crew-add-en").set_value("night-1")
    office.selectbox("language-add-en").set_value("es")
    office.button("add-go").click().run()
    added = person(site, "ines")
    assert (added.name, added.position, added.crew, added.language) == ("Inés Duarte", "floorhand", "night-1", "es")
    assert office.title[0].value == "Inés Duarte"
    assert "Next: give a one-use code." in words_on(office)


def test_what_cannot_be_added_is_said_and_what_was_typed_stays(office: AppTest, site: Desk) -> None:
    go(office, "people", do="add")
    office.text_input("add-hand").set_value("in es")
    office.text_input("add-name").set_value("Inés Duarte")
    office.button("add-go").click().run()
    said = words_on(office)
    assert "in es cannot be a hand id" in said
    assert "console" not in said
    assert "No position is chosen. Choose one." in said.replace("\\", "")
    assert office.text_input("add-name").value == "Inés Duarte"
    assert "in es" not in {each.hand for each in people.listed(site)}


def test_a_hand_in_no_crew_is_one_by_choice(office: AppTest, site: Desk) -> None:
    go(office, "people", do="add")
    office.text_input("add-hand").set_value("ines")
    office.text_input("add-name").set_value("Inés Duarte")
    office.selectbox("position-add-en").set_value("floorhand")
    office.button("add-go").click().run()
    assert "No crew is chosen." in words_on(office)
    assert "ines" not in {each.hand for each in people.listed(site)}

    office.selectbox("crew-add-en").set_value("")
    office.button("add-go").click().run()
    assert person(site, "ines").crew == ""


def test_a_coordinator_is_not_asked_for_a_crew(office: AppTest, site: Desk) -> None:
    go(office, "people", do="add")
    office.text_input("add-hand").set_value("ines")
    office.text_input("add-name").set_value("Inés Duarte")
    office.selectbox("position-add-en").set_value("coordinator")
    office.button("add-go").click().run()
    assert person(site, "ines").position == "coordinator"


def test_a_taken_hand_id_is_refused(office: AppTest, site: Desk) -> None:
    go(office, "people", do="add")
    office.text_input("add-hand").set_value("ray")
    office.text_input("add-name").set_value("Somebody Else")
    office.selectbox("position-add-en").set_value("floorhand")
    office.selectbox("crew-add-en").set_value("day-1")
    office.button("add-go").click().run()
    assert "ray is taken" in words_on(office)
    assert person(site, "ray").name == "Ray Dunn"


def test_crew_and_position_change_from_today(office: AppTest, site: Desk) -> None:
    go(office, "people", hand="ray")
    office.selectbox("crew-ray-en").set_value("night-1")
    office.button("move-go-ray").click().run()
    assert person(site, "ray").crew == "night-1"
    assert "changed from today" in words_on(office)


def test_a_last_day_may_be_to_come(office: AppTest, site: Desk) -> None:
    last = site.today + timedelta(days=20)
    go(office, "people", hand="ray")
    office.date_input("last-day-ray").set_value(last)
    office.button("leave-go-ray").click().run()
    assert person(site, "ray").left == last
    assert "leave-go-ray" not in keys_on(office)


def test_without_a_last_day_nothing_is_written(office: AppTest, site: Desk) -> None:
    go(office, "people", hand="ray")
    office.button("leave-go-ray").click().run()
    assert "Choose the last day." in words_on(office)
    assert person(site, "ray").left is None


def test_who_has_left_is_listed_apart(office: AppTest, site: Desk) -> None:
    people.leave(site, "ray", site.today)
    listed = [each for each in people.listed(site) if each.hand == "ray"]
    assert listed[0].is_here(site.today)
    assert not listed[0].is_here(site.today + timedelta(days=1))


def test_name_and_language_are_kept(office: AppTest, site: Desk) -> None:
    go(office, "people", hand="ray")
    office.text_input("name-ray").set_value("Raymond Dunn")
    office.selectbox("language-ray-en").set_value("es")
    office.button("rename-go-ray").click().run()
    assert (person(site, "ray").name, person(site, "ray").language) == ("Raymond Dunn", "es")


def test_a_roster_is_looked_at_first_and_then_taken_in(office: AppTest, site: Desk) -> None:
    go(office, "people", do="roster")
    upload(
        office,
        "hand_id,name,position,crew,joined,badge\n"
        f"ines,Inés | Duarte,floorhand,night-1,{site.today},1\n"
        "ray,Ray Dunn,floorhand,night-1,,2\n"
        "luis,Luis Ortega,floorhand,day-1,,3\n",
    )
    said = words_on(office)
    assert "**1** new · **1** changed · **1** the same · **0** refused" in said
    assert "Not used in this file: badge" in said
    assert r"Inés \| Duarte" in said
    assert "ines" not in {each.hand for each in people.listed(site)}

    assert office.button("take-roster").label == "Take in 2 people"
    office.button("take-roster").click().run()

    assert "Taken in: 1 new, 1 changed, 1 the same." in words_on(office)
    assert person(site, "ray").crew == "night-1"


def test_a_roster_with_bad_cells_cannot_be_taken_in(office: AppTest, site: Desk) -> None:
    go(office, "people", do="roster")
    upload(office, "hand_id,name,position,crew,joined\nines,Inés,florhand,night-1,24/11/2026\n")
    said = words_on(office)
    assert "**1** refused" in said
    told = "**Row 2, position:** florhand  \nflorhand is not a position of this site."
    assert told in said.replace("\\", "")
    assert "take-roster" not in keys_on(office)


def roster_of(*days: str) -> str:
    """A roster of newcomers who join on these days."""
    rows = (f"n{number},New {number},floorhand,night-1,{day}" for number, day in enumerate(days))
    return "\n".join(("hand_id,name,position,crew,joined", *rows, ""))


def test_days_that_can_be_two_are_refused_until_somebody_says_what_comes_first(office: AppTest, site: Desk) -> None:
    go(office, "people", do="roster")
    upload(office, roster_of("03/04/2026", "05/06/2026"))
    assert "03/04/2026 can be 2026-03-04 or 2026-04-03." in words_on(office).replace("\\", "")
    assert office.radio[0].value is None
    assert "take-roster" not in keys_on(office)

    office.radio[0].set_value("month").run()
    office.button("take-roster").click().run()

    assert [person(site, hand).joined for hand in ("n0", "n1")] == [date(2026, 3, 4), date(2026, 5, 6)]


def test_an_order_that_alone_fits_all_days_is_preset_and_can_be_looked_at(office: AppTest, site: Desk) -> None:
    go(office, "people", do="roster")
    upload(office, roster_of("03/04/2026", "24/11/2026"))
    assert office.radio[0].value == "day"
    assert "Only with the day first" in words_on(office)
    assert "joins 2026" in words_on(office).replace("\\", "")
    assert "n0" not in {each.hand for each in people.listed(site)}
    office.radio[0].set_value("month").run()
    assert "24/11/2026 does not begin with the year. Write it as 2026-11-24." in words_on(office).replace("\\", "")


def test_a_roster_whose_days_begin_with_the_year_asks_nothing(office: AppTest, site: Desk) -> None:
    go(office, "people", do="roster")
    upload(office, roster_of("2026-04-03"))
    assert not office.radio


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "The table is empty."),
        ("name,position,joined\n", "This column is missing"),
        ('hand_id,name,position,joined\n"ray,x\n', "a quote is opened"),
        ("PK\x03\x04", "This spreadsheet file is damaged."),
    ],
)
def test_what_is_no_roster_is_refused_in_plain_words(office: AppTest, text: str, said: str) -> None:
    go(office, "people", do="roster")
    upload(office, text)
    assert not office.exception
    assert said in words_on(office)


def test_earlier_evidence_is_looked_at_first_and_the_same_file_writes_nothing_twice(
    office: AppTest, site: Desk
) -> None:
    line = f"ray,calls-signals,practical,{site.today},pass,Sam Ito,"
    file = f"hand_id,competency,part,day,outcome,by,note\n{line}\n"
    go(office, "people", do="evidence")
    upload(office, file)
    assert "**1** new · **0** the same · **0** refused" in words_on(office)
    office.button("take-evidence").click().run()
    assert "Taken in: 1 written, 0 there already." in words_on(office)

    go(office, "people", do="evidence")
    upload(office, file)
    assert "**0** new · **1** the same" in words_on(office)
    assert "take-evidence" not in keys_on(office)


def test_what_is_not_needed_is_pointed_out_and_can_be_taken_in(office: AppTest, site: Desk) -> None:
    go(office, "people", do="evidence")
    upload(
        office,
        f"hand_id,competency,part,day,outcome,by\nbill,calls-signals,practical,{site.today},pass,Sam Ito\n",
    )
    assert "is not needed in position driller" in words_on(office)
    assert "take-evidence" in keys_on(office)


def test_with_very_many_people_one_crew_is_listed_at_a_time(
    office: AppTest, site: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(people_list, "_MOST", 3)
    go(office, "people", crew="night-1")
    assert {"open-ana", "open-sam"} <= keys_on(office)
    assert "open-ray" not in keys_on(office)
