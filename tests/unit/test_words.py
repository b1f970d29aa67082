"""On-screen words: places, counting, errors, languages, and that the program's own words files fit it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from trainer import words
from trainer.curriculum import load
from trainer.errors import BadContent, BadInput, MechanicsRangeError
from trainer.words import Words

APP = Path(__file__).parents[2]

EN = {
    "hello": "Hello {name}",
    "only-english": "Only here",
    "sets.one": "{count} set in {crew}",
    "sets.other": "{count} sets in {crew}",
    "error.too-late": "Too late by {days} days.",
    "error.other": "Something went wrong ({code}).",
}
ENGLISH = Words("en", EN, EN)
SPANISH = Words("es", {"hello": "Hola {name}", "empty": ""}, EN)


def put(root: Path, **files: str) -> Path:
    folder = root / words.FOLDER
    folder.mkdir(parents=True)
    for language, text in files.items():
        (folder / f"{language}.yaml").write_text(text, "utf-8")
    return root


def test_a_sentence_is_said_with_its_places_filled() -> None:
    assert ENGLISH.say("hello", name="{name} {x.y}") == "Hello {name} {x.y}"
    assert SPANISH.say("hello", name=7) == "Hola 7"


def test_a_sentence_that_a_language_lacks_is_english() -> None:
    assert SPANISH.say("only-english") == "Only here"


def test_a_missing_key_or_value_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        ENGLISH.say("nowhere")
    with pytest.raises(KeyError):
        ENGLISH.say("hello")


@pytest.mark.parametrize(("n", "said"), [(0, "0 sets in A"), (1, "1 set in A"), (2, "2 sets in A")])
def test_one_is_counted_otherwise_than_the_rest(n: int, said: str) -> None:
    assert SPANISH.count("sets", n, crew="A") == said


def test_an_error_is_said_by_its_code_and_a_strange_one_in_general() -> None:
    assert SPANISH.error(BadInput("too-late", days=3)) == "Too late by 3 days."
    assert SPANISH.error(BadInput("never-heard-of", days=3)) == "Something went wrong (never-heard-of)."


def test_content_is_picked_in_the_language_or_in_english() -> None:
    assert SPANISH.pick({"en": "Slips", "es": "Cuñas"}) == "Cuñas"
    assert SPANISH.pick({"en": "Slips"}) == "Slips"


def test_nested_keys_are_joined_and_stay_as_written(tmp_path: Path) -> None:
    root = put(tmp_path, en="a:\n  no: NO\n  on: {12:30: 1.10}\n")
    assert words.load(root, root)["en"].sentences == {"a.no": "NO", "a.on.12:30": "1.10"}


def test_a_folder_changes_single_sentences_and_adds_languages(tmp_path: Path) -> None:
    app = put(tmp_path / "app", en="a: A\nb: B\n", es="a: Á\n")
    root = put(tmp_path / "root", en="b: Own\n", pt="a: Ã\n")
    loaded = words.load(root, app)
    assert list(loaded) == ["en", "es", "pt"]
    assert [loaded["pt"].say(key) for key in ("a", "b")] == ["Ã", "Own"]
    assert loaded["es"].say("a") == "Á"


def test_words_that_cannot_be_read_are_refused_with_every_problem(tmp_path: Path) -> None:
    root = put(tmp_path, en="a: A\na: B\n", es="- a\n")
    with pytest.raises(BadContent) as refused:
        words.load(root, root)
    assert [str(each) for each in refused.value.problems] == [
        'content/words/en.yaml:2: a: "a" stands here twice, first in line 1 - keep one of the two',
        "content/words/es.yaml:1: file: no sentence - write one in quotes, or keys below it",
    ]


def test_what_a_language_lacks_is_one_warning_unless_it_is_called_complete(tmp_path: Path) -> None:
    root = put(tmp_path, en="a: A\nb: B\nc: C\n", pt="a: A\n")
    (warning,) = words.problems(root, root)
    assert warning.is_warning
    assert str(warning) == (
        "content/words/pt.yaml:1: file: 2 of 3 sentences are not translated - shown in English until they are"
    )
    assert [each.where for each in words.problems(root, root, ("pt",))] == ["b", "c"]
    assert words.problems(root, root, offered=("en",)) == ()
    assert words.problems(root, root, offered=("en", "pt")) == (warning,)


def test_the_programs_own_words_fit_each_other() -> None:
    same = {language: terms.same for language, terms in load(APP, APP).terms.items()}
    complete = ("en", "es")
    assert [str(each) for each in words.problems(APP, APP, complete, same, complete)] == []


def test_every_key_that_the_program_spells_out_has_a_sentence() -> None:
    english = words.load(APP, APP)["en"]
    said = re.compile(r"""\.(say|count)\(\s*"([a-z0-9_.-]+)"[,)]""")
    wanted = {
        (str(path.relative_to(APP)), f"{key}.other" if how == "count" else key)
        for path in (APP / "trainer").rglob("*.py")
        for how, key in said.findall(path.read_text("utf-8"))
    }
    assert {(path, key) for path, key in wanted if not english.has(key)} == set()


def test_every_error_code_that_the_program_raises_has_a_sentence() -> None:
    english = words.load(APP, APP)["en"]
    raised = re.compile(
        r"(?:TrainerError|Refused|BadInput|NotFound|Store(?:Error|Missing|Exists|Newer|Damaged|Unavailable))"
        r'\(\s*"([a-z-]+)"'
    )
    codes = {
        (str(path.relative_to(APP)), code)
        for path in (APP / "trainer").rglob("*.py")
        for code in raised.findall(path.read_text("utf-8"))
        if path.name != "errors.py"
    }
    assert {(path, code) for path, code in codes if not english.has(f"error.{code}")} == set()
    assert "{allowed}" in english.say("error.mechanics-range", argument="a", value="{allowed}")
    said = english.error(MechanicsRangeError("od", 0, "above 0"))
    assert said.endswith("(od = 0). Turn it back, or ask your coordinator.")
