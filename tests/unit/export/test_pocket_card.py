"""The card for the floor: a whole sheet on two sides, readable, or on more cards that say so."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.unit.export import pdfs
from tests.unit.export.sheets import CONTENT, NAMES, NOW, WORDS, card_of, long_checklist
from trainer.core.checklists import Checklist
from trainer.export import procedure_line
from trainer.export.printed import pocket

CONNECTIONS = CONTENT.checklists["connections"]
EACH = pytest.mark.parametrize(("language", "paper"), [("en", "A4"), ("es", "A4"), ("en", "Letter"), ("es", "Letter")])
BOX = 4.1


def printed(checklist: Checklist, language: str = "en", paper: str = "A4") -> bytes:
    return pocket.render(card_of(checklist, language, paper), WORDS[language], NOW)


@EACH
def test_the_connections_fit_on_two_sides_of_one_page_in_readable_text(language: str, paper: str) -> None:
    data = printed(CONNECTIONS, language, paper)
    assert pdfs.sizes(data) == [(210, 297)] if paper == "A4" else [(216, 279)]
    assert min(pdfs.text_sizes(data)) >= pocket.LEAST_SIZE >= 7


@EACH
def test_every_step_has_its_four_boxes_within_its_own_side(language: str, paper: str) -> None:
    found = pdfs.squares(printed(CONNECTIONS, language, paper), BOX)
    copies = 2 if paper == "A4" else 1
    assert len(found) == 4 * len(CONNECTIONS.steps) * copies
    width, height = (210, 297) if paper == "A4" else (216, 279)
    for _, x, y in found:
        assert 4 < x % (width / 2) < width / 2 - BOX - 4
        # The upper edge of each side is its page's, or one card's height below it.
        assert 4 < (height - y) % 148 < 148 - BOX - 4


@pytest.mark.parametrize("name", CONTENT.checklists)
@pytest.mark.parametrize("language", ["en", "es"])
@pdfs.needs_pdftotext
def test_every_step_of_every_sheet_is_on_its_card_with_critical_in_words(name: str, language: str) -> None:
    checklist, words = CONTENT.checklists[name], WORDS[language]
    told = pdfs.text_as_set(printed(checklist, language, "Letter"))
    for step in checklist.steps:
        assert words.pick(step.text) in told
    assert told.count(words.say("prints.critical")) == sum(step.critical for step in checklist.steps)


@pytest.mark.parametrize("name", CONTENT.checklists)
@EACH
@pdfs.needs_pdftotext
def test_each_bar_names_the_procedure_and_takes_no_more_room_for_it(name: str, language: str, paper: str) -> None:
    card, words = card_of(CONTENT.checklists[name], language, paper), WORDS[language]
    data = pocket.render(card, words, NOW)
    told = pdfs.text_as_set(data)
    for competency in card.checklist.competencies():
        assert procedure_line([card.procedures[competency]], words) in told
    without = pocket.render(replace(card, procedures={}), words, NOW)
    assert pdfs.squares(data, BOX) == pdfs.squares(without, BOX)
    assert pdfs.sizes(data) == pdfs.sizes(without)


@pdfs.needs_pdftotext
def test_a_procedure_that_has_no_room_beside_the_name_is_left_out() -> None:
    long = "OP-114 of the whole district and of every rig in it"
    card = replace(card_of(CONNECTIONS), procedures=dict.fromkeys(CONNECTIONS.competencies(), long))
    told = pdfs.text(pocket.render(card, WORDS["en"], NOW))
    assert "district" not in told
    assert "Hand placement" in told


@pytest.mark.parametrize("language", ["en", "es"])
@pdfs.needs_pdftotext
def test_a_card_asks_for_all_that_the_sheet_on_screen_asks(language: str) -> None:
    words = WORDS[language]
    told = pdfs.text(printed(CONNECTIONS, language, "Letter"))
    keys = (
        "hand", "observer", "brake", "held", "tour", "overall", "stop-called", "not-met-steps", "not-own-act",
        "observer-signs", "hand-signs", "hand-declined", "hand-absent", "state-met", "state-prompt", "state-not-met",
        "state-unseen", "state-left-out", "pocket-caution", "pocket-critical",
    )  # fmt: skip
    assert [key for key in keys if words.say(f"prints.{key}") not in told] == []
    assert words.say("signoff.assessment") in told
    assert words.say("signoff.practice") in told
    for condition in CONNECTIONS.conditions:
        assert words.pick(condition.title) in told
        assert [text for _, text in condition.choices if words.pick(text) not in told] == []
    assert NAMES[1][:40] in told


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("name", CONTENT.checklists)
@pdfs.needs_pdftotext
def test_no_name_and_no_label_on_a_card_is_cut(name: str, language: str) -> None:
    card = replace(
        card_of(CONTENT.checklists[name], language), hand="José Guadalupe Ramírez Castañeda", observer="Bo Li"
    )
    told = pdfs.text(pocket.render(card, WORDS[language], NOW))
    assert "…" not in told
    for each in card.checklist.conditions:
        assert each.choices or WORDS[language].pick(each.title) + (f" [{each.unit}]" if each.unit else "") in told


@pytest.mark.parametrize("language", ["en", "es"])
def test_no_sign_of_the_legend_means_two_things(language: str) -> None:
    letters = [WORDS[language].say(f"prints.letter-{each}") for each in ("met", "prompt", "not-met", "unseen")]
    assert len(set(letters)) == 4
    # A dash is what does not apply, on screen, on the printed sheet and on the card.
    assert not {"-", "–", "—"} & set(letters)


@pdfs.needs_pdftotext
def test_a_sheet_too_long_for_two_sides_is_split_between_competencies_and_says_so() -> None:
    told = pdfs.pages(printed(long_checklist(competencies=8, steps=40)))
    whole = " ".join(told)
    assert "Card 1 of 2: A long sheet" in whole
    assert "Card 2 of 2: A long sheet" in whole
    assert [number for number in range(1, 41) if f"number {number} is right" not in whole] == []
    # Signed once, at the end.
    assert whole.count("Observer signs") == 1


def test_a_long_sheet_still_has_every_box_and_no_smaller_text() -> None:
    data = printed(long_checklist(competencies=3, steps=50), "en", "Letter")
    assert len(pdfs.squares(data, BOX)) == 4 * 50
    assert len(pdfs.sizes(data)) == 2
    assert min(pdfs.text_sizes(data)) >= 7


@pdfs.needs_pdftotext
def test_steps_that_go_on_over_the_fold_stand_under_their_competency_again() -> None:
    told = pdfs.text(printed(long_checklist(competencies=1, steps=20), "en", "Letter"))
    assert told.count("c0") == 2
