"""``check --watch``: the check runs at once, and again for each change, whatever kind of change it is."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.unit.curriculum.mini import copied
from trainer.cli import check
from trainer.cli.watching import changes, snapshot, watch
from trainer.settings import Settings

APP = Path(__file__).parents[3]


@pytest.fixture
def root(tmp_path: Path) -> Path:
    (tmp_path / "content/lessons").mkdir(parents=True)
    (tmp_path / "content/lessons/grip.yaml").write_text("id: grip\n", encoding="utf-8")
    return tmp_path


def change(file: Path, written: str) -> None:
    """Write ``file`` with a time of its own, so that no clock decides the test."""
    was = file.stat().st_mtime_ns if file.exists() else 0
    file.write_text(written, encoding="utf-8")
    os.utime(file, ns=(was + 1, was + 1))


def test_a_file_that_is_new_changed_or_gone_is_a_change(root: Path) -> None:
    before, lesson, other = snapshot(root), root / "content/lessons/grip.yaml", root / "content/site.yaml"
    change(lesson, "id: grap\n")
    change(other, "crews: {}\n")
    assert changes(before, snapshot(root)) == (lesson, other)
    between = snapshot(root)
    lesson.unlink()
    assert changes(between, snapshot(root)) == (lesson,)


def test_what_lies_outside_the_content_is_no_change(root: Path) -> None:
    before = snapshot(root)
    (root / "notes.txt").write_text("x", encoding="utf-8")
    assert changes(before, snapshot(root)) == ()


def test_the_check_runs_at_once_and_once_for_each_change(root: Path) -> None:
    runs: list[tuple[Path, ...] | None] = []
    lesson = root / "content/lessons/grip.yaml"
    edits: list[Callable[[], object]] = [lambda: None, lambda: change(lesson, "id: b\n"), lambda: None, lesson.unlink]

    def pause(_: float) -> None:
        edits.pop(0)()

    watched = watch(root, runs.append, pause)
    assert next(watched) == 0
    assert runs == [None]
    assert next(watched) == 1
    assert next(watched) == 1
    assert runs == [None, (lesson,), (lesson,)]
    assert edits == []


def test_only_what_changed_is_told_again_then_the_problems_then_the_time(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = copied(tmp_path)
    changed = (folder / "quizzes/grip.yaml",)

    def watched(_: Path, look: Callable[[tuple[Path, ...] | None], object]) -> Iterator[int]:
        look(changed)
        yield 1

    monkeypatch.setattr(check, "watch", watched)
    monkeypatch.setenv("TRAINER_NOW", "2026-01-05T14:03:22+00:00")
    assert check.keep_watching(folder, Settings(tmp_path / "data", None, folder, APP)) == 0
    looked_in, curve, found, waits = capsys.readouterr().out.splitlines()
    assert (looked_in, curve[:22]) == (f"Looked at {folder}", "grip: chance to pass: ")
    assert found.startswith("problems ")
    assert re.fullmatch(rf"-- \d\d:\d\d:22 watching {folder}, Ctrl\+C stops", waits)
