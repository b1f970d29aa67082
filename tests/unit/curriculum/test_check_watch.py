"""``check --watch``: the check runs at once, and again for each change, whatever kind of change it is."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from trainer.cli.watching import changes, snapshot, watch


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
    runs: list[str] = []
    lesson = root / "content/lessons/grip.yaml"
    edits: list[Callable[[], object]] = [lambda: None, lambda: change(lesson, "id: b\n"), lambda: None, lesson.unlink]

    def pause(_: float) -> None:
        edits.pop(0)()

    watched = watch(root, lambda: runs.append("checked"), pause)
    assert next(watched) == 0
    assert runs == ["checked"]
    assert next(watched) == 1
    assert next(watched) == 1
    assert len(runs) == 3
    assert edits == []
