"""content/WRITING.md says what works: its example is built, checked and played, and each message in it is given."""

from __future__ import annotations

import re
import shutil
from collections.abc import Mapping
from pathlib import Path

import pytest

from trainer.core.forms import draw
from trainer.core.marking import right_answer
from trainer.core.passcurve import curve
from trainer.core.playing import ONWARD, Play, now_at, take
from trainer.core.playing import Path as Way
from trainer.core.workings import FUNCTIONS
from trainer.curriculum import Loaded, load
from trainer.found import found_in
from trainer.pictures import LIGHT
from trainer.pictures.checks import ELEMENTS

APP = Path(__file__).parents[3]
PAGE = (APP / "content/WRITING.md").read_text("utf-8")
FILES = dict(re.findall(r"^File `([^`]+)`:\n\n```\w+\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL))
ADDED = dict(re.findall(r"^Add to `([^`]+)`:\n\n```\w+\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL))
MISTAKES = re.findall(r"In `([^`]+)`, `([^`]+)` is `([^`]+)`:\n\n```text\n(.*?)\n```", PAGE)
SITE = "content/site.yaml"


def root_of(folder: Path, changed: Mapping[str, str]) -> Path:
    """A content folder with nothing but the example; ``changed`` files in place of its own."""
    root = folder / "root"
    for name, text in {**ADDED, **FILES, SITE: (APP / SITE).read_text("utf-8"), **changed}.items():
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_text(text, encoding="utf-8")
    return root


def lines(root: Path) -> list[str]:
    """What ``check`` says of the example's files; the app's own words and drawings lie beside them."""
    mine = {*FILES, *ADDED}
    return [
        f"{'warning: ' if each.is_warning else ''}{each}" for each in found_in(load(root, APP)) if each.file in mine
    ]


@pytest.fixture(scope="module")
def example(tmp_path_factory: pytest.TempPathFactory) -> Loaded:
    """The example as it is read."""
    return load(root_of(tmp_path_factory.mktemp("writing"), {}), APP)


def test_the_page_holds_a_whole_example() -> None:
    assert set(ADDED) == {"content/competencies.yaml", "content/pictures.yaml"}
    assert set(FILES) == {
        "assets/pictures/glove.svg", "content/lessons/gloves.yaml", "quizzes/gloves.yaml",
        "content/checklists/gloves.yaml", "content/lessons/gloves.pt.yaml",
    }  # fmt: skip
    assert len(MISTAKES) >= 7


def test_check_finds_nothing_wrong_with_it_but_that_it_is_short(tmp_path: Path) -> None:
    (short,) = lines(root_of(tmp_path, {}))
    assert short.startswith("warning: content/lessons/gloves.yaml:6: minutes: 5 minutes, but its words and tasks")


def test_it_stands_beside_the_content_that_is_there(tmp_path: Path) -> None:
    for folder in ("content", "quizzes", "assets"):
        shutil.copytree(APP / folder, tmp_path / "root" / folder)
    added = {name: (APP / name).read_text("utf-8").rstrip("\n") + "\n\n" + text for name, text in ADDED.items()}
    root = root_of(tmp_path, added)

    assert [each for each in lines(root) if "glove" in each and not each.startswith("warning: ")] == []
    assert "gloves" in load(root, APP).banks


def test_its_lesson_can_be_played_to_the_end(example: Loaded) -> None:
    play, path, seen = Play(example.lessons["gloves"], "any", FUNCTIONS), Way(), []
    while (scene := now_at(play, path)) is not None:
        seen.append(scene.id)
        answer = right_answer(scene.task, play.parameters(scene), FUNCTIONS) if scene.task else ONWARD
        path, step = take(play, path, answer)
        assert step.right

    assert seen == [each.id for each in play.lesson.scenes]


def test_a_form_of_its_quiz_can_be_drawn_and_is_fair(example: Loaded) -> None:
    bank = example.banks["gloves"]

    assert len(draw(bank, "any", {}, {}).items) == bank.blueprint.items
    assert curve(bank).is_acceptable


def test_its_third_language_is_there_in_part(example: Loaded) -> None:
    first, second = example.lessons["gloves"].scenes[:2]

    assert first.title["pt"] == "Graxa nas palmas"
    assert "pt" not in second.title


def test_its_table_of_colours_names_each_colour_once() -> None:
    table = PAGE.partition("| colour | for |\n")[2].partition("\n\n")[0]
    names = [name for row in table.splitlines() for name in re.findall(r"`([a-z-]+)`", row.split("|")[1])]

    assert sorted(names) == sorted(LIGHT)


def test_it_names_every_shape_that_may_be_drawn() -> None:
    said = PAGE.partition("- Shapes are ")[2].partition("\n- ")[0]

    assert set(re.findall(r"`([a-z]+)`", said)) & ELEMENTS == ELEMENTS - {"svg", "defs", "use", "pattern", "clipPath"}


@pytest.mark.parametrize(("file", "right", "wrong", "says"), MISTAKES, ids=[says[:60] for *_, says in MISTAKES])
def test_a_mistake_on_the_page_is_told_as_the_page_says(
    tmp_path: Path, file: str, right: str, wrong: str, says: str
) -> None:
    assert right in FILES[file]
    root = root_of(tmp_path, {file: FILES[file].replace(right, wrong, 1)})

    assert says in lines(root)
