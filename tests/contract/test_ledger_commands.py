"""bundle, merge, erase, restrict, backup, restore and verify as anybody drives them, on either dialect of the store."""

from __future__ import annotations

import contextlib
import io
import json
import sqlite3
import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.contract import postgres
from tests.contract.conftest import DIALECTS
from trainer.cli import main
from trainer.store.dialects import FILE_NAME

NOW = "2026-03-02T12:00:00Z"
LATER = "2026-03-04T12:00:00Z"
ROSTER = """hand_id,name,position,crew,joined,left,language
{hand},Ann Webb {hand},floorhand,day-1,2025-06-01,,en
{hand}b,José Ruiz {hand},derrickhand,night-1,2025-06-01,{left},es
"""
EVIDENCE = """hand_id,competency,part,day,outcome,by,note
{hand},hand-placement,practical,2025-12-02,pass,Pat Quill,Ann stood clear of the bight
{hand},hand-placement,knowledge,2025-12-02,pass,{hand},
"""


@dataclass(frozen=True)
class Said:
    """What a command said."""

    code: int
    out: str
    err: str


@dataclass(frozen=True)
class Place:
    """A data folder, and the database where that is not a file in it."""

    data: Path
    url: str

    def run(self, *words: str, now: str = NOW, typed: str = "") -> Said:
        """What the command line said, in this process: starting Python a hundred times is what would take the time."""
        out, err = (io.TextIOWrapper(io.BytesIO(), "utf-8", newline="") for _ in range(2))
        given = {"TRAINER_NOW": now} | ({"TRAINER_DATABASE_URL": self.url} if self.url else {})
        with pytest.MonkeyPatch.context() as patch:
            for name, value in given.items():
                patch.setenv(name, value)
            patch.setattr("sys.stdin", io.StringIO(typed))
            with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
                try:
                    code = main(["--data", str(self.data), *words])
                except SystemExit as left:
                    code = int(str(left.code or 0))
        out.flush()
        err.flush()
        return Said(code, *(each.buffer.getvalue().decode() for each in (out, err)))  # type: ignore[attr-defined]

    def good(self, *words: str, now: str = NOW, typed: str = "") -> str:
        said = self.run(*words, now=now, typed=typed)
        assert said.code == 0, said.err
        return said.out

    def matrix(self) -> list[dict[str, object]]:
        return list(json.loads(self.good("matrix", "--format", "json", "--out", "-")))


Sites = Callable[..., Place]


@pytest.fixture(params=DIALECTS)
def sites(request: pytest.FixtureRequest, tmp_path: Path) -> Sites:
    """Makes new sites, or places where one may be made."""

    def make(name: str, *, filled: bool = True, left: str = "") -> Place:
        server: postgres.Server | None = request.getfixturevalue("databases").get(request.param)
        place = Place(tmp_path / name, server.database() if server else "")
        if filled:
            place.good("init", "--site", name, "--tz", "America/Chicago", typed="739154\n")
            for command, text in (("roster", ROSTER), ("evidence", EVIDENCE)):
                file = tmp_path / f"{name}-{command}.csv"
                file.write_text(text.format(hand=name.lower(), left=left), encoding="utf-8")
                place.good(command, str(file))
        return place

    return make


def test_two_sites_exchange_bundles_and_hold_the_same_records(sites: Sites, tmp_path: Path) -> None:
    a, b = sites("A"), sites("B")
    assert "records of 1 sites, signed" in a.good("bundle", str(tmp_path / "a.bundle"))
    b.good("bundle", str(tmp_path / "b.bundle"))
    assert "B: " in a.good("merge", str(tmp_path / "b.bundle"))
    b.good("merge", str(tmp_path / "a.bundle"))
    wanted = ("records", "--format", "json", "--out", "-")
    assert sorted(a.good(*wanted).splitlines()) == sorted(b.good(*wanted).splitlines())
    assert {row["hand_id"] for row in a.matrix()} == {"a", "ab", "b", "bb"}
    assert a.good("verify").splitlines()[1].startswith("B: ")
    again = a.good("merge", str(tmp_path / "b.bundle"))
    assert "New records 0" in again


