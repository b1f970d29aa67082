"""What holds of every sheet that is printed: whole pages, own fonts, the same bytes, nothing over the edge."""

from __future__ import annotations

import io
from collections.abc import Iterator

import pikepdf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.unit.export import pdfs
from tests.unit.export.sheets import EVERY, NOW, WORDS, made
from trainer.core import catalogue
from trainer.export.marks import STANDING_MARKS
from trainer.export.printed.canvas import A4, PAPERS, Canvas, paper_called
from trainer.export.printed.signs import FIGURES, STATE_FIGURES
from trainer.web.look import STANDING_LOOKS, STATE_LOOKS

KINDS = pytest.mark.parametrize("kind", EVERY)
LANGUAGES = pytest.mark.parametrize("language", ["en", "es"])
# Whoever governs, in the words that each sheet has for it.
GOVERNS = {"en": "maker's manual", "es": "manual del fabricante"}


@KINDS
@LANGUAGES
def test_the_same_report_at_the_same_moment_gives_the_same_bytes(kind: str, language: str) -> None:
    assert EVERY[kind](WORDS[language]) == made(kind, language)


@KINDS
def test_every_font_is_in_the_file(kind: str) -> None:
    found = pdfs.fonts(made(kind, "en"))
    assert found
    assert all(found.values())


@KINDS
@LANGUAGES
def test_a_sheet_says_its_language_and_title_and_when_it_was_made(kind: str, language: str) -> None:
    with pikepdf.open(io.BytesIO(made(kind, language))) as book:
        assert str(book.Root.Lang) == language
        assert str(book.docinfo["/Title"])
        assert str(book.docinfo["/CreationDate"]).startswith(f"D:{NOW:%Y%m%d%H%M%S}")


@KINDS
@LANGUAGES
@pdfs.needs_pdftotext
def test_a_sheet_says_what_governs_and_nothing_runs_over_its_edge(kind: str, language: str) -> None:
    data = made(kind, language)
    assert GOVERNS[language] in pdfs.text(data)
    # Only the words for folding and cutting stand nearer to the edge.
    allowed = {WORDS[language].say("prints.fold"), WORDS[language].say("prints.cut")} if kind == "pocket" else set()
    assert set(pdfs.words_outside(data, 4.5)) <= allowed


@pytest.mark.parametrize("kind", [kind for kind in EVERY if kind != "pocket"])
@pdfs.needs_pdftotext
def test_a_page_says_where_it_comes_from_and_which_of_how_many_it_is(kind: str) -> None:
    told = pdfs.pages(made(kind, "en"))
    for number, page in enumerate(told, start=1):
        assert "rig-7 · printed Mar 2, 2026, 11:00 · last record: rig-7 number 812, 3fa4c1d29bb0" in page
        assert page.endswith(f" {number}/{len(told)}")


@KINDS
def test_no_text_is_smaller_than_six_points(kind: str) -> None:
    assert min(pdfs.text_sizes(made(kind, "es"))) >= 6


def test_paper_has_the_shapes_of_the_screen() -> None:
    assert {mark.standing.value: mark.figure for mark in STANDING_MARKS} == {
        standing: shape for standing, (shape, _) in STANDING_LOOKS.items()
    }
    assert dict(STATE_FIGURES) == {state: shape for state, shape, _ in STATE_LOOKS}
    assert {mark.figure for mark in STANDING_MARKS} | set(STATE_FIGURES.values()) == set(FIGURES)


def test_a_paper_is_known_in_any_spelling_and_anything_else_is_a4() -> None:
    assert [paper_called(name).name for name in ("A4", "letter", " Letter ", "", "B5")] == [
        "A4", "Letter", "Letter", "A4", "A4",
    ]  # fmt: skip
    assert tuple(each.name for each in PAPERS) == catalogue.PAPERS


@pytest.fixture(scope="module")
def canvas() -> Iterator[Canvas]:
    empty = Canvas(A4, "title", "en", NOW)
    empty.page()
    yield empty
    empty.close()


WORDLIKE = st.text(st.characters(codec="utf-8", categories=["L", "M", "N", "P"]), max_size=30)


@given(said=st.lists(WORDLIKE, max_size=12), width=st.floats(8, 120), size=st.sampled_from([7.0, 9.5, 16.0]))
def test_a_line_is_never_wider_than_its_room_and_no_letter_is_lost(
    canvas: Canvas, said: list[str], width: float, size: float
) -> None:
    text = " ".join(said)
    lines = canvas.lines(text, width, size)
    assert all(len(line) <= 1 or canvas.measured(line, size) <= width for line in lines)
    assert "".join(lines).replace(" ", "") == "".join(text.split())


@given(rows=st.integers(1, 4), words=st.integers(0, 40))
def test_what_is_cut_off_is_marked(canvas: Canvas, rows: int, words: int) -> None:
    text = " ".join(["handles"] * words)
    cut, whole = canvas.cut(text, 40, 9, rows), canvas.lines(text, 40, 9)
    assert len(cut) == min(rows, len(whole))
    assert cut[-1].endswith("…") == (len(whole) > rows)
    assert all(canvas.measured(line, 9) <= 40 for line in cut)
