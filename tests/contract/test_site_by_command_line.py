"""The site's own figures by the command line: out to a file, changed, tried and taken in again."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from tests.contract.shell import RECORDS, Shell
from trainer import bootstrap

APP = Path(bootstrap.__file__).resolve().parent.parent
NOW = "2026-03-02T12:00:00Z"
ROSTER = """hand_id,name,position,crew,joined,left,language
h1,Ann Webb,floorhand,day-1,2026-02-20,,en
h2,José Ruiz,derrickhand,night-1,2026-02-20,,es
"""


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Shell:
    """A site with two hands, on the app's own competencies and figures."""
    folder = tmp_path_factory.mktemp("site")
    (folder / "root" / "content").mkdir(parents=True)
    for name in ("competencies.yaml", "site.yaml"):
        shutil.copy(APP / "content" / name, folder / "root" / "content")
    (folder / "root" / "roster.csv").write_text(ROSTER, encoding="utf-8")
    shell = Shell(folder / "root", folder / "data")
    assert shell.run(NOW, "init", "--site", "rig-7", "--tz", "America/Chicago", typed="739154\n").code == 0
    assert shell.run(NOW, "roster", "roster.csv").code == 0
    return shell


@pytest.fixture
def shell(made: Shell, tmp_path: Path) -> Shell:
    """A copy of it."""
    return made.copy(tmp_path / "data")


def exported(shell: Shell) -> str:
    said = shell.run(NOW, "site", "--export", "-")
    assert (said.code, said.err) == (0, "")
    return said.out


def matrix(shell: Shell) -> list[dict[str, str]]:
    found: list[dict[str, str]] = json.loads(shell.run(NOW, "matrix", "--format", "json", "--out", "-").out)
    return found


def site_records(shell: Shell) -> list[dict[str, object]]:
    lines = (json.loads(line) for line in shell.run(NOW, *RECORDS).out.splitlines())
    return [each for each in lines if each["kind"] == "site"]


def file(tmp_path: Path, text: str) -> str:
    path = tmp_path / "mine.yaml"
    path.write_text(text, encoding="utf-8")
    return str(path)


def test_what_was_written_out_changes_nothing_when_it_comes_back(shell: Shell, tmp_path: Path) -> None:
    path = tmp_path / "out.yaml"
    assert shell.run(NOW, "site", "--export", str(path)).code == 0
    assert path.read_text(encoding="utf-8") == exported(shell)
    said = shell.run(NOW, "site", "--import", str(path))
    assert (said.code, said.err) == (0, "")
    assert "in force already" in said.out
    assert len(site_records(shell)) == 1


def test_a_try_tells_and_writes_nothing_and_the_import_is_in_force(shell: Shell, tmp_path: Path) -> None:
    text = exported(shell)
    assert text.count("on: 14") == 4
    path = file(
        tmp_path, text.replace("outside_good_for: P90D", "outside_good_for: P30D").replace("on: 14", "on: 7", 1)
    )
    was = matrix(shell)

    tried = shell.run(NOW, "site", "--import", path, "--try")
    assert (tried.code, tried.err) == (0, "")
    assert "outside_good_for: P90D -> P30D" in tried.out.splitlines()
    assert "crews.day-1.on: 14 -> 7" in tried.out.splitlines()
    assert (matrix(shell), len(site_records(shell))) == (was, 1)

    taken = shell.run(NOW, "site", "--import", path)
    assert (taken.code, taken.err) == (0, "")
    assert taken.out.splitlines()[:-1] == tried.out.splitlines()[:-1]
    now = matrix(shell)
    key = [(row["hand_id"], row["competency"]) for row in was]
    assert key == [(row["hand_id"], row["competency"]) for row in now]
    told = ("standing", "due", "do_by", "late")
    differ = [a["hand_id"] for a, b in zip(was, now, strict=True) if [a[k] for k in told] != [b[k] for k in told]]
    assert differ
    assert f"{len(differ)} change, 0 come, 0 go, of {len(set(differ))} people" in taken.out
    [first, second] = site_records(shell)
    assert first["hash"] != second["hash"]
    assert second["by"] == "console"
    assert shell.run(NOW, "verify").code == 0
    assert "P30D" in exported(shell)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("role: coordinator", "role: boss", "expected one of hand, driller, coordinator"),
        ("on: 14", "on: many", "expected a whole number"),
        ("outside_good_for: P90D", "outside_good_for: 90 days", "expected a duration"),
        ("rig:", "rigg:", 'did you mean "rig"?'),
    ],
)
def test_a_file_that_cannot_be_used_is_told_by_line_and_nothing_is_written(
    shell: Shell, tmp_path: Path, old: str, new: str, said: str
) -> None:
    text = exported(shell).replace(old, new)
    found = shell.run(NOW, "site", "--import", file(tmp_path, text))
    number = next(n for n, line in enumerate(text.splitlines(), 1) if new in line)
    assert (found.code, found.out) == (1, "")
    assert any(line.startswith(f"mine.yaml:{number}: ") and said in line for line in found.err.splitlines()), found.err
    assert len(site_records(shell)) == 1


def test_people_are_not_left_without_a_crew(shell: Shell, tmp_path: Path) -> None:
    text = exported(shell).replace("  night-1:", "  night-9:")
    for options in (("--try",), ()):
        found = shell.run(NOW, "site", "--import", file(tmp_path, text), *options)
        assert found.code == 1
        assert "night-1" in found.err
    assert len(site_records(shell)) == 1


@pytest.mark.parametrize(
    "words", [(), ("--export", "-", "--import", "x.yaml"), ("--try",), ("--import", "no-such.yaml")]
)
def test_wrong_usage_is_said_in_one_line(shell: Shell, words: tuple[str, ...]) -> None:
    found = shell.run(NOW, "site", *words)
    assert (found.code, found.out) == (2, "")
    assert len(found.err.splitlines()) == 1
