"""Each file of tests/data/content/broken, in its place in the good content, gives exactly the lines that it names."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.curriculum.mini import DATA, copied, lines_of, loaded_from

BROKEN = sorted((DATA / "broken").glob("*.yaml"))


@pytest.mark.parametrize("file", BROKEN, ids=[each.stem for each in BROKEN])
def test_a_broken_file_gives_exactly_its_problems(file: Path, tmp_path: Path) -> None:
    text = file.read_text("utf-8")
    comments = [line for line in text.splitlines() if line.startswith("# ")]
    place = next(line.removeprefix("# as: ") for line in comments if line.startswith("# as: "))
    says = [line.removeprefix("# says: ") for line in comments if line.startswith("# says: ")]
    assert says != []
    assert lines_of(loaded_from(copied(tmp_path, {place: text}))) == says


def test_the_good_content_has_no_problem(tmp_path: Path) -> None:
    assert lines_of(loaded_from(copied(tmp_path))) == []
