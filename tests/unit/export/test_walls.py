"""The crew for the doghouse and the matrix poster: everybody, every page with its head, readable in grey."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta

import pytest

from tests.unit.export import pdfs
from tests.unit.export.sheets import NAMES, NOW, SEVENTEEN, SOURCE, WORDS, cell, crew, matrix, poster
from trainer.core.matrix import Standing
from trainer.export import STANDING_MARKS, MatrixReport, StandingMark
from trainer.export.printed import wall
from trainer.export.printed.missing import missing, watches_left
from trainer.export.printed.poster import in_order
from trainer.export.printed.wall import CrewWall


def printed(report: CrewWall, language: str = "en") -> bytes:
    return wall.render(report, WORDS[language], NOW)


@pytest.mark.parametrize("language", ["en", "es"])
@pdfs.needs_pdftotext
def test_forty_hands_and_seventeen_competencies_take_two_pages_each_with_its_head(language: str) -> None:
    data = poster(matrix(40, 17), WORDS[language])
    assert pdfs.sizes(data) == [(420, 297)] * 2
    told = pdfs.pages(data)
    for page in told:
        for title in SEVENTEEN:
            assert all(word in page for word in title.split())
    whole = " ".join(told)
    assert [whole.count(name.split()[0]) for name in NAMES] == [8] * 5


def test_few_competencies_make_an_upright_poster() -> None:
    assert pdfs.sizes(poster(matrix(31, 6), WORDS["en"])) == [(297, 420)]


def test_more_columns_than_a_page_has_room_for_go_on_further_pages() -> None:
    report = matrix(3, 17)
    more = [replace(each, competency=f"d{number}") for number, each in enumerate(report.cells)]
    data = poster(replace(report, cells=(*report.cells, *more)), WORDS["es"])
    assert len(pdfs.sizes(data)) > 2


@pdfs.needs_pdftotext
def test_a_matrix_of_nobody_says_so() -> None:
    assert "Nobody is on the matrix" in pdfs.text(poster(replace(matrix(0, 0), shown="Floorhand"), WORDS["en"]))


@pdfs.needs_pdftotext
def test_a_poster_says_day_site_choice_and_who_was_erased() -> None:
    report = replace(matrix(2, 2), names={}, shown="Floorhand; Current")
    told = pdfs.text(poster(report, WORDS["en"]))
    assert "rig-7 · as of Mar 2, 2026 · shown: Floorhand; Current" in told
    assert told.count("erased person") == 2


def test_the_poster_goes_crew_by_crew_then_by_position_and_name() -> None:
    early, late = cell("a", 0, Standing.CURRENT, "crew-1"), cell("b", 0, Standing.CURRENT, "crew-0")
    driller = replace(late, hand="c", position="assistant-driller")
    stranger = replace(late, hand="d", crew="nowhere")
    names = {"a": "A", "b": "Zoe", "c": "Al", "d": "D"}
    report: MatrixReport = replace(matrix(0, 17), cells=(early, stranger, driller, late), names=names)
    assert [cells[0].hand for cells in in_order(report)] == ["b", "c", "a", "d"]


@pytest.mark.parametrize("language", ["en", "es"])
@pdfs.needs_pdftotext
def test_a_crew_is_named_with_each_standing_in_words_and_what_is_missing(language: str) -> None:
    words = WORDS[language]
    told = pdfs.text(printed(crew(4, 6), language))
    for key in ("current", "due", "overdue", "learning", "not-started"):
        assert words.say(f"standing.{key}") in told
    assert words.say("prints.still-missing") in told
    assert words.say("prints.nothing-missing") in told
    assert words.say("prints.late-sign") in told
    assert "Dee Driller (Assistant driller)" in told


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("competencies", [6, 11, 17])
@pdfs.needs_pdftotext
def test_the_legend_tells_the_sign_for_late_that_stands_in_the_squares(competencies: int, language: str) -> None:
    words, told = WORDS[language], pdfs.text(printed(crew(7, competencies), language))
    is_brief = re.search(r"! \d|! [a-z]{3}", told, re.IGNORECASE) is not None
    assert (words.say("prints.late-sign-brief") in told) == is_brief
    assert (words.say("prints.late-sign") in told) != is_brief


@pdfs.needs_pdftotext
def test_the_legend_of_a_poster_tells_the_brief_sign_only_where_it_stands() -> None:
    report = matrix(3, 17)
    # A date far away is written with its year, for which Spanish columns are too narrow.
    cells = [replace(each, due=each.due - timedelta(days=400)) if each.due else each for each in report.cells]
    far = replace(report, cells=tuple(replace(each, late=each.due is not None) for each in cells))
    for language, is_brief in (("en", False), ("es", True)):
        words, told = WORDS[language], pdfs.text(poster(far, WORDS[language]))
        assert ("! feb 20" in told) == is_brief
        assert (words.say("prints.late-sign-brief") in told) == is_brief


@pdfs.needs_pdftotext
def test_whoever_is_off_the_slips_stands_over_all_by_name() -> None:
    report = crew(2, 6)
    told = pdfs.text(printed(report))
    for hand in report.hands[:2]:
        assert f"OFF THE SLIPS: {hand.name}, for: Stop and report" in told
    assert told.index("OFF THE SLIPS") < told.index("Nguyễn Văn Minh", told.rindex("OFF THE SLIPS") + 60)


@pdfs.needs_pdftotext
def test_what_stands_beside_a_standing_is_said_too() -> None:
    report = crew(1, 6)
    beside = (replace(report.hands[0], beside=("Off the slips for this tour, says Bill.",)), *report.hands[1:])
    assert "Off the slips for this tour, says Bill." in pdfs.text(printed(replace(report, hands=beside)))


@pytest.mark.parametrize(
    ("competencies", "paper", "size"),
    [(6, "A4", (297, 210)), (6, "Letter", (279, 216)), (11, "A4", (297, 210)), (17, "A4", (420, 297))],
)
def test_a_crew_is_printed_on_the_site_s_paper_while_its_columns_fit(
    competencies: int, paper: str, size: tuple[int, int]
) -> None:
    report = replace(crew(7, competencies), source=replace(SOURCE, paper=paper))
    assert set(pdfs.sizes(printed(report))) == {size}


@pytest.mark.parametrize("language", ["en", "es"])
@pdfs.needs_pdftotext
def test_all_seventeen_of_a_crew_stand_on_one_sheet_with_each_name_once(language: str) -> None:
    report = crew(1, 17)
    calm = next(hand for hand in report.hands if hand.name == "Dee Calm")
    held = tuple(cell("calm", number, Standing.CURRENT) for number in range(17))
    hands = tuple(replace(calm, name=f"Hand {number}", cells=held) for number in range(8))
    told = pdfs.pages(printed(replace(report, hands=(report.hands[0], *hands)), language))
    assert len(told) == 1
    assert told[0].count(WORDS[language].say("prints.nothing-missing")) == len(hands)
    assert WORDS[language].say("prints.date-sign") in told[0]


@pdfs.needs_pdftotext
def test_who_lacks_nothing_but_falls_due_soon_is_not_told_as_calm() -> None:
    report = crew(1, 6)
    calm = next(hand for hand in report.hands if hand.name == "Dee Calm")
    soon = replace(calm, cells=tuple(replace(each, standing=Standing.DUE) for each in calm.cells))
    told = pdfs.text(printed(replace(report, hands=(soon,))))
    assert "Nothing is missing yet. Due soon: 1 of them" in told


@pdfs.needs_pdftotext
def test_a_crew_of_thirty_one_has_its_head_on_every_page() -> None:
    told = pdfs.pages(printed(crew(31, 11), "es"))
    assert len(told) > 1
    for page in told[1:]:
        assert page.startswith("Quién tiene qué: Crew 0 · Al 2 mar 2026")


def test_what_is_missing_is_told_worst_first_and_nothing_where_all_holds() -> None:
    report = crew(1, 6)
    lacking, calm = (missing(hand.cells, hand.parts, report.titles, WORDS["en"]) for hand in report.hands[:2])
    assert calm == ()
    assert [line.partition(":")[0] for line in lacking] == ["Off the slips for", "Quiz", "Watched once more on the job"]
    assert "Stop and report" not in lacking[1]


def test_watches_left_count_days_and_people_and_one_when_it_ran_out() -> None:
    part = crew(1, 1).hands[0].parts["c0"][1]
    assert watches_left(part) == 1
    assert watches_left(replace(part, watches=0, watchers=0)) == 2
    assert watches_left(replace(part, watches=2, watchers=1)) == 1
    assert watches_left(replace(part, through=NOW.date())) == 1


@pytest.mark.parametrize("mark", STANDING_MARKS, ids=lambda mark: str(mark.standing))
def test_black_text_reads_on_every_tint_in_grey(mark: StandingMark) -> None:
    fill = mark.fill if mark.standing is not Standing.STOOD_DOWN else "#ffffff"
    assert (luminance(fill) + 0.05) / 0.05 >= 4.5


def luminance(colour: str) -> float:
    """The relative luminance of ``#rrggbb``, from 0 for black to 1 for white."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [each / 12.92 if each <= 0.04045 else ((each + 0.055) / 1.055) ** 2.4 for each in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
