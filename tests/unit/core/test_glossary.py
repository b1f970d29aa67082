"""The site's own words put into a sentence: whole words, both forms, the little words of another gender."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.core.glossary import LanguageTerms, SiteWord, Term, looks_untranslated, sayer, sayers
from trainer.curriculum import load

APP = Path(__file__).parents[3]
TERMS = {
    "dado": Term("dados", "m"),
    "llave": Term("llaves", "f", keep=("llave de mano",)),
    "perforador": Term("perforadores", "m"),
}
INSERT = {"dado": SiteWord("inserto", "insertos")}
JAW = {"dado": SiteWord("muela", "muelas", "f", {"dados están llenos": "muelas están llenas"})}


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("Falta un dado.", "Falta un inserto."),
        ("Los dados muerden.", "Los insertos muerden."),
        ("Dados nuevos", "Insertos nuevos"),
        ("DADOS, dado; (dado)", "Insertos, inserto; (inserto)"),
        ("Un soldado y dados", "Un soldado y insertos"),
        ("{dado} kg", "{dado} kg"),
    ],
)
def test_whole_words_are_replaced_in_their_form_and_with_their_capital(written: str, said: str) -> None:
    assert sayer(TERMS, INSERT)(written) == said


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("El dado y los dados", "La muela y las muelas"),
        ("Un dado del juego, cerca del dado", "Una muela del juego, cerca de la muela"),
        ("Junto al dado, otro dado, ese dado", "Junto a la muela, otra muela, esa muela"),
        ("Todos los dados de los mismos dados", "Todas las muelas de las mismas muelas"),
        ("Los dados están llenos de lodo", "Las muelas están llenas de lodo"),
        ("El perforador mira los dados", "El perforador mira las muelas"),
    ],
)
def test_a_word_of_another_gender_takes_the_little_words_before_it_along(written: str, said: str) -> None:
    phrases = {**JAW["dado"].phrases, "los dados están llenos": "las muelas están llenas"}
    word = SiteWord("muela", "muelas", "f", phrases)
    assert sayer(TERMS, {"dado": word})(written) == said


def test_a_feminine_word_becomes_masculine_the_same_way() -> None:
    said = sayer(TERMS, {"llave": SiteWord("tenaza de fuerza", "tenazas de fuerza", "f")})
    assert said("La llave y la llave de mano") == "La tenaza de fuerza y la llave de mano"
    turned = sayer(TERMS, {"llave": SiteWord("gancho", "ganchos", "m")})
    assert turned("Lejos de la llave y de las llaves") == "Lejos del gancho y de los ganchos"


def test_a_word_that_was_put_in_is_not_replaced_again() -> None:
    own = {"llave": SiteWord("llave de potencia", "llaves de potencia"), "dado": SiteWord("llave", "llaves")}
    assert sayer(TERMS, own)("Una llave y un dado") == "Una llave de potencia y un llave"


def test_words_that_are_no_term_change_nothing() -> None:
    assert sayer(TERMS, {"cuña": SiteWord("slip", "slips")})("La cuña") == "La cuña"
    assert sayers({}, {"es": INSERT}) == {}
    assert sayers({"es": LanguageTerms(TERMS)}, {"es": {}}) == {}


@given(st.text(alphabet="el los dados un a de {}.\n", max_size=60))
def test_a_sentence_without_a_term_stays_as_it_is(text: str) -> None:
    if "dado" not in text:
        assert sayer(TERMS, JAW)(text) == text


def test_slips_are_the_same_for_everybody() -> None:
    words = load(APP, APP).terms["es"].words
    assert {"dado", "perforador", "llave"} <= set(words)
    assert not [each for each in words if each.startswith("cuña")]


@pytest.mark.parametrize(
    ("english", "other", "is_left"),
    [
        ("Lift together", "Lift together", True),
        ("Lift together", "Levantar juntos", False),
        ("60 kg (132 lb)", "60 kg (132 lb)", False),
        ("{who}: {kg} kg", "{who}: {kg} kg", False),
        ("A", "A", False),
        ("Top drive", "Top drive", False),
        ("Top drive on", "Top drive on", True),
    ],
)
def test_a_sentence_left_in_english_is_told_from_what_both_say_alike(english: str, other: str, is_left: bool) -> None:
    assert looks_untranslated(english, other, ("kg", "lb", "top", "drive")) is is_left
