"""The matrix as a poster, by the command line alone: a PDF in a file or on standard output, the same each time."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.contract.shell import APP, ONE
from tests.unit.export import pdfs

NOW = {"TRAINER_NOW": "2026-03-02T18:00:00Z", "PYTHONPATH": str(APP)}
ROSTER = "hand_id,name,position,crew,joined\nh1,Nguyễn Văn Minh,floorhand,day-1,2026-02-02\n"


def run(data: Path, *words: str, typed: bytes = b"") -> bytes:
    """Standard output of one command, which must go well."""
    command = [sys.executable, "-c", ONE, "--data", str(data), *words]
    done = subprocess.run(command, input=typed, capture_output=True, env=NOW, cwd=APP, timeout=120, check=False)
    assert done.returncode == 0, done.stderr.decode()
    return done.stdout


@pytest.fixture(scope="module")
def data(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("poster")
    run(folder / "data", "init", "--site", "rig-9", "--tz", "America/Denver", typed=b"493817\n")
    roster = folder / "roster.csv"
    roster.write_text(ROSTER, "utf-8")
    run(folder / "data", "roster", str(roster))
    return folder / "data"


def test_the_poster_is_a_pdf_on_a3_in_a_file_and_on_standard_output(data: Path, tmp_path: Path) -> None:
    out = tmp_path / "poster.pdf"
    run(data, "matrix", "--format", "pdf", "--out", str(out))
    assert out.read_bytes() == run(data, "matrix", "--format", "pdf", "--out", "-")
    assert set(pdfs.sizes(out.read_bytes())) <= {(297, 420), (420, 297)}


@pdfs.needs_pdftotext
def test_the_poster_has_titles_and_names_not_ids_and_the_day_asked_for(data: Path) -> None:
    told = pdfs.text(run(data, "matrix", "--as-of", "2026-02-10", "--format", "pdf", "--out", "-"))
    for said in ("Nguyễn Văn Minh", "Floorhand", "Day crew 1", "as of Feb 10, 2026", "printed Mar 2, 2026, 11:00"):
        assert said in told
    assert "hand-placement" not in told
