"""A third language by files alone: offered where the site has it, played in it, English and a mark where it lacks."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.learning import Taps, on_page, open_page, page_words, press, rig_at, tapping
from tests.app.test_tryout import APP, BANK_FILE, LESSON_FILE, LISTED, NAME
from trainer.actions import people
from trainer.actions.desk import Desk
from trainer.curriculum import load
from trainer.found import found_in

BESIDE = (LESSON_FILE.replace(".yaml", ".pt.yaml"), BANK_FILE.replace(".yaml", ".pt.yaml"))
TWO, THREE = "languages: [en, es]", "languages: [en, es, pt]"
FIRST = "Antes de ir ao piso"


def dropped(folder: Path, languages: str, *more: tuple[str, str]) -> Path:
    """A content folder with one subject in Portuguese too, on a site with these languages, and ``more`` files."""
    root = folder / "root"
    for name in (LESSON_FILE, BANK_FILE, *BESIDE):
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(APP / name, root / name)
    site = (APP / "content/site.yaml").read_text("utf-8")
    assert TWO in site
    texts = [("content/competencies.yaml", LISTED), ("content/site.yaml", site.replace(TWO, languages, 1)), *more]
    for name, text in texts:
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_text(text, encoding="utf-8")
    return root


@pytest.fixture
def root(tmp_path: Path, data: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """That content, on a site that has Portuguese; ``data`` comes first, it forgets any other root."""
    folder = dropped(data.parent, THREE)
    monkeypatch.setenv("TRAINER_ROOT", str(folder))
    return folder


@pytest.fixture
def site(root: Path, data: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    """A rig on a known day."""
    with rig_at(data, monkeypatch) as desk:
        yield desk


@pytest.fixture
def taps(monkeypatch: pytest.MonkeyPatch) -> Taps:
    """Taps without a browser."""
    return tapping(monkeypatch)


def in_portuguese(app: AppTest, site: Desk, page: str, **steps: str) -> AppTest:
    """``page`` as ray sees it once he has chosen the language."""
    open_page(app, site, "ray", page, **steps)
    return press(app, "speak-pt")


def test_the_bar_offers_the_languages_of_the_site(app: AppTest, site: Desk) -> None:
    open_page(app, site, "ray", "card")

    assert {"speak-es", "speak-pt"} <= on_page(app)
    assert "Português" in page_words(app)


def test_a_site_without_it_does_not_offer_it(
    app: AppTest, tmp_path: Path, data: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TRAINER_ROOT", str(dropped(tmp_path, TWO)))
    with rig_at(data, monkeypatch) as desk:
        open_page(app, desk, "ray", "card")

        assert "speak-es" in on_page(app)
        assert "speak-pt" not in on_page(app)


def test_who_has_the_language_is_met_in_it(app: AppTest, site: Desk) -> None:
    people.rename(site, "ray", "Ray Dunn", "pt")
    open_page(app, site, "ray", "card")

    assert "Meu cartão" in page_words(app)
    assert "Hoje, " in page_words(app)
    assert "speak-en" in on_page(app)


def test_a_lesson_is_played_in_it(app: AppTest, site: Desk, taps: Taps) -> None:
    in_portuguese(app, site, "lesson", lesson=NAME)

    said = page_words(app)
    assert app.title[0].value == FIRST
    assert "Escolha primeiro" in said
    assert "Ainda não traduzido" not in said
    choices = {each.text: each.handle for each in taps.drawn[-1][0].choices}
    taps.waiting.append(choices["Passa fita em volta do anel"])
    app.run()
    press(app, "decide-")
    assert "A fita enrola, e o anel engancha na barra" in page_words(app)


def test_every_sentence_of_the_lesson_is_there_in_it(site: Desk) -> None:
    lesson = site.catalogue.lessons[NAME]

    assert [each.id for each in lesson.scenes if "pt" not in each.title or "pt" not in each.text] == []


def test_what_is_not_translated_is_english_and_says_so(app: AppTest, site: Desk, taps: Taps) -> None:
    assert taps.drawn == []
    in_portuguese(app, site, "quiz", quiz=NAME)
    press(app, "start")
    bank = site.catalogue.banks[NAME]
    seen = set()
    for _ in range(bank.blueprint.items):
        _, _, about = taps.drawn[-1]
        item = next(each for each in bank.items if about["ask"] in each.text.values())
        is_there = "pt" in item.text
        seen.add(is_there)
        assert ("Ainda não traduzido" in page_words(app)) is not is_there
        assert about["ask"] == item.text["pt" if is_there else "en"]
        taps.waiting.append(answer_to(taps))
        app.run()
        press(app, "save-")
        if any(key.startswith("next-") for key in on_page(app)):
            press(app, "next-")

    assert False in seen


def answer_to(taps: Taps) -> tuple[str, ...] | str:
    """Some answer to the task on screen that can be saved."""
    task = taps.drawn[-1][0]
    handles = tuple(each.handle for each in task.choices)
    return handles if task.kind == "put-in-order" else handles[:1]


def test_check_counts_what_the_language_lacks_and_refuses_nothing(root: Path) -> None:
    found = found_in(load(root, APP))

    assert [str(each) for each in found if not each.is_warning] == []
    lacking = {each.file: each.what for each in found if "are not in pt" in each.what or "not translated" in each.what}
    assert "content/words/pt.yaml" in lacking
    assert BANK_FILE in lacking


def test_a_language_that_the_site_does_not_have_is_nobodys_business(tmp_path: Path) -> None:
    found = found_in(load(dropped(tmp_path, TWO), APP))

    assert [str(each) for each in found if "pt" in each.file or "in pt" in each.what] == []


def test_once_the_site_calls_it_complete_each_lacking_sentence_is_refused(tmp_path: Path) -> None:
    root = dropped(tmp_path, THREE)
    site = root / "content/site.yaml"
    site.write_text(site.read_text("utf-8").replace("complete: [en, es]", "complete: [en, es, pt]"), encoding="utf-8")
    refused = [each for each in found_in(load(root, APP)) if not each.is_warning]

    assert {each.file for each in refused} >= {BANK_FILE, "content/words/pt.yaml"}
    assert any(each.what == "not in pt, which site.yaml calls complete" for each in refused)


FRENCH = (
    ("content/words/fr.yaml", "common: {language-name: Français, not-translated: Pas encore traduit}\n"),
    (LESSON_FILE.replace(".yaml", ".fr.yaml"), f"id: {NAME}\nscenes:\n  - {{id: ring, title: Avant de sortir}}\n"),
)


def test_a_language_that_nobody_thought_of_needs_two_files(
    app: AppTest, tmp_path: Path, data: Path, monkeypatch: pytest.MonkeyPatch, taps: Taps
) -> None:
    monkeypatch.setenv("TRAINER_ROOT", str(dropped(tmp_path, "languages: [en, es, fr]", *FRENCH)))
    with rig_at(data, monkeypatch) as desk:
        open_page(app, desk, "bill", "lesson", lesson=NAME)
        press(app, "speak-fr")

        assert app.title[0].value == "Avant de sortir"
        assert "Pas encore traduit" in page_words(app)
        assert taps.drawn[-1][2]["ask"] == "What do you do?"


def test_a_language_without_words_is_told(tmp_path: Path) -> None:
    root = dropped(tmp_path, "languages: [en, es, fr]")
    (line,) = [str(each) for each in found_in(load(root, APP)) if each.where == "languages"]

    assert line.startswith("content/site.yaml:")
    assert 'there are no words in "fr" - write content/words/fr.yaml' in line
