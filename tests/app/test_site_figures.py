"""The page of the site's own figures: those in force, a file looked at before it counts, one press that writes."""

from __future__ import annotations

from datetime import timedelta

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
    said = words_on(office).replace("\\", "")
    assert "In force: record number 1" in said
    for head in ("Positions", "Crews and hitches", "Quizzes", "Slip sets and bowls", "The rig"):
        assert head in [each.value for each in office.header]
    assert "Day crew 1 › Days on | 14 |" in said
    assert "Driller › May observe | yes |" in said
    assert "A paper test is good for | 3 months |" in said
    assert "Role in the app | driller: leads a crew |" in said
    assert "Least load of a paper test | 101.2 klbf (450 kN) |" in said
    assert "First day of a hitch | Jan 5, 2026 |" in said
    assert "Name on screen | English: Floorhand; Español: Cuñero |" in said
    assert "written by whoever runs this program on the rig PC." in said
    assert "Angle between the tongs | 90 degrees |" in said
    assert "Weight | 180 lb (81.6 kg) |" in said
    assert "Block, hook and top drive | 40 klb (18.1 t) |" in said
    assert "90 days" in said
    [save] = office.get("download_button")
    assert save.proto.label == "Save these figures as a file"


def test_a_changed_file_is_told_in_words_and_written_by_one_press(office: AppTest, site: Desk) -> None:
    upload(office, in_force(site).replace("P90D", "P30D").replace("attempts: 3", "attempts: 2"))
    said = words_on(office)
    assert "**2** figures change · No standing on today's matrix changes." in said
    assert "| Proof from elsewhere is good for | 90 days | 30 days |" in said
    assert "| Quizzes › Tries at a quiz | 3 | 2 |" in said
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
    assert "| Procedures behind the competencies › Setting the slips | nothing | Number: OP-114, Revision: 3 |" in said
    assert "| Procedures behind the competencies › Changing dies | nothing | Number: OP-120 |" in said
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
    assert f"**Line {len(text.splitlines())}: Procedures behind the competencies › set-slip**" in said
    assert 'There is no competency "set-slip".' in said
    assert 'Did you mean "set-slips"?' in said
    assert "site-put" not in keys_on(office)


def test_what_it_does_to_the_matrix_is_counted(office: AppTest, site: Desk) -> None:
    rig.bring_all(site, "ray", site.today)
    need = len(site.catalogue.needed_by("floorhand"))
    upload(office, in_force(site).replace("P90D", "P60D"))
    said = words_on(office).replace("\\", "")
    assert f"**{need}** standings on today's matrix change · **1** person is concerned" in said
    [line] = [each for each in said.splitlines() if each.startswith("- **Ray")]
    was, now = (site.today + timedelta(days=days) for days in (90, 60))
    told = f"due {was:%b} {was.day}, {was.year} → {now:%b} {now.day}, {now.year}: Stop and report, Calls and signals, "
    assert told in line


def test_a_bad_file_is_told_by_line_and_nothing_can_be_pressed(office: AppTest, site: Desk) -> None:
    text = in_force(site).replace("on: 14", "on: 1", 1)
    upload(office, text)
    number = next(n for n, line in enumerate(text.splitlines(), 1) if line.strip() == "on: 1")
    said = words_on(office)
    assert "This file cannot be used. Nothing was written." in said
    assert f"**Line {number}: Crews and hitches › Day crew 1 › Days on**" in said
    assert 'Here goes a whole number, 2 or more. Written is: "1".' in said.replace("\\", "")
    assert "Write e.g. 14." in said.replace("\\", "")
    assert "site-put" not in keys_on(office)
    assert len(written(site)) == 1


def test_a_part_without_its_colon_is_told_on_its_own_line(office: AppTest, site: Desk) -> None:
    text = in_force(site)
    assert text.count("\ncrews:\n") == 1
    upload(office, text.replace("\ncrews:\n", "\ncrews\n"))
    number = text.splitlines().index("crews:") + 1
    said = words_on(office).replace("\\", "")
    assert f"**Line {number}: The whole file**" in said
    assert "A colon is missing after the first word." in said
    assert 'Write "crews' in said
    assert "line up" not in said


