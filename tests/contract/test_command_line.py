"""The command line as anybody drives it: what each command says, refuses and leaves as it was."""

from __future__ import annotations

import io
import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from trainer import bootstrap
from trainer.cli import main
from trainer.cli.arguments import COMMANDS

APP = Path(bootstrap.__file__).resolve().parent.parent
NOW = "2026-03-02T12:00:00Z"
PIN = "739154"
# ``python -m trainer`` itself where its own packages are in use, else what it hands over to.
_IS_OWN = Path(sys.prefix).resolve() == (APP / ".venv").resolve()
ENTRY = (
    ["-m", "trainer"] if _IS_OWN else ["-c", "import sys; from trainer.cli import main; sys.exit(main(sys.argv[1:]))"]
)

ROSTER = """hand_id,name,position,crew,joined,left,language
h1,Ann Webb,floorhand,day-1,2025-06-01,,en
h2,José Ruiz,derrickhand,night-1,2025-06-01,,es
"""
EVIDENCE = """hand_id,competency,part,day,outcome,by,note
h1,hand-placement,practical,2025-12-01,pass,h2,
h1,hand-placement,practical,2025-12-02,pass,Pat Quill,seen on two tours
h1,hand-placement,knowledge,2025-12-02,pass,h1,
h1,set-slips,stood-down,2025-12-02,,h2,
"""


@dataclass(frozen=True)
class Said:
    """What a command said: exit code, standard output, standard error."""

    code: int
    out: str
    err: str

    @property
    def problems(self) -> list[str]:
        return self.err.splitlines()


Run = Callable[..., Said]


def surroundings(root: Path) -> dict[str, str]:
    kept = {name: value for name, value in os.environ.items() if not name.startswith("TRAINER_")}
    return {**kept, "TRAINER_ROOT": str(root), "TRAINER_NOW": NOW, "PYTHONPATH": str(APP)}


