"""The sheet of a talk that was held: everybody on it with what it came to, nothing cut, nothing that tells the key."""

from __future__ import annotations

from datetime import date

import pytest

from tests.unit.export import pdfs
from tests.unit.export.sheets import NAMES, NOW, WORDS, held_talk
from trainer.export.printed import talk
from trainer.export.printed.talk import TalkSheet

LONG = "Permit for work over the rotary, section B, sheet 14 of 22, by the night pusher for the night tour, 0123456"


def told(report: TalkSheet, language: str = "en") -> str:
    return pdfs.text(talk.render(report, WORDS[language], NOW))


@pdfs.needs_pdftotext
def test_it_stands_in_for_the_site_s_own_form() -> None:
    said = told(held_talk())
    for each in (
        "Daily safety meeting", "Form F-114 · Revision C", "Where your hands go", "Procedure OP-103, revision B",
        "Tour began on: Mar 2, 2026", "Tour: 18:00-06:00", "Crew: Crew 0", "Job (JSA) or permit number: JSA 2231",
        f"Talk held by: {NAMES[3]}", "Counts for: Hand placement", "Held: on the tablet", "Where is it safe to lean?",
        f"{NAMES[3]}, Mar 2, 2026, 00:30: I vouch for it", "Record 01a2, rig-7 number 40. Hash 9f9f",
    ):  # fmt: skip
        assert each in said
    assert "Entered on" not in said


@pdfs.needs_pdftotext
def test_each_who_was_there_has_how_what_it_came_to_and_the_number_of_the_record() -> None:
    page = pdfs.text_as_set(talk.render(held_talk(people=4, guests=1), WORDS["en"], NOW))
    assert "Held the talk - - No. 40" in page
    assert "Throughout 3 of 3 passed No. 41" in page
    assert "Came late 3 of 3 attended No. 42" in page
    assert "Left early 2 of 3 attended No. 43" in page
    assert "Throughout 1 of 3 VOID No. 44" in page
    assert f"No. 44 VOID, Mar 2, 2026, by {NAMES[0]}: Wrong name" in page
    assert f"1. {NAMES[0]}, cementing company" in page


@pdfs.needs_pdftotext
def test_a_talk_on_paper_says_when_it_was_entered_and_that_its_questions_are_on_the_sheet() -> None:
    said = told(held_talk(paper=True, entered=date(2026, 3, 5), questions=()))
    assert "Held: on paper, entered in the app" in said
    assert "Entered on: Mar 5, 2026" in said
    assert "They stand on the sheet of paper." in said


@pytest.mark.parametrize("language", ["en", "es"])
@pdfs.needs_pdftotext
def test_long_names_and_a_large_crew_stand_there_whole(language: str) -> None:
    report = held_talk(people=40, guests=9, header=LONG, number=LONG, revision=LONG, job=LONG, crew=LONG)
    data = talk.render(report, WORDS[language], NOW)
    first, *others = pdfs.pages(data)
    assert others
    # Only the line that further pages begin with is cut.
    assert ("…" in first, [page.count("…") for page in others]) == (False, [1] * len(others))
    assert pdfs.text_as_set(data).count(LONG) >= 5
    assert pdfs.words_outside(data, 4.5) == []
