"""``check``: where problems go, what the exit code says, one file alone, and the app's own content."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import pytest

from tests.unit.curriculum.mini import GOOD, copied
from trainer.cli import check
from trainer.curriculum import load
from trainer.settings import Settings

APP = Path(__file__).parents[3]
NAMES = ("floorhand", "motorhand", "derrickhand", "assistant-driller", "driller", "toolpusher", "coordinator")


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    return Settings(tmp_path / "data", None, APP, APP)


def good_root(tmp_path: Path, files: dict[str, str] | None = None) -> Path:
    """The good content without the number to work out, for which the app would need the tests' own functions."""
    text = (GOOD / "content/lessons/grip.yaml").read_text("utf-8")
    before, _, rest = text.partition("    task:\n      kind: work-out\n")
    lesson = before.rpartition("  - id: recall-3")[0] + "  - id: floor" + rest.partition("  - id: floor")[2]
    return copied(tmp_path, {"content/lessons/grip.yaml": lesson, **(files or {})})


def test_good_content_exits_with_0_and_tells_its_figures(
    tmp_path: Path, settings: Settings, capsys: pytest.CaptureFixture[str]
) -> None:
    assert check.run(good_root(tmp_path), settings) == 0
    out, err = capsys.readouterr()
    assert err == (
        'warning: content/lessons/grip.yaml:6: scenes: 2 scenes are "recall", 3 wanted - '
        "add recall questions with reasons\n"
    )
    looked_at, lesson, curve, found = out.splitlines()
    drawings = len(list((settings.app_root / "assets" / "pictures").glob("*.svg"))) + 1
    assert looked_at == f"competencies 2, lessons 1, banks 1, checklists 1, pictures {drawings}"
    assert lesson == "Lesson grip: 6 scenes, 2 tasks on drawings, about 1.1 minutes."
    assert curve == "grip: chance to pass: blind guesser 0.00000, knows half 0.040, competent hand 0.946"
    assert found == "problems 0, warnings 1"


def test_a_problem_goes_to_standard_error_and_exits_with_1(
    tmp_path: Path, settings: Settings, capsys: pytest.CaptureFixture[str]
) -> None:
    root = good_root(tmp_path, {"content/site.yaml": "positions: {}\n"})
    assert check.run(root, settings) == 1
    out, err = capsys.readouterr()
    assert 'content/site.yaml:1: file: "crews" is missing - add it, e.g. crews: {name: ...}' in err.splitlines()
    assert "problems 1, " in out


def test_only_the_problems_of_a_single_file_are_told(
    tmp_path: Path, settings: Settings, capsys: pytest.CaptureFixture[str]
) -> None:
    root = good_root(tmp_path, {"content/site.yaml": "positions: {}\n"})
    assert check.run(root / "quizzes" / "grip.yaml", settings) == 0
    assert check.run(root / "content" / "site.yaml", settings) == 1
    assert all(line.startswith("content/site.yaml:") for line in capsys.readouterr().err.splitlines())


def test_a_path_without_content_is_wrong_usage(
    tmp_path: Path, settings: Settings, capsys: pytest.CaptureFixture[str]
) -> None:
    assert check.run(tmp_path, settings) == 2
    assert check.run(tmp_path / "nothing.yaml", settings) == 2
    assert len(capsys.readouterr().err.splitlines()) == 2


def test_without_a_path_the_settings_name_the_folder(
    tmp_path: Path, settings: Settings, capsys: pytest.CaptureFixture[str]
) -> None:
    assert check.run(None, dataclasses.replace(settings, root=good_root(tmp_path))) == 0
    assert "competencies 2" in capsys.readouterr().out


def test_the_apps_own_content_has_no_problem() -> None:
    assert [str(each) for each in check.found_in(load(APP, APP)) if not each.is_warning] == []


def test_the_apps_own_site_is_a_template_with_every_position_and_a_crew() -> None:
    site = load(APP, APP).site
    assert site is not None
    assert set(NAMES) <= set(site.positions)
    assert len(site.crews) >= 1
    toolpusher = site.positions["toolpusher"]
    assert (toolpusher.role, toolpusher.observes, toolpusher.dispenses) == ("driller", True, True)
    assert site.positions["coordinator"].role == "coordinator"