def process(root: Path, *words: str, typed: str = "") -> Said:
    done = subprocess.run(
        [sys.executable, *ENTRY, *words],
        input=typed.encode(),
        capture_output=True,
        env=surroundings(root),
        cwd=root,
        timeout=60,
        check=False,
    )
    return Said(done.returncode, done.stdout.decode("utf-8"), done.stderr.decode("utf-8"))


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with nothing but competencies and site figures."""
    folder = tmp_path_factory.mktemp("root")
    (folder / "content").mkdir()
    for name in ("competencies.yaml", "site.yaml"):
        shutil.copy(APP / "content" / name, folder / "content")
    (folder / "roster.csv").write_text(ROSTER, encoding="utf-8")
    (folder / "evidence.csv").write_text(EVIDENCE, encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def site(root: Path) -> Path:
    """The data folder of a site with two hands and their evidence, made by the commands themselves."""
    data = root / "data"
    made = process(root, "init", "--data", str(data), "--site", "rig-7", "--tz", "America/Chicago", typed=f"{PIN}\n")
    assert (made.code, made.out.count("\n")) == (0, 1), made.err
    assert "rig-7" in made.out
    taken = process(root, "--data", str(data), "roster", "roster.csv")
    assert taken == Said(0, "2 new, 0 changed, 0 the same.\n", "")
    brought = process(root, "evidence", "evidence.csv", "--data", str(data))
    assert brought == Said(0, "4 written, 0 there already.\n", "")
    return data


@pytest.fixture
def run(root: Path, site: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsysbinary: object) -> Run:
    """Runs a command in this process on a copy of the site."""
    assert isinstance(capsysbinary, pytest.CaptureFixture)
    shutil.copytree(site, tmp_path / "data")
    for name, value in surroundings(root).items():
        monkeypatch.setenv(name, value)
    monkeypatch.chdir(root)

    def one(*words: str, typed: str = "", data: Path = tmp_path / "data") -> Said:
        monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
        code = main(["--data", str(data), *words])
        out, err = capsysbinary.readouterr()
        return Said(code, out.decode("utf-8"), err.decode("utf-8"))

    return one


def ledger(run: Run) -> str:
    said = run("records", "--format", "json", "--out", "-")
    assert (said.code, said.err) == (0, "")
    return said.out


def table(tmp_path: Path, text: str, encoding: str = "utf-8") -> str:
    path = tmp_path / "table.csv"
    path.write_bytes(text.encode(encoding))
    return str(path)


def test_the_whole_way_as_processes(root: Path, site: Path, tmp_path: Path) -> None:
    data = tmp_path / "data"
    shutil.copytree(site, data)
    at = ("--data", str(data))
    matrix = process(root, *at, "matrix", "--format", "csv", "--out", "-")
    assert next(line for line in matrix.out.splitlines() if ",hand-placement," in line) == (
        "h1,Ann Webb,floorhand,day-1,hand-placement,current,2026-12-02,2026-11-21,,"
        '"First to run out: knowledge, last passed 2025-12-02."'
    )
    records = process(root, "records", *at, "--format", "json", "--out", "-")
    down = json.loads(records.out.splitlines()[-1])
    assert process(root, *at, "void", down["record_id"], "--reason", "another hand").code == 0
    assert process(root, *at, "verify") == Said(0, process(root, *at, "verify").out, "")
    code = process(root, *at, "pin", "h1").out.strip()
    assert len(code) == 8
    assert code.isdigit()


def test_init_refuses_where_a_site_is(run: Run) -> None:
    before = ledger(run)
    said = run("init", "--site", "rig-8", "--tz", "UTC", typed=f"{PIN}\n")
    assert (said.code, len(said.problems)) == (1, 1)
    assert ledger(run) == before


@pytest.mark.parametrize(
    ("site_id", "zone", "typed", "code"),
    [("rig 7", "UTC", PIN, 2), ("rig-7", "Mars/Base", PIN, 2), ("rig-7", "UTC", "123456", 1), ("rig-7", "UTC", "", 1)],
)
def test_init_refuses_what_cannot_be_and_leaves_nothing(
    run: Run, tmp_path: Path, site_id: str, zone: str, typed: str, code: int
) -> None:
    said = run("init", "--site", site_id, "--tz", zone, typed=typed, data=tmp_path / "new")
    assert (said.code, said.out, len(said.problems)) == (code, "", 1)
    assert not (tmp_path / "new").exists()


def test_init_names_the_coordinator(run: Run, tmp_path: Path) -> None:
    new = tmp_path / "new"
    assert run("init", "--site", "r", "--tz", "UTC", "--name", "Cy Poe", typed=f"{PIN}\nmore\n", data=new).code == 0
    matrix = run("matrix", "--format", "json", "--out", "-", data=new)
    assert matrix.out == "[\n]\n"
    assert len(ledger(lambda *words: run(*words, data=new)).splitlines()) == 3


def test_a_command_without_a_site_says_what_to_do(run: Run, tmp_path: Path) -> None:
    said = run("verify", data=tmp_path / "nowhere")
    assert (said.code, said.out, len(said.problems)) == (1, "", 1)
    assert "init" in said.err
    assert not (tmp_path / "nowhere").exists()


def test_every_bad_row_of_a_roster_is_listed_and_nothing_is_written(run: Run, tmp_path: Path) -> None:
    before = ledger(run)
    said = run("roster", table(tmp_path, f"{ROSTER}h3,Flo,roustabout,day-1,2026-01-01,,\n\nh 4,,floorhand,x,soon,,\n"))
    assert (said.code, said.out) == (1, "")
    assert [line.split(": ")[1] for line in said.problems[:-1]] == [
        "row 4, column position",
        "row 6, column hand_id",
        "row 6, column name",
        "row 6, column crew",
        "row 6, column joined",
    ]
    assert said.problems[0].startswith(
        "table.csv: row 4, column position: roustabout is not a position of this site. Write one of: assistant-"
    )
    assert ledger(run) == before


def test_every_bad_row_of_evidence_is_listed_and_nothing_is_written(run: Run, tmp_path: Path) -> None:
    before = ledger(run)
    bad = "h9,hand-placement,practical,2026-03-03,pass,h2,\nh1,hand-placement,practical,03/04/2025,pass,h1,\n"
    said = run("evidence", table(tmp_path, EVIDENCE + bad))
    assert said.code == 1
    assert [line.split(": ")[1] for line in said.problems[:-1]] == [
        "row 6, column hand_id",
        "row 6, column day",
        "row 7, column day",
        "row 7, column by",
    ]
    assert "03/04/2025 can be 2025-03-04 or 2025-04-03" in said.problems[2]
    assert ledger(run) == before


def test_a_second_run_writes_nothing(run: Run) -> None:
    before = ledger(run)
    assert run("roster", "roster.csv").out == "0 new, 0 changed, 2 the same.\n"
    assert run("evidence", "evidence.csv").out == "0 written, 4 there already.\n"
    assert ledger(run) == before


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "cp1252"])
def test_tables_come_in_whatever_encoding_and_delimiter(run: Run, tmp_path: Path, encoding: str) -> None:
    said = run("roster", table(tmp_path, ROSTER.replace(",", ";"), encoding))
    assert said.out == "0 new, 0 changed, 2 the same.\n"


def test_what_is_not_needed_is_a_warning_and_no_failure(run: Run, tmp_path: Path) -> None:
    header = EVIDENCE.splitlines()[0]
    said = run("evidence", table(tmp_path, f"{header}\nh2,driller-part,knowledge,2025-07-01,pass,h2,\n"))
    assert (said.code, said.out) == (0, "1 written, 0 there already.\n")
    assert [line.split(": ")[0] for line in said.problems] == ["warning"]


def test_a_column_that_nobody_asked_for_is_named(run: Run, tmp_path: Path) -> None:
    said = run("roster", table(tmp_path, ROSTER.replace("language", "langauge")))
    assert said.code == 0
    assert said.err.startswith("warning: table.csv: column langauge is not used.")


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("hand_id,name\nh1,Ann\n", "column position: this column is missing"),
        ("", "The table is empty"),
        ("PK\x03\x04", "This spreadsheet file is damaged"),
        ('hand_id,name,position,joined\nh1,"Ann,floorhand,2026-01-01\n', "near line 2"),
    ],
)
def test_what_is_no_roster_is_refused(run: Run, tmp_path: Path, text: str, told: str) -> None:
    said = run("roster", table(tmp_path, text))
    assert said.code == 1
    assert told in said.err


def test_a_file_that_is_not_there_is_wrong_usage(run: Run) -> None:
    said = run("roster", "nowhere.csv")
    assert (said.code, said.out, len(said.problems)) == (2, "", 1)


@pytest.mark.parametrize(
    "words",
    [
        (),
        ("dance",),
        ("matrix", "--format", "odt", "--out", "-"),
        ("matrix", "--as-of", "03/04/2026", "--format", "csv", "--out", "-"),
        ("matrix", "--as-of", "2026-02-30", "--format", "csv", "--out", "-"),
        ("matrix", "--out", "-"),
        ("void", "some-id"),
        ("pin",),
        ("matrix", "--form", "csv", "--out", "-"),
    ],
)
def test_wrong_usage_is_one_line_and_exit_code_2(run: Run, words: tuple[str, ...]) -> None:
    said = run(*words)
    assert (said.code, said.out, len(said.problems)) == (2, "", 1)
    assert "--help" in said.err


@pytest.mark.parametrize("command", [command.name for command in COMMANDS])
def test_every_command_has_help(run: Run, command: str) -> None:
    said = run(command, "--help")
    assert (said.code, said.err) == (0, "")
    assert said.out.startswith(f"usage: python3 -m trainer {command}")


def test_a_pinned_moment_without_an_offset_is_wrong_usage(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TRAINER_NOW", "2026-03-02 noon")
    said = run("verify")
    assert (said.code, said.out, len(said.problems)) == (2, "", 1)


def test_an_export_goes_into_its_file_whole_or_not_at_all(run: Run, tmp_path: Path) -> None:
    for kind, form in (
        ("matrix", "csv"),
        ("matrix", "json"),
        ("matrix", "xlsx"),
        ("records", "csv"),
        ("records", "xlsx"),
    ):
        out = tmp_path / f"{kind}.{form}"
        assert run(kind, "--format", form, "--out", str(out)) == Said(0, "", "")
        assert out.stat().st_size > 100
    assert run("matrix", "--format", "csv", "--out", os.devnull) == Said(0, "", "")
    assert not Path(os.devnull).is_file()
    said = run("matrix", "--format", "csv", "--out", str(tmp_path / "no" / "folder.csv"))
    assert (said.code, len(said.problems)) == (2, 1)
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        "data", "matrix.csv", "matrix.json", "matrix.xlsx", "records.csv", "records.xlsx",
    ]  # fmt: skip


def test_the_matrix_on_another_day(run: Run) -> None:
    rows = json.loads(run("matrix", "--as-of", "2027-01-01", "--format", "json", "--out", "-").out)
    assert [row["standing"] for row in rows if (row["hand_id"], row["competency"]) == ("h1", "hand-placement")] == [
        "overdue"
    ]
    assert run("matrix", "--as-of", "2025-05-31", "--format", "json", "--out", "-").out == "[\n]\n"


def test_a_void_takes_a_record_out_once_and_says_why(run: Run) -> None:
    down = json.loads(ledger(run).splitlines()[-1])
    assert run("void", down["record_id"], "--reason", " ").code == 1
    said = run("void", down["record_id"], "--reason", "another hand")
    assert said.code == 0
    assert down["record_id"] in said.out
    standing = [
        row for row in json.loads(run("matrix", "--format", "json", "--out", "-").out) if row["hand_id"] == "h1"
    ]
    assert "stood down" not in [row["standing"] for row in standing]
    for words in ((down["record_id"],), ("no-such-record",)):
        refused = run("void", *words, "--reason", "again")
        assert (refused.code, refused.out, len(refused.problems)) == (1, "", 1)
    assert run("verify").code == 0


def test_a_code_is_for_somebody_who_is_there(run: Run) -> None:
    said = run("pin", "nobody")
    assert (said.code, said.out, len(said.problems)) == (1, "", 1)
    assert run("pin", "coordinator").out.strip().isdigit()


def test_check_finds_nothing_but_warnings_where_only_two_files_are(run: Run) -> None:
    said = run("check")
    assert said.code == 0
    assert said.problems
    assert all(line.startswith("warning: ") for line in said.problems)


def test_serve_takes_what_is_missing_for_an_error(run: Run) -> None:
    said = run("serve", "--port", "0")
    assert said.code == 1
    assert any("there is no checklist" in line for line in said.problems)
