"""``check``: where problems go, what the exit code says, one file alone, and the app's own content."""

from __future__ import annotations

import dataclasses
from argparse import Namespace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests.unit.curriculum.mini import GOOD, SHORT, copied
from trainer.cli import check
from trainer.cli.console import Console
from trainer.cli.demo import demo
from trainer.curriculum import load
from trainer.settings import Settings

APP = Path(__file__).parents[3]
NAMES = ("floorhand", "motorhand", "derrickhand", "assistant-driller", "driller", "toolpusher", "coordinator")


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    return Settings(tmp_path / "data", None, APP, APP)


RECALL = """\
  - id: recall-3
    part: recall
    title: {en: Recall, es: Recordar}
    text: {en: The bar is wet., es: La barra está mojada.}
    ask: {en: What now?, es: ¿Y ahora?}
    task:
      kind: choose-one
      options:
        - {id: dry, right: true, text: {en: Dry it, es: Secarla}, why: {en: It holds., es: Agarra.}}
        - {id: go, right: false, text: {en: Go on, es: Seguir}, why: {en: It slips., es: Resbala.}}
"""


def good_root(tmp_path: Path, files: dict[str, str] | None = None) -> Path:
    """The good content with a choice for the number to work out, which the app needs the tests' own functions for."""
    text = (GOOD / "content/lessons/grip.yaml").read_text("utf-8")
    before, _, rest = text.partition("  - id: recall-3")
    lesson = f"{before}{RECALL}  - id: floor{rest.partition('  - id: floor')[2]}"
    return copied(tmp_path, {"content/lessons/grip.yaml": lesson, **(files or {})})


def test_good_content_exits_with_0_and_tells_its_figures(
    tmp_path: Path, settings: Settings, capsys: pytest.CaptureFixture[str]
) -> None:
    root = good_root(tmp_path)
    assert check.run(root, settings) == 0
    out, err = capsys.readouterr()
    assert err.startswith(SHORT)
    looked_in, looked_at, lesson, curve, found = out.splitlines()
    drawings = len(list((settings.app_root / "assets" / "pictures").glob("*.svg"))) + 1
    assert looked_in == f"Looked at {root}"
    assert looked_at == f"competencies 2, lessons 1, banks 1, checklists 1, pictures {drawings}"
    assert lesson == "Lesson grip: 7 scenes, 2 tasks on drawings, about 1.2 minutes."
    assert curve == "grip: chance to pass: blind guesser 0.00000, knows half 0.040, competent hand 0.946 - fair"
    assert found == f"problems 0, warnings {len(err.splitlines())}"


def test_a_bank_that_lets_a_guesser_through_is_called_not_fair(
    tmp_path: Path, settings: Settings, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (GOOD / "quizzes/grip.yaml").read_text("utf-8").replace("cut: 7", "cut: 4")
    assert check.run(good_root(tmp_path, {"quizzes/grip.yaml": text}), settings) == 1
    assert "competent hand 0.990 - not fair" in capsys.readouterr().out


def test_a_problem_goes_to_standard_error_and_exits_with_1(
    tmp_path: Path, settings: Settings, capsys: pytest.CaptureFixture[str]
) -> None:
    root = good_root(tmp_path, {"content/site.yaml": "positions: {}\n"})
    assert check.run(root, settings) == 1
    out, err = capsys.readouterr()
    assert 'content/site.yaml:1: file: "crews" is missing - add it, e.g. crews: {name: ...}' in err.splitlines()
    assert out.splitlines()[-1].startswith("problems 1, ")


def test_only_the_problems_of_a_single_file_are_told(
    tmp_path: Path, settings: Settings, capsys: pytest.CaptureFixture[str]
) -> None:
    root = good_root(tmp_path, {"content/site.yaml": "positions: {}\n"})
    assert check.run(root / "quizzes" / "grip.yaml", settings) == 0
    assert check.run(root / "content" / "site.yaml", settings) == 1
    out, err = capsys.readouterr()
    assert all(line.startswith("content/site.yaml:") for line in err.splitlines())
    assert "Lesson" not in out
    assert out.count("chance to pass") == 1


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


def test_a_folder_without_content_in_the_settings_is_told_by_its_name(
    tmp_path: Path, settings: Settings, capsys: pytest.CaptureFixture[str]
) -> None:
    assert check.run(None, dataclasses.replace(settings, root=tmp_path / "mine")) == 2
    assert capsys.readouterr().err == (
        f"{tmp_path}/mine:1: file: no content here, where TRAINER_ROOT says - "
        "set TRAINER_ROOT to the folder that holds your content/, or take it away\n"
    )


def test_the_made_up_rig_is_not_started_on_broken_content(
    tmp_path: Path, settings: Settings, capsys: pytest.CaptureFixture[str]
) -> None:
    root = good_root(tmp_path, {"content/lessons/grip.yaml": "id: [grip\n"})
    console = Console(dataclasses.replace(settings, root=root), datetime(2026, 1, 5, 12, tzinfo=UTC))
    assert demo(Namespace(build_only=True, port=1), console) == 1
    first, *_, last = capsys.readouterr().err.splitlines()
    assert first.startswith("content/lessons/grip.yaml:1: file: a [ is opened and not closed - ")
    assert last == "Nothing was started: mend these lines first."


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
