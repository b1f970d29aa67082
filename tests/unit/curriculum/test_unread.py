"""Files that nobody reads are told by name: a wrong ending, a wrong folder, a translation of nothing."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.curriculum.mini import copied, lines_of, loaded_from

MOVE = "move it: lessons stand in content/lessons, sheets in content/checklists, quizzes in quizzes"


@pytest.mark.parametrize(
    ("name", "todo"),
    [
        ("content/lessons/ice.yml", "rename it to ice.yaml"),
        ("content/lessons/ice.yaml.txt", "rename it to ice.yaml"),
        ("content/checklists/ice.YAML", "rename it to ice.yaml"),
        ("quizzes/ice.yml.txt", "rename it to ice.yaml"),
        ("assets/pictures/ice.svg.txt", "rename it to ice.svg"),
        ("content/ice.yaml", MOVE),
        ("content/quizzes/ice.yaml", MOVE),
        ("content/lessons/cold/ice.yaml", MOVE),
        ("content/lessons/ice.svg", "move it: drawings stand in assets/pictures"),
        ("content/lessons/ice.pt.yaml", "write ice.yaml, which it translates, beside it, or take it away"),
    ],
)
def test_content_that_nobody_reads_is_refused_with_what_to_do(name: str, todo: str, tmp_path: Path) -> None:
    loaded = loaded_from(copied(tmp_path, {name: "id: ice\n"}))
    assert lines_of(loaded) == [f"{name}:1: file: nobody reads this file - {todo}"]


@pytest.mark.parametrize(
    ("name", "todo"),
    [
        ("content/lessons/ice.docx", "take it away, or give it a name that is read"),
        ("assets/pictures/ice.png", "save the drawing as plain SVG, NAME.svg, or take the file away"),
    ],
)
def test_what_is_no_content_is_only_warned_of(name: str, todo: str, tmp_path: Path) -> None:
    loaded = loaded_from(copied(tmp_path, {name: "x"}))
    assert lines_of(loaded) == [f"warning: {name}:1: file: nobody reads this file - {todo}"]


@pytest.mark.parametrize(
    "name",
    ["content/lessons/.ice.yaml.swp", "quizzes/grip.yaml~", "content/.cache/a.yaml", "content/NOTES.md", "notes.yaml"],
)
def test_what_editors_leave_and_notes_are_left_alone(name: str, tmp_path: Path) -> None:
    assert lines_of(loaded_from(copied(tmp_path, {name: "x"}))) == []


def test_a_translation_beside_its_file_is_read(tmp_path: Path) -> None:
    assert loaded_from(copied(tmp_path, {"content/lessons/grip.pt.yaml": "id: grip\n"})).unread == ()


def test_a_drawing_under_a_name_of_its_own_is_told_which_one_was_meant(tmp_path: Path) -> None:
    root = copied(tmp_path)
    (root / "assets/pictures/bar.svg").rename(root / "assets/pictures/bars.svg")
    assert lines_of(loaded_from(root))[0] == (
        "assets/pictures/bars.svg:1: file: content/pictures.yaml does not name it - rename it to bar.svg"
    )
