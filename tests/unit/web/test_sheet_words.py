"""The board of loads in words: whoever does not see it is told every figure that is drawn, and nothing beyond that."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from trainer import words
from trainer.core.readings import READINGS, reading
from trainer.core.shown import Sheet
from trainer.web.sheet_words import SheetDrawn, drawn

APP = Path(words.__file__).resolve().parent.parent
COMPLETE = ("en", "es")
LANGUAGES = {code: each for code, each in words.load(APP, APP).items() if code in COMPLETE}
BOARD = {
    "indicator": "118", "block": "24", "limit-1": "128", "limit-2": "106", "limit-3": "88", "near": "13", "bands": "2",
}  # fmt: skip
SAID = {
    "en": {"0": "Mud covers", "1": "shows one wide band", "2": "shows two bands", "3": "shows three narrow bands"},
    "es": {"0": "El lodo tapa", "1": "una franja ancha", "2": "dos franjas", "3": "tres franjas angostas"},
}


def told(language: str, **figures: str) -> SheetDrawn:
    return drawn(Sheet("load-board", {**BOARD, **figures}), LANGUAGES[language])


@pytest.mark.parametrize("language", COMPLETE)
def test_the_board_is_told_figure_by_figure_and_the_load_is_left_to_be_worked_out(language: str) -> None:
    # What the driller asked for is in the question; 94 t, the load, is nobody's to give away.
    assert re.findall(r"\d+", told(language).alt) == ["118", "24", "128", "106", "88"]


@pytest.mark.parametrize("bands", ["0", "1", "2", "3"])
@pytest.mark.parametrize("language", COMPLETE)
def test_the_last_sentence_says_what_the_joint_shows(language: str, bands: str) -> None:
    sentences = told(language, bands=bands).alt
    tail = sentences[sentences.index(" t. ", sentences.index("88")) :]
    assert SAID[language][bands] in tail


@pytest.mark.parametrize("language", COMPLETE)
def test_boards_of_every_answer_are_told_in_the_same_words(language: str) -> None:
    answers = {"near": {"near": "20"}, "under": {"near": "10"}, "over": {"indicator": "140"}}
    for key, figures in answers.items():
        assert reading("load-verdict", {**BOARD, **figures}).key == key
    assert {*answers, "unread"} == {*READINGS["load-verdict"].answers}
    texts = [told(language, **figures) for figures in answers.values()]
    assert len({re.sub(r"\d+", "", each.alt) for each in texts}) == 1
    assert len({each.caption for each in texts}) == 1


def test_the_caption_says_the_units_the_small_mark_and_whose_figures_govern() -> None:
    english, spanish = told("en").caption, told("es").caption
    assert "1 t = 2.2 klb" in english
    assert "to the next: 2 t." in english
    assert "not your rig" in english
    assert "1 t = 2.2 klb" in spanish
    assert "no su equipo" in spanish