def test_a_bundle_that_cannot_be_believed_takes_nothing_and_says_what_to_do(sites: Sites, tmp_path: Path) -> None:
    a, b = sites("A"), sites("B")
    b.good("bundle", str(tmp_path / "b.bundle"))
    whole = (tmp_path / "b.bundle").read_bytes()
    (tmp_path / "cut.bundle").write_bytes(whole[: len(whole) // 2])
    before = a.good("records", "--format", "json", "--out", "-")
    said = a.run("merge", str(tmp_path / "cut.bundle"))
    assert (said.code, said.out) == (1, "")
    assert "bundle" in said.err
    assert "Traceback" not in said.err
    assert a.run("merge", str(tmp_path / "nowhere.bundle")).code == 2
    assert a.good("records", "--format", "json", "--out", "-") == before


def test_a_backup_brings_the_site_back_whole_on_either_dialect(sites: Sites, tmp_path: Path) -> None:
    a = sites("A")
    a.good("backup", str(tmp_path / "a.backup"))
    for other in (sites("NEW", filled=False), Place(tmp_path / "on-file", "")):
        other.good("restore", str(tmp_path / "a.backup"))
        assert other.matrix() == a.matrix()
        assert "A: " in other.good("verify")
        again = other.run("restore", str(tmp_path / "a.backup"))
        assert again.code == 1
        assert "It stays as it is" in again.err


def test_a_backup_that_was_changed_makes_nothing(sites: Sites, tmp_path: Path) -> None:
    a = sites("A")
    a.good("backup", str(tmp_path / "a.backup"))
    with zipfile.ZipFile(tmp_path / "a.backup") as good, zipfile.ZipFile(tmp_path / "bad.backup", "w") as bad:
        for name in good.namelist():
            data = good.read(name)
            bad.writestr(name, data.replace(b"2025-12-02", b"2026-12-02") if name == "tables/records.jsonl" else data)
    (tmp_path / "none.backup").write_bytes(b"no backup at all")
    for name, said in (("bad", "does not verify"), ("none", "is no backup")):
        place = sites(f"NEW-{name}", filled=False)
        refused = place.run("restore", str(tmp_path / f"{name}.backup"))
        assert refused.code == 1
        assert said in refused.err
        assert not place.data.exists()


def test_a_backup_goes_to_another_place_than_the_data(sites: Sites) -> None:
    a = sites("A")
    said = a.run("backup", str(a.data / "a.backup"))
    assert said.code == 1
    assert "somewhere outside" in said.err


def test_an_erased_person_is_nowhere_in_the_data_and_the_records_still_verify(sites: Sites, tmp_path: Path) -> None:
    a = sites("A", left="2026-03-02")
    here = a.run("erase", "a", "--reason", "asked for it")
    assert "has not left yet" in here.err
    assert "without any name" in a.run("erase", "ab", "--reason", "José asked", now=LATER).err
    a.good("erase", "ab", "--reason", "asked for it", now=LATER)
    assert "A: " in a.good("verify")
    a.good("backup", str(tmp_path / "a.backup"), now=LATER)
    b = sites("RESTORED", filled=False)
    b.good("restore", str(tmp_path / "a.backup"), now=LATER)
    for place in (a, b):
        held = b"".join(file.read_bytes() for file in place.data.rglob("*") if file.is_file())
        records = place.good("records", "--format", "json", "--out", "-").encode()
        for secret in ("José", "Jos\\u00e9", "Ruiz"):
            assert secret.encode() not in held + records
    assert a.run("erase", "ab", "--reason", "again", now=LATER).code == 1


def test_a_restricted_name_stays_for_the_office(sites: Sites) -> None:
    a = sites("A")
    a.good("restrict", "a", "--reason", "kept by law")
    assert any(row["name"] == "Ann Webb a" for row in a.matrix())
    assert "A: " in a.good("verify")


def test_the_end_that_a_print_shows_is_found_again_and_a_cut_tail_is_not(sites: Sites, tmp_path: Path) -> None:
    a = sites("A")
    last = a.good("verify").split()[-1]
    number = a.good("verify").split()[1]
    assert a.run("verify", "--head", f"A:{number}:{last[:12]}").code == 0
    gone = a.run("verify", "--head", f"A:{number}:0123456789ab")
    assert gone.code == 1
    assert "no record there whose hash begins with 0123456789ab" in gone.err
    assert a.run("verify", "--head", "A").code == 2


def test_a_tail_cut_off_after_an_export_is_named(tmp_path: Path) -> None:
    place = Place(tmp_path / "a", "")
    place.good("init", "--site", "A", "--tz", "America/Chicago", typed="739154\n")
    (tmp_path / "r.csv").write_text(ROSTER.format(hand="a", left=""), encoding="utf-8")
    place.good("roster", str(tmp_path / "r.csv"))
    place.good("matrix", "--format", "csv", "--out", str(tmp_path / "m.csv"))
    with contextlib.closing(sqlite3.connect(place.data / FILE_NAME)) as raw, raw:
        for (name,) in raw.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            raw.execute(f"DROP TRIGGER {name}")
        (seq,) = raw.execute("SELECT max(seq) FROM records").fetchone()
        raw.execute("DELETE FROM records WHERE seq = ?", (seq,))
        raw.execute("DELETE FROM stays WHERE seq = ?", (seq,))
        raw.execute(
            "UPDATE heads SET seq = ?, (hash, at) = (SELECT hash, at FROM records WHERE seq = ?)", (seq - 1, seq - 1)
        )
    said = place.run("verify")
    assert said.code == 1
    assert f"A, number {seq}: the records end before it, or differ from what was signed there" in said.err.splitlines()
