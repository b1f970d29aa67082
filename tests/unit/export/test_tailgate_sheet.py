"""The sheet that takes the place of the paper form: lines to sign on, and a key that the crew does not see."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import pytest

from tests.unit.export import pdfs
from tests.unit.export.sheets import NAMES, NOW, SOURCE, WORDS, talk
from trainer.export.printed import tailgate
from trainer.export.printed.tailgate import LINE_HEIGHT, TailgateSheet

TICK = 5.5


def printed(report: TailgateSheet, language: str = "en") -> bytes:
    return tailgate.render(report, WORDS[language], NOW)


def lines_to_sign(data: bytes) -> list[tuple[int, float]]:
    """Page and height of each line, by its boxes."""
    return sorted({(page, y) for page, _, y in pdfs.squares(data, TICK)}, key=lambda line: (line[0], -line[1]))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("language", ["en", "es"])
def test_twenty_people_can_sign_on_one_page_nine_millimetres_each(paper: str, language: str) -> None:
    data = printed(replace(talk(), source=replace(SOURCE, paper=paper)), language)
    lines = lines_to_sign(data)
    assert len(lines) == 20
    assert {page for page, _ in lines} == {1}
    pitches = {round(upper[1] - lower[1], 2) for upper, lower in pairwise(lines)}
    assert min(pitches) >= 9
    assert LINE_HEIGHT >= 9
    assert len(pdfs.sizes(data)) == 2


def test_a_larger_crew_has_a_line_each_and_some_are_left() -> None:
    lines = lines_to_sign(printed(talk(signers=31)))
    assert len(lines) == 34
    assert {page for page, _ in lines} == {1, 2}


@pdfs.needs_pdftotext
def test_the_site_s_own_form_stands_on_every_page_that_is_filled_in() -> None:
    for page in pdfs.pages(printed(talk())):
        for said in ("Daily safety meeting", "Form F-114", "Revision C", "JSA 2231", "Crew 0", "Where your hands go"):
            assert said in page
        assert "Where your hands go Procedure OP-103, revision B" in page


@pdfs.needs_pdftotext
def test_names_in_any_writing_stand_on_their_lines() -> None:
    told = pdfs.pages(printed(talk(signers=20)))[1]
    for name in NAMES:
        assert all(part in told for part in name.split())


@pdfs.needs_pdftotext
def test_the_key_stands_only_below_the_line_to_fold_along() -> None:
    first, second = pdfs.pages(printed(talk()))
    above, fold, below = first.partition("Fold back along the line")
    assert fold
    assert "KEYWHY" not in above + second
    assert below.count("KEYWHY") == 3
    assert re.findall(r"\d\. [A-D]:", above) == []
    assert re.findall(r"(\d)\. ([A-D]):", below) == [("1", "C"), ("2", "C"), ("3", "C")]
    assert below.count("C: Away from the table. KEYWHY what hangs there can move.") == 3
    assert [letter for letter in "ABCD" if above.count(f"{letter}. ") != 3] == []


@pytest.mark.parametrize(
    ("option", "said"),
    [
        ("Stop!", "C: Stop! KEYWHY"),
        ('Calls "hold."', 'C: Calls "hold." KEYWHY'),
        ("KEYWHY what hangs there can move.", "C: KEYWHY"),
    ],
)
@pdfs.needs_pdftotext
def test_the_key_ends_the_right_answer_once_and_says_a_drawing_s_reason_once(option: str, said: str) -> None:
    sheet = talk()
    asked = replace(sheet.questions[0], options=("On the pipe", "On the tool joint", option, "On a handle"))
    below = pdfs.pages(printed(replace(sheet, questions=(asked,) * 3)))[0].partition("Fold back")[2]
    assert below.count(said) == below.count("KEYWHY") == 3


@pytest.mark.parametrize("lines", [3, 6, 8, 10, 12, 16])
@pdfs.needs_pdftotext
def test_however_long_the_talk_the_key_is_below_a_fold_or_has_the_last_page_to_itself(lines: int) -> None:
    told = pdfs.pages(printed(talk(lines=lines)))
    shown = [page.partition("Fold back along the line")[0] for page in told]
    assert "KEYWHY" not in "".join(shown[:-1])
    if "KEYWHY" in shown[-1]:
        assert shown[-1].startswith("For whoever holds the talk. Not for the crew.")
    assert " ".join(told).count("KEYWHY") == 3


@pdfs.needs_pdftotext
def test_a_key_without_room_at_the_foot_comes_last() -> None:
    assert any("Not for the crew" in pdfs.pages(printed(talk(lines=lines)))[-1] for lines in range(4, 14))


@pdfs.needs_pdftotext
def test_a_talk_without_pictures_or_form_is_whole_too() -> None:
    blank = replace(talk(pictures=False, signers=0), header="", number="", revision="", job="", crew="")
    told = pdfs.pages(printed(blank, "es"))
    assert "Formulario" not in told[0]
    assert "Número de trabajo (JSA) o permiso" in told[0]
    assert len(told) == 2
