"""The page of the site's own figures: those in force, a file looked at before it counts, one press that writes."""

from __future__ import annotations

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import signed_in
from tests.app.office_pages import go, keys_on, words_on
from tests.e2e import rig
from trainer.actions import siting
from trainer.actions.desk import Desk
from trainer.core.records import Record
from trainer.export import siteyaml
from trainer.web import cached


@pytest.fixture
def office(app: AppTest, site: Desk) -> AppTest:
    """The coordinator on the page."""
    signed_in(app, site, rig.COORDINATOR)
    return go(app, "site")


def in_force(site: Desk) -> str:
    """The figures in force as a file."""
    now = siting.figures(site)
    return siteyaml.render(now.data, cached.all_words()["en"], site.now, site="rig-1", number=now.number).decode()


def upload(app: AppTest, text: str) -> AppTest:
    return app.file_uploader[0].upload("mine.yaml", text.encode(), "application/yaml").run()


def written(site: Desk) -> list[Record]:
    return list(site.store.records(kinds=("site",)))


@pytest.mark.parametrize("hand", ["ray", "bill"])
def test_nobody_but_the_office_sees_the_page(app: AppTest, site: Desk, hand: str) -> None:
    signed_in(app, site, hand)
    go(app, "site")
    assert app.title[0].value != "Site figures"


def test_the_figures_in_force_stand_there_by_part_and_can_be_saved(office: AppTest, site: Desk) -> None:
    said = words_on(office)
    assert "In force: record number 1" in said
    for head in ("Positions", "Crews and hitches", "Quizzes", "Slip sets and bowls", "The rig"):
        assert head in [each.value for each in office.header]
    assert "Day crew 1 › Days on | 14 |" in said
    assert "Driller › May observe | yes |" in said
    assert "A paper test is good for | 3 months |" in said
    assert "90 days" in said
    [save] = office.get("download_button")
    assert save.proto.label == "Save these figures (YAML)"


def test_a_changed_file_is_told_in_words_and_written_by_one_press(office: AppTest, site: Desk) -> None:
    upload(office, in_force(site).replace("P90D", "P30D").replace("attempts: 3", "attempts: 2"))
    said = words_on(office)
    assert "**2** figures change · No standing on today's matrix changes." in said
    assert "| Proof from elsewhere is good for | 90 days | 30 days |" in said
    assert "| Quizzes › Tries | 3 | 2 |" in said
    assert len(written(site)) == 1

    office.button("site-put").click().run()

    assert not office.exception
    assert "These figures are in force." in words_on(office)
    assert len(written(site)) == 2
    assert siting.figures(site).data["outside_good_for"] == "P30D"
    assert written(site)[-1].by == rig.COORDINATOR
    # The uploader is empty again, and the page shows what is in force now.
    assert "site-put" not in keys_on(office)
    assert "30 days" in words_on(office)


def test_procedures_of_its_own_are_told_one_by_one_and_shown_by_part_once_in_force(office: AppTest, site: Desk) -> None:
    own = """procedures:
  set-slips: {number: OP-114, revision: "3"}
  dies: {number: OP-120}
"""
    upload(office, in_force(site) + own)
    said = words_on(office).replace("\\", "")
    assert "**2** figures change · No standing on today's matrix changes." in said
    assert "| Procedures behind the competencies › Setting the slips | nothing | number: OP-114, revision: 3 |" in said
    assert "| Procedures behind the competencies › Changing dies | nothing | number: OP-120 |" in said
    office.button("site-put").click().run()
    assert "Procedures behind the competencies" in [each.value for each in office.header]
    assert "| Setting the slips › Number | OP-114 |" in words_on(office).replace("\\", "")

    upload(office, in_force(site).replace("OP-114, revision: '3'", "OP-114, revision: '4'"))
    said = words_on(office).replace("\\", "")
    assert "| Procedures behind the competencies › Setting the slips › Revision | 3 | 4 |" in said


def test_a_procedure_for_what_is_no_competency_is_refused(office: AppTest, site: Desk) -> None:
    text = in_force(site) + "procedures:\n  set-slip: {number: OP-114}\n"
    upload(office, text)
    said = words_on(office).replace("\\", "")
    assert "This file cannot be used. Nothing was written." in said
    assert f"| {len(text.splitlines())} | procedures.set-slip |" in said
    assert 'did you mean "set-slips"?' in said
    assert "site-put" not in keys_on(office)


def test_what_it_does_to_the_matrix_is_counted(office: AppTest, site: Desk) -> None:
    rig.bring_all(site, "ray", site.today)
    need = len(site.catalogue.needed_by("floorhand"))
    upload(office, in_force(site).replace("P90D", "P60D"))
    assert f"**{need}** standings on today's matrix change · **1** person is concerned" in words_on(office)


def test_a_bad_file_is_told_by_line_and_nothing_can_be_pressed(office: AppTest, site: Desk) -> None:
    text = in_force(site).replace("on: 14", "on: 1", 1)
    upload(office, text)
    number = next(n for n, line in enumerate(text.splitlines(), 1) if line.strip() == "on: 1")
    said = words_on(office)
    assert "This file cannot be used. Nothing was written." in said
    assert f"| {number} | " in said
    assert "at least 2" in said
    assert "site-put" not in keys_on(office)
    assert len(written(site)) == 1


def test_the_same_figures_need_no_press(office: AppTest, site: Desk) -> None:
    upload(office, in_force(site))
    assert "There is nothing to write." in words_on(office)
    assert "site-put" not in keys_on(office)


def test_a_crew_with_people_in_it_cannot_be_taken_out(office: AppTest, site: Desk) -> None:
    upload(office, in_force(site).replace("  night-1:", "  night-9:"))
    assert r"The crew night\-1 is taken out, and people are in it (2 people)" in words_on(office)
    assert "site-put" not in keys_on(office)


def test_figures_that_somebody_else_wrote_meanwhile_are_looked_at_again(office: AppTest, site: Desk) -> None:
    upload(office, in_force(site).replace("P90D", "P30D"))
    rig.write_figures(site, {"calls_language": "es"})

    office.button("site-put").click().run()

    assert "changed by somebody else meanwhile" in words_on(office)
    assert len(written(site)) == 2
    assert "| Language of the calls | es | en |" in words_on(office)

    office.button("site-put").click().run()
    assert len(written(site)) == 3
