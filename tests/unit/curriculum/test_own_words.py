"""The site's own words in content, pictures and screens: everywhere, and nowhere where they do not belong."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from trainer import curriculum, words
from trainer.core.catalogue import Catalogue, Site
from trainer.core.glossary import SiteWord, sayers
from trainer.core.tasks import Picture
from trainer.curriculum import Loaded, load
from trainer.curriculum.sited import in_own_words
from trainer.pictures import parse
from trainer.web import pictured, wording

APP = Path(__file__).parents[3]
OWN = {"es": {"manija": SiteWord("asa", "asas"), "perforador": SiteWord("maquinista", "maquinistas")}}


@pytest.fixture(scope="module")
def loaded() -> Loaded:
    return load(APP, APP)


def site_of(loaded: Loaded) -> Site:
    assert loaded.site is not None
    return loaded.site


@pytest.fixture(scope="module")
def own(loaded: Loaded) -> Catalogue:
    return curriculum.catalogue(loaded, replace(site_of(loaded), glossary=OWN))


@pytest.fixture(scope="module")
def usual(loaded: Loaded) -> Catalogue:
    return curriculum.catalogue(loaded, replace(site_of(loaded), glossary={}))


def spanish(content: object) -> str:
    return "\n".join(text.get("es", "") for text in wording.texts(content)).casefold()


def test_no_lesson_quiz_sheet_or_competency_says_the_usual_word_any_more(own: Catalogue, usual: Catalogue) -> None:
    for mine, theirs in (
        (own.lessons, usual.lessons), (own.banks, usual.banks), (own.checklists, usual.checklists),
        (own.competencies, usual.competencies),
    ):  # fmt: skip
        assert "manija" not in spanish(mine)
        assert "perforador" not in spanish(mine)
        assert spanish(theirs).count("perforador") == spanish(mine).count("maquinista") > 0


def test_english_ids_and_the_names_of_wordings_stay_as_they_are(own: Catalogue, usual: Catalogue) -> None:
    for name, lesson in own.lessons.items():
        assert lesson.hash == usual.lessons[name].hash
        assert [each.id for each in lesson.scenes] == [each.id for each in usual.lessons[name].scenes]
        mine, theirs = wording.texts(lesson), wording.texts(usual.lessons[name])
        assert [each["en"] for each in mine] == [each["en"] for each in theirs]


def test_another_glossary_is_another_catalogue(own: Catalogue, usual: Catalogue) -> None:
    assert own.hash != usual.hash


def test_without_a_glossary_content_is_the_very_same(loaded: Loaded) -> None:
    say = sayers(loaded.terms, {"es": {"cuña": SiteWord("slip", "slips")}})
    assert in_own_words(loaded.lessons, {}) is loaded.lessons
    assert in_own_words(loaded.lessons, say) is loaded.lessons


def test_screens_and_pictures_say_it_too_and_names_of_people_do_not(loaded: Loaded) -> None:
    there = words.load(APP, APP)
    said = words.in_own_words(there, sayers(loaded.terms, OWN), "own")
    assert said["en"] is there["en"]
    assert "perforador" not in " ".join(said["es"].sentences.values()).casefold()
    assert said["es"].say("shares.person", who="Perforador", weight="30 kg") == "Perforador levanta 30 kg."

    drawing = parse(loaded.asset("assets/pictures/slips-above.svg").read_text("utf-8"))
    picture = Picture("slips-above", show=("person-a-handle-1",))
    alt = pictured.drawn(drawing, loaded.pictures["slips-above"], picture, said["es"]).alt
    assert "manija" not in alt.casefold()
    assert pictured.name_of(loaded.pictures["slips-above"].parts, "handle-2", said["es"]) == "Asa 2, la del medio"


def test_each_usual_word_is_one_that_content_uses(loaded: Loaded) -> None:
    said = spanish([loaded.lessons, loaded.banks, loaded.checklists, loaded.pictures, loaded.competencies])
    for name, term in loaded.terms["es"].words.items():
        assert name in said or term.many in said, name
