"""The first start sets up ``.venv`` once, says what is missing in one line, and mends what was stopped half-way."""

from __future__ import annotations

import ast
import importlib.util
import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

import trainer.__main__ as entry
from trainer import bootstrap
from trainer.bootstrap import Place, SetupError

ROOT = Path(bootstrap.__file__).resolve().parent.parent
ENSURE = """
import sys
from pathlib import Path
from trainer.bootstrap import Place, ensure
ensure(Place(Path(sys.argv[1])))
"""


def make_wheel(folder: Path) -> Path:
    """A package with nothing in it, which pip installs without any network."""
    wheel = folder / "nothing-1.0-py3-none-any.whl"
    with zipfile.ZipFile(wheel, "w") as parts:
        parts.writestr("nothing.py", "")
        parts.writestr("nothing-1.0.dist-info/METADATA", "Metadata-Version: 2.1\nName: nothing\nVersion: 1.0\n")
        parts.writestr("nothing-1.0.dist-info/WHEEL", "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n")
        parts.writestr("nothing-1.0.dist-info/RECORD", "")
    return wheel


def start(place: Place, **environment: str) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-c", ENSURE, str(place.root)],
        stderr=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
        text=True,
        encoding="utf-8",
    )


def said(started: subprocess.Popen[str]) -> str:
    return started.communicate(timeout=120)[1]


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Place:
    """A program whose first two starts came at once."""
    made = Place(tmp_path_factory.mktemp("clone"))
    made.requirements.write_text(f"# one package\n{make_wheel(made.root).as_posix()}\n", encoding="utf-8")
    both = [said(each) for each in [start(made), start(made)]]
    assert sorted(text.count("Setting up, once: 1 packages") for text in both) == [0, 1], both
    return made


def test_of_two_starts_at_once_one_sets_up_and_a_later_start_has_nothing_to_do(place: Place) -> None:
    assert bootstrap.is_ready(place)
    assert said(start(place)) == ""
    probe = [str(place.python), "-c", "import nothing"]
    assert subprocess.run(probe, check=False).returncode == 0


def test_what_was_stopped_half_way_is_cleared_and_set_up_again(place: Place) -> None:
    place.stamp.unlink()
    left_over = place.venv / "left-over"
    left_over.mkdir()
    assert not bootstrap.is_ready(place)
    assert "Ready." in said(start(place))
    assert bootstrap.is_ready(place)
    assert not left_over.exists()


def test_another_python_in_its_place_is_noticed(place: Place) -> None:
    stamp = place.stamp.read_text("utf-8")
    place.stamp.write_text(f"{stamp.split()[0]} 3.1\n", encoding="utf-8")
    assert not bootstrap.is_ready(place)
    place.stamp.write_text(stamp, encoding="utf-8")
    assert bootstrap.is_ready(place)


def test_without_network_it_says_so_in_the_last_line_and_stays_unready(place: Place) -> None:
    before = place.requirements.read_text("utf-8")
    place.requirements.write_text(f"{before}surely-not-there==1.0\n", encoding="utf-8")
    text = said(start(place, PIP_INDEX_URL="http://127.0.0.1:9/simple", PIP_RETRIES="0", PIP_NO_INDEX="0"))
    assert "SetupError: Could not fetch the packages: no way to the package index." in text
    assert not bootstrap.is_ready(place)
    place.requirements.write_text(before, encoding="utf-8")


@pytest.mark.parametrize("missing", ["venv", "ensurepip"])
def test_a_python_without_venv_says_what_to_install(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, missing: str
) -> None:
    found = importlib.util.find_spec
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None if name == missing else found(name))
    with pytest.raises(SetupError, match=rf"no {missing} module.*python3\.\d+-venv"):
        bootstrap.ensure(Place(tmp_path))


def test_a_folder_that_cannot_be_written_says_so(tmp_path: Path) -> None:
    read_only = tmp_path / "clone"
    read_only.write_text("not a folder", encoding="utf-8")
    with pytest.raises(SetupError, match=r"Cannot write in .*Copy the program to a folder of your own"):
        bootstrap.ensure(Place(read_only))


@pytest.mark.parametrize(
    ("output", "line"),
    [
        (
            ["WARNING: Retrying after NewConnectionError\n", "ERROR: No matching distribution\n"],
            "no way to the package",
        ),
        (["ERROR: Could not install: [Errno 28] No space left on device\n"], "the disk is full"),
        (["ERROR: No matching distribution found for x==1\n"], "No matching distribution found for x==1 - start again"),
        (["Killed\n"], "Killed - start again"),
        ([], "no reason given"),
    ],
)
def test_each_way_to_fail_has_its_line(output: list[str], line: str) -> None:
    why = bootstrap._why(output)
    assert line in why
    assert "\n" not in why


def test_an_old_python_is_told_so(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 10, 4))
    assert entry.main() == 1
    assert capsys.readouterr().err.startswith("The trainer needs Python 3.11 or newer; this is Python 3.10.")


@pytest.mark.parametrize("file", ["__main__.py", "__init__.py"])
def test_what_runs_before_that_check_compiles_on_an_old_python(file: str) -> None:
    tree = ast.parse((ROOT / "trainer" / file).read_text("utf-8"), feature_version=(3, 4))
    annotated = [node for node in ast.walk(tree) if isinstance(node, ast.AnnAssign | ast.JoinedStr)]
    assert annotated == []
    assert not any(isinstance(node, ast.ImportFrom) and node.module == "__future__" for node in ast.walk(tree))


def test_help_needs_nothing_installed(tmp_path: Path) -> None:
    # A copy, so that no .venv stands beside it.
    shutil.copytree(ROOT / "trainer", tmp_path / "trainer", ignore=shutil.ignore_patterns("__pycache__"))
    bare = [sys.executable, "-S", "-m", "trainer", "matrix", "--help"]
    done = subprocess.run(bare, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    assert "--as-of DAY" in done.stdout


def test_every_requirement_is_pinned_to_one_version() -> None:
    pins = [line.split(";")[0].split() for line in bootstrap._packages(Place(ROOT))]
    assert all(len(pin) == 1 and pin[0].count("==") == 1 for pin in pins)
    names = [pin[0].split("==")[0].lower().replace("_", "-") for pin in pins]
    assert len(set(names)) == len(names)
