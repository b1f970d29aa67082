"""Each check on content: small changes to good content give exactly the lines that changes.yaml names for them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.unit.curriculum.mini import DATA, GOOD, copied, lines_of, loaded_from
from trainer.curriculum.checks import CHECKS, pass_curves
from trainer.curriculum.nodes import Node
from trainer.curriculum.report import Report
from trainer.curriculum.shaping import shape_list
from trainer.curriculum.yaml_reader import read

BANK = "quizzes/grip.yaml"


@dataclass(frozen=True, slots=True)
class Change:
    """One case: what is replaced in which file of the good content, and every line that this gives."""

    file: str
    changes: tuple[tuple[str, ...], ...]
    says: tuple[str, ...]

    @property
    def text(self) -> str:
        """The changed file."""
        text = (GOOD / self.file).read_text("utf-8")
        for old, new in self.changes:
            assert old in text
            text = text.replace(old, new, 1)
        return text


def cases() -> tuple[Change, ...]:
    node, problems = read((DATA / "changes.yaml").read_bytes(), "changes.yaml")
    assert problems == []
    assert node is not None
    return _shaped(node)


def _shaped(node: Node) -> tuple[Change, ...]:
    report = Report("changes.yaml", node)
    made = shape_list(node, Change, report)
    assert report.problems == []
    return made


CASES = cases()


@pytest.mark.parametrize("case", CASES, ids=[f"{each.file}: {each.changes[0][1][:40].strip()}" for each in CASES])
def test_a_small_change_gives_exactly_its_problems(case: Change, tmp_path: Path) -> None:
    assert lines_of(loaded_from(copied(tmp_path, {case.file: case.text}))) == list(case.says)


def bank_of_choices(right: str, longest: str) -> str:
    """The good bank with questions to choose one of four, the right one and the longest each always in one place."""
    text = (
        (GOOD / BANK).read_text("utf-8").replace("kind: put-in-order", "kind: choose-one").replace("steps:", "options:")
    )
    text = re.sub(r"id: (s\d), text", lambda m: f"id: {m[1]}, right: {str(m[1] == right).lower()}, text", text)
    return re.sub(rf"(id: {longest}, .*?text: {{en: )", r"\1all in all and as a rule ", text)


def telling(tmp_path: Path, text: str) -> list[str]:
    lines = lines_of(loaded_from(copied(tmp_path, {BANK: text})))
    return [each for each in lines if "the right option" in each]


def test_a_key_that_is_always_longest_or_in_one_place_is_told(tmp_path: Path) -> None:
    place, length = telling(tmp_path, bank_of_choices(right="s2", longest="s2"))
    assert length == (
        "quizzes/grip.yaml:10: items: the right option is the longest in 10 of 10 items (en) - "
        "shorten it, or make the wrong ones as full"
    )
    assert place == (
        "quizzes/grip.yaml:10: items: the right option is number 2 in 10 of 10 items - put it elsewhere in some"
    )


def test_a_wrong_option_that_is_always_longest_tells_nothing(tmp_path: Path) -> None:
    assert len(telling(tmp_path, bank_of_choices(right="s2", longest="s3"))) == 1


def test_a_lesson_without_scenes_is_refused(tmp_path: Path) -> None:
    name = "content/lessons/grip.yaml"
    text = (GOOD / name).read_text("utf-8").partition("scenes:")[0] + "scenes: []\n"
    lines = lines_of(loaded_from(copied(tmp_path, {name: text})))
    assert f"{name}:6: scenes: no scene - write at least one" in lines


def test_a_circle_of_three_is_told_once(tmp_path: Path) -> None:
    text = "".join(
        f"- {{id: {one}, title: {{en: A, es: A}}, for: [floorhand], needs: {{}}, after: [{other}]}}\n"
        for one, other in (("grip", "set"), ("set", "pull"), ("pull", "grip"))
    )
    (line,) = lines_of(loaded_from(copied(tmp_path, {"content/competencies.yaml": text})))
    assert line == (
        "content/competencies.yaml:1: grip.after: goes round in a circle: grip after set after pull after grip - "
        "take one of them out"
    )


def test_the_pass_curve_of_the_good_bank_is_within_bounds() -> None:
    ((name, curve),) = pass_curves(loaded_from(GOOD))
    assert name == "grip"
    assert curve.is_acceptable


def test_every_check_is_listed_once() -> None:
    assert len(set(CHECKS)) == len(CHECKS)