def test_all_that_changes_stands_above_the_press(office: AppTest, site: Desk) -> None:
    rig.bring_all(site, "ray", site.today)
    upload(office, in_force(site).replace("P90D", "P60D"))
    said = words_on(office)
    told = "These figures then count for every date"
    assert said.index("| Proof from elsewhere is good for | 90 days | 60 days |") < said.index(told)
    assert said.index("- **Ray") < said.index(told)
    assert [each.label for each in office.expander if each.proto.expanded] == ["Who this concerns"]


def test_the_same_figures_need_no_press(office: AppTest, site: Desk) -> None:
    upload(office, in_force(site))
    assert "There is nothing to write." in words_on(office)
    assert "site-put" not in keys_on(office)


def test_a_crew_with_people_in_it_cannot_be_taken_out(office: AppTest, site: Desk) -> None:
    upload(office, in_force(site).replace("  night-1:", "  night-9:"))
    assert r"The crew Night crew 1 is taken out, and people are in it (2 people)" in words_on(office)
    assert "site-put" not in keys_on(office)


def test_figures_that_somebody_else_wrote_meanwhile_are_looked_at_again(office: AppTest, site: Desk) -> None:
    upload(office, in_force(site).replace("P90D", "P30D"))
    rig.write_figures(site, {"calls_language": "es"})

    office.button("site-put").click().run()

    assert "changed by somebody else meanwhile" in words_on(office)
    assert len(written(site)) == 2
    assert "| Language of the calls | Español | English |" in words_on(office)

    office.button("site-put").click().run()
    assert len(written(site)) == 3


def test_an_unusual_figure_is_to_be_looked_at_again_beside_what_it_was(office: AppTest, site: Desk) -> None:
    text = in_force(site).replace("notice: P14D", "notice: P15D")
    upload(office, text.replace("least_load_kn: 450", "least_load_kn: 100"))
    [warned] = [each.value.replace("\\", "") for each in office.warning]
    place = "Rules for paper tests › Least load of a paper test"
    assert warned.startswith(f"**Look at this again: {place}, 101.2 klbf (450 kN) → 22.5 klbf (100 kN)**")
    assert "22.5 klbf (100 kN) is unusual. Most sites have 45.0 klbf (200 kN) to 404.7 klbf (1800 kN)." in warned
    assert "site-put" in keys_on(office)


def test_fewer_people_on_a_set_are_held_against_the_sites_own_text(office: AppTest, site: Desk) -> None:
    upload(office, in_force(site).replace("slip_team: '3'", "slip_team: '2'"))
    assert "Read your own texts below against this." in office.warning[0].value.replace("\\", "")
    upload(office, in_force(site).replace("slip_team: '3'", "slip_team: '1'"))
    said = words_on(office).replace("\\", "")
    assert "1 cannot be meant. It lies outside 2 to 6." in said
    assert "Write e.g. 3." in said
    assert "site-put" not in keys_on(office)


@pytest.mark.parametrize("encoding", ["utf-16", "cp1252", "utf-8-sig"])
def test_a_file_as_any_office_editor_saves_it_is_taken(office: AppTest, site: Desk, encoding: str) -> None:
    text = in_force(site).replace("P90D", "P30D").replace("Floorhand", "Peón")
    data = text.encode(encoding, "replace" if encoding == "cp1252" else "strict")
    office.file_uploader[0].upload("mine.txt", data, "text/plain").run()
    assert "| Proof from elsewhere is good for | 90 days | 30 days |" in words_on(office)
    assert "Peón" in words_on(office)


def test_what_is_no_text_at_all_is_said_so(office: AppTest) -> None:
    office.file_uploader[0].upload("mine.txt", b"\x81\x00\x8d", "text/plain").run()
    assert "The file is no plain text" in words_on(office)


def test_problems_of_a_file_are_in_the_language_on_screen(app: AppTest, site: Desk) -> None:
    signed_in(app, site, rig.COORDINATOR)
    go(app, "site")
    app.button("speak-es").click().run()
    text = in_force(site).replace("role: driller", "role: boss", 1)
    upload(app, text.replace("least_load_kn: 450", "least_load_kn: heavy"))
    said = words_on(app).replace("\\", "")
    assert "Aquí va una de estas palabras: hand, driller, coordinator. Está escrito: «boss»." in said
    assert "Aquí va un número entero. Está escrito: «heavy»." in said
    assert "Escriba p. ej. 450." in said
    assert "expected" not in said
