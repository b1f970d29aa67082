"""Sheets to print: offered where they are wanted, to those who may see what is on them, made from what is on record."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import signed_in
from tests.app.crew_pages import Made, allow, copied, make
from tests.app.learning import START
from tests.app.office_pages import go
from tests.e2e import rig
from tests.unit.export import pdfs
from trainer.actions import leaving_off, people, tailgating, vouching, watching
from trainer.actions.desk import Desk
from trainer.actions.sheets import SOMEBODY_ELSE, Details
from trainer.core.catalogue import Procedure
from trainer.core.matrix import Standing
from trainer.core.tailgate import THROUGHOUT
from trainer.errors import NotFound, Refused
from trainer.export.printed import orientation, pocket, record, tailgate, talk, wall, watch
from trainer.web import cached, prints_made
from trainer.words import Words


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Made:
    return make(tmp_path_factory.mktemp("prints") / "made", "luis", "bill")


@pytest.fixture
def crew(made: Made, data: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    with copied(made, data, monkeypatch) as desk:
        yield desk


@pytest.fixture
def words() -> Words:
    return cached.all_words()["en"]


def offered(app: AppTest) -> list[str]:
    """The labels of what can be saved from the page."""
    return [each.label.replace("\\", "") for each in app.get("download_button")]


def watched(site: Desk, hand: str, state: str = "met") -> str:
    """The id of a signed watch of ``hand`` by bill, every step met, or in another state."""
    desk = rig.at_desk_of(site, "bill")
    sheet = watching.open_sheet(desk, "connections", hand)
    for step in sheet.checklist.steps:
        watching.tick(desk, sheet.sheet_id, step.id, state)
    overall = "yes" if state == "met" else "no"
    watching.fill(desk, sheet.sheet_id, Details("bill", desk.today, overall=overall, brake=SOMEBODY_ELSE))
    return watching.commit(desk, sheet.sheet_id, rig.PINS["bill"], rig.PINS[hand]).record_id


def test_today_offers_the_crew_for_the_wall(app: AppTest, crew: Desk) -> None:
    signed_in(app, crew, "bill")
    assert offered(go(app, "today")) == ["Print for the wall (PDF)"]


def test_a_sign_off_offers_a_card_of_each_sheet_and_one_with_the_hand_on_it(app: AppTest, crew: Desk) -> None:
    signed_in(app, crew, "bill")
    titles = [each.title["en"] for each in crew.catalogue.checklists.values()]
    assert offered(go(app, "signoff")) == titles
    assert offered(go(app, "signoff", hand="ray")) == ["Paper card (PDF)"] * len(titles)


def test_a_tailgate_offers_its_sheet_before_the_talk_and_for_one_on_paper(app: AppTest, crew: Desk) -> None:
    signed_in(app, crew, "bill")
    assert offered(go(app, "tailgate", paper="1")) == []
    tailgating.open_meeting(rig.at_desk_of(crew, "bill"), "hand-placement", "day-1")
    assert offered(go(app, "tailgate")) == ["Sheet to print (PDF)"]


def test_a_hand_prints_his_own_card_and_the_sheets_of_his_watches(app: AppTest, crew: Desk) -> None:
    watched(crew, "ray")
    signed_in(app, crew, "ray")
    assert offered(go(app, "card")) == ["Orientation sheet (PDF)", "Print my card (PDF)"]
    told = offered(go(app, "evidence", hand="ray", competency="hand-placement"))
    assert told == ["Print the sheet of Mar 3, 2026 (PDF)", "Print my card (PDF)"]


def test_a_matrix_is_offered_as_a_poster(app: AppTest, crew: Desk) -> None:
    signed_in(app, crew, "bill")
    assert any(each.startswith("Poster of ") and each.endswith("(PDF, A3)") for each in offered(go(app, "matrix")))


def test_the_office_offers_the_first_day_of_a_hand_but_not_of_the_office(app: AppTest, crew: Desk) -> None:
    signed_in(app, crew, rig.COORDINATOR)
    assert offered(go(app, "people", hand="ray")) == ["Orientation sheet (PDF)"]
    assert offered(go(app, "people", hand=rig.COORDINATOR)) == []


def test_another_hand_s_papers_are_refused(crew: Desk, words: Words) -> None:
    record_id = watched(crew, "ray")
    luis = rig.at_desk_of(crew, "luis")
    with pytest.raises(Refused, match="not-yours"):
        prints_made.record_card(luis, words, "ray")
    with pytest.raises(Refused, match="not-yours"):
        prints_made.watch_sheet(luis, words, record_id)
    with pytest.raises(Refused, match="may-not"):
        prints_made.crew_wall(luis, words, "day-1")


@pdfs.needs_pdftotext
def test_a_card_names_the_watch_behind_each_competency(crew: Desk, words: Words) -> None:
    watched(crew, "ray")
    told = pdfs.text(record.render(prints_made.record_card(rig.at_desk_of(crew, "ray"), words, "ray"), words, START))
    assert f"Mar 3, 2026: On the job: clean, {rig.NAMES['bill']}." in told
    assert "last record: rig-1 number" in told


@pdfs.needs_pdftotext
def test_a_card_names_the_last_watch_though_it_was_not_yet(crew: Desk, words: Words) -> None:
    watched(crew, "ray", "not met")
    told = pdfs.text(record.render(prints_made.record_card(rig.at_desk_of(crew, "ray"), words, "ray"), words, START))
    assert f"Mar 3, 2026: On the job: not yet, {rig.NAMES['bill']}." in told


@pdfs.needs_pdftotext
def test_a_watch_is_printed_as_it_was_signed(crew: Desk, words: Words) -> None:
    record_id = watched(crew, "ray")
    told = pdfs.text(watch.render(prints_made.watch_sheet(crew, words, record_id), words, START))
    assert f"{rig.NAMES['bill']}, Mar 3, 2026, 09:00: I watched this myself" in told
    assert f"{rig.NAMES['ray']}, Mar 3, 2026, 09:00: I have seen it." in told
    assert "Somebody else" in told
    assert "changed since" not in told


def test_a_crew_is_told_by_position_with_what_stands_beside(crew: Desk, words: Words) -> None:
    driller = rig.at_desk_of(crew, "bill")
    leaving_off.leave_off(driller, "ray")
    allow(crew, "ray", "hand-placement")
    report = prints_made.crew_wall(driller, words, "day-1")
    positions = crew.catalogue.site.ladder()
    ranks = [positions.index(hand.position) for hand in report.hands]
    assert ranks == sorted(ranks)
    ray = next(hand for hand in report.hands if hand.name == rig.NAMES["ray"])
    off, allowed = ray.beside
    assert off == f"Off the slips for this tour, says {rig.NAMES['bill']}."
    assert allowed.startswith("Allowed until Mar ")
    assert allowed.endswith(": Hand placement. Bill stays beside him")
    calm = [hand for hand in report.hands if all(cell.standing is Standing.CURRENT for cell in hand.cells)]
    assert all(hand.parts == {} for hand in calm)
    assert pdfs.sizes(wall.render(report, words, START))


@pdfs.needs_pdftotext
@pytest.mark.parametrize("topic", ["hand-placement", "set-slips"])
def test_a_talk_is_printed_with_its_crew_pictures_and_the_questions_that_the_tablet_asks(
    crew: Desk, words: Words, topic: str
) -> None:
    driller = rig.at_desk_of(crew, "bill")
    meeting = tailgating.open_meeting(driller, topic, "day-1")
    tailgating.describe(driller, meeting.tailgate_id, job="JSA 9", number="F-1", revision="B", header="Our meeting")
    report = prints_made.tailgate_sheet(driller, words, topic, "day-1", meeting.tailgate_id)
    begun = tailgating.begin(driller, meeting.tailgate_id, "session")
    bank = crew.catalogue.banks[topic]
    asked = [bank.item(each.partition(":")[0]) for each in begun.items]
    assert [each.text for each in report.questions] == [words.pick(item.text) for item in asked if item]
    assert all(point.picture.startswith("<svg") for point in report.points)
    assert rig.NAMES["ray"] in [signer.name for signer in report.signers]
    assert rig.NAMES["bill"] not in [signer.name for signer in report.signers]
    told = pdfs.pages(tailgate.render(report, words, START))
    assert all("Our meeting" in page and "JSA 9" in page for page in told)


@pdfs.needs_pdftotext
def test_a_sheet_for_a_talk_has_the_tour_that_was_chosen_else_the_crew_s_own(crew: Desk, words: Words) -> None:
    driller = rig.at_desk_of(crew, "bill")
    for tour, said in (("18:00-06:00", "18:00-06:00"), ("", "06:00-18:00")):
        report = prints_made.tailgate_sheet(driller, words, "hand-placement", "day-1", tour=tour)
        assert report.tour == said
        assert said in pdfs.text(tailgate.render(report, words, START))


def test_a_talk_that_was_held_is_printed_by_who_held_it_and_by_nobody_else(crew: Desk, words: Words) -> None:
    driller = rig.at_desk_of(crew, "bill")
    meeting = tailgating.open_paper(driller, "hand-placement", "day-1", crew.today, "06:00-18:00")
    for hand, how in (("ray", THROUGHOUT), ("luis", "late")):
        vouching.mark(driller, meeting.tailgate_id, hand, how, passed=True)
    vouching.mark(driller, meeting.tailgate_id, "ana", "left")
    tailgating.describe(driller, meeting.tailgate_id, job="JSA 9", number="F-1", revision="B", header="Our meeting")
    (own, *_) = vouching.vouch(driller, meeting.tailgate_id, rig.PINS["bill"], "tests")
    report = prints_made.held_talk(driller, words, own.record_id)
    assert [(each.name, each.how, each.passed) for each in report.people] == [
        (rig.NAMES["bill"], "led", False), (rig.NAMES["ana"], "left", False), (rig.NAMES["luis"], "late", False),
        (rig.NAMES["ray"], THROUGHOUT, True),
    ]  # fmt: skip
    assert [each.number for each in report.people] == [own.seq, own.seq + 3, own.seq + 1, own.seq + 2]
    assert report.people[1].place == "Derrickhand, Night crew 1"
    assert (report.job, report.number, report.header, report.crew) == (
        "JSA 9", "F-1", "Our meeting", "Day crew 1, Night crew 1",
    )  # fmt: skip
    assert (report.day, report.tour, report.paper, report.entered) == (crew.today, "06:00-18:00", True, None)
    assert talk.render(report, words, START) == talk.render(report, words, START)
    with pytest.raises(NotFound, match="no-record"):
        prints_made.held_talk(rig.at_desk_of(crew, rig.COORDINATOR), words, own.record_id)


@pdfs.needs_pdftotext
def test_every_sheet_names_the_site_s_own_procedure(crew: Desk, words: Words) -> None:
    record_id = watched(crew, "ray")
    own = tuple(
        replace(each, procedure=Procedure("OP-114", "3") if each.id == "hand-placement" else None)
        for each in crew.catalogue.competencies
    )
    site = replace(crew, catalogue=replace(crew.catalogue, competencies=own))
    driller, ray = (rig.at_desk_of(site, hand) for hand in ("bill", "ray"))
    for sheet in (
        record.render(prints_made.record_card(ray, words, "ray"), words, START),
        tailgate.render(prints_made.tailgate_sheet(driller, words, "hand-placement", "day-1"), words, START),
        pocket.render(prints_made.pocket_card(driller, words, "connections", "ray"), words, START),
    ):
        assert "Procedure OP-114, revision 3" in pdfs.text_as_set(sheet)
    told = pdfs.text_as_set(watch.render(prints_made.watch_sheet(site, words, record_id), words, START))
    assert "Procedure now in force: OP-114, revision 3" in told
    other = tailgate.render(prints_made.tailgate_sheet(driller, words, "set-slips", "day-1"), words, START)
    assert "Procedure" not in pdfs.text(other)


def test_the_site_s_paper_is_a_figure_of_its_own(crew: Desk, words: Words) -> None:
    figures = {**crew.catalogue.site.figures, "paper": "Letter"}
    letter = replace(crew, catalogue=replace(crew.catalogue, site=replace(crew.catalogue.site, figures=figures)))
    for desk, size in ((crew, (210, 297)), (letter, (216, 279))):
        data = pocket.render(prints_made.pocket_card(desk, words, "connections"), words, START)
        assert set(pdfs.sizes(data)) == {size}


def test_the_first_day_of_somebody_to_come_is_told_with_its_due_dates(crew: Desk, words: Words) -> None:
    joins = crew.today + timedelta(days=10)
    people.add_person(crew, "newcomer", "Ana New", "floorhand", "day-1", joins, "es")
    report = prints_made.orientation(crew, words, "newcomer")
    assert (report.joins, report.language, report.calls) == (joins, "Spanish", "English")
    needed = [words.pick(each.title) for each in crew.catalogue.needed_by("floorhand")]
    assert sorted(step.title for step in report.steps) == sorted(needed)
    assert all(step.due is None or step.due >= joins for step in report.steps)
    assert len(pdfs.sizes(orientation.render(report, words, START))) == 1
