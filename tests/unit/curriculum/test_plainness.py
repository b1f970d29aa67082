"""How plainly a text reads: syllables by the rules of each spelling, the two formulas, and where the limits lie."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.curriculum.mini import GOOD, copied, lines_of, loaded_from
from trainer.curriculum.checks.plain_words import FEWEST_WORDS, LEAST_PLAIN, LONGEST_SENTENCE, MOST_WORDS
from trainer.curriculum.plainness import hardest_words, plainness, sentences_in, syllables, words_in

LESSON = "content/lessons/grip.yaml"


@pytest.mark.parametrize(
    ("language", "count", "words"),
    [
        ("en", 1, "hand slips clear the he brake brakes made hole noise changed bowl stopped gripped one dies"),
        ("en", 2, "handle handles driller lifted table tables edges catches bushing people sizes settled lying being"),
        ("en", 3, "procedure rotary"),
        ("en", 4, "elevators supervisor competency"),
        ("es", 1, "y muy rey"),
        ("es", 2, "mano cuñas hueco buje país leer guía agua siguen peor caer ahí mayo ciudad usted quietos"),
        ("es", 3, "ahora cuidado vergüenza peligro"),
        ("es", 4, "perforador tubería averiguó aéreo averigüe"),
        ("es", 5, "retenedores levantamiento procedimiento"),
    ],
)
def test_syllables_are_counted_as_they_are_spelt(language: str, count: int, words: str) -> None:
    assert {word: syllables(word, language) for word in words.split()} == dict.fromkeys(words.split(), count)


def test_a_figure_and_a_place_for_one_are_one_word_of_one_syllable() -> None:
    assert words_in("Lift {weight_lb} lb, 12.5 kg") == ("Lift", "{weight_lb}", "lb", "12.5", "kg")
    assert syllables("12.5", "es") == 1


def test_a_colon_ends_a_sentence_and_a_decimal_point_does_not() -> None:
    assert sentences_in("Three calls: hold. Lift 2.5 kg! «¿Ya?» Now; go") == (
        "Three calls:", "hold.", "Lift 2.5 kg!", "«¿Ya?»", "Now;", "go",
    )  # fmt: skip


def test_reading_ease_of_a_sentence_of_six_short_words() -> None:
    # 206.835 - 1.015 * 6 - 84.6 * 6 / 6
    assert plainness(sentences_in("The cat sat on the mat."), "en") == pytest.approx(116.145)


def test_perspicuity_of_two_sentences() -> None:
    # Eight words with 17 syllables in two sentences: 206.835 - 8 / 2 - 62.3 * 17 / 8
    said = sentences_in("Las manos salen. El perforador baja la tubería.")
    assert plainness(said, "es") == pytest.approx(206.835 - 4 - 62.3 * 17 / 8)


def test_the_longest_words_of_a_sentence_come_first_and_short_ones_not_at_all() -> None:
    assert hardest_words("The supervisor verifies each procedure now", "en") == ("supervisor", "verifies", "procedure")
    assert hardest_words("Lift it now", "en") == ()


def lesson_with(tmp_path: Path, text: str) -> list[str]:
    lesson = (GOOD / LESSON).read_text("utf-8").replace("{en: The slips stand ready.", f"{{en: {text}")
    return [line for line in lines_of(loaded_from(copied(tmp_path, {LESSON: lesson}))) if "in one sentence" in line]


@pytest.mark.parametrize(
    ("words", "is_told", "is_warning"),
    [
        (MOST_WORDS, False, False),
        (MOST_WORDS + 1, True, True),
        (LONGEST_SENTENCE, True, True),
        (LONGEST_SENTENCE + 1, True, False),
    ],
)
def test_a_sentence_is_warned_of_and_then_refused(words: int, is_told: bool, is_warning: bool, tmp_path: Path) -> None:
    lines = lesson_with(tmp_path, f"{'go ' * (words - 1)}now.")

    assert len(lines) == is_told
    assert any(line.startswith("warning: ") for line in lines) is is_warning


def test_a_long_objective_is_only_a_warning(tmp_path: Path) -> None:
    text = (GOOD / LESSON).read_text("utf-8")
    long = text.replace("{en: Take the bar so that the hand comes away.", f"{{en: {'go ' * LONGEST_SENTENCE}now.")
    lines = lines_of(loaded_from(copied(tmp_path, {LESSON: long})))

    assert [line.partition(":")[0] for line in lines] == ["warning"]


def test_too_few_words_are_not_measured_by_a_formula(tmp_path: Path) -> None:
    hard = "Maintenance organization responsibility documentation. "
    bank = "quizzes/grip.yaml"
    item = (GOOD / bank).read_text("utf-8")
    few = item.replace('"Set the slips by day"', f'"{hard}"', 1)
    many = item.replace('"Set the slips by day"', f'"{hard * (FEWEST_WORDS // 4)}"', 1)

    assert [each for each in lines_of(loaded_from(copied(tmp_path / "few", {bank: few}))) if "reads hard" in each] == []
    assert any("reads hard" in each for each in lines_of(loaded_from(copied(tmp_path / "many", {bank: many}))))


def test_office_words_are_below_the_limits_and_floor_words_above_them() -> None:
    office = "Verification of equipment condition is required prior to commencement of activities."
    floor = "Look at the set before you start. Tell the driller what you see."
    oficina = "La verificación del equipamiento es un requisito previo al inicio de las actividades."
    piso = "Mire el juego antes de empezar. Dígale al perforador lo que ve."

    assert plainness(sentences_in(office), "en") < LEAST_PLAIN["en"] < plainness(sentences_in(floor), "en")
    assert plainness(sentences_in(oficina), "es") < LEAST_PLAIN["es"] < plainness(sentences_in(piso), "es")


def test_what_is_wrong_in_a_translation_beside_a_file_is_told_of_that_file(tmp_path: Path) -> None:
    beside = "content/lessons/grip.pt.yaml"
    root = copied(tmp_path, {beside: f"id: grip\nscenes:\n  - id: first\n    text: {'vai ' * LONGEST_SENTENCE}já.\n"})
    (line,) = [each for each in lines_of(loaded_from(root)) if "in one sentence" in each]

    assert line.startswith(f"{beside}:4: scenes[first].text.pt: 29 words in one sentence (pt): ")
