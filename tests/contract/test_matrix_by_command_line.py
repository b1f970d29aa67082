"""Whole drawn sites through the real command line, each cell of the matrix compared with a second reading of the rules.

``RULE_BOOKS=40`` in the environment runs more sites than the few of every day, ``RULE_BOOKS=100-140`` those seeds.
"""

from __future__ import annotations

import csv
import hashlib
import io
import json
import os
import random
import shutil
import sqlite3
import unicodedata
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import jcs
import openpyxl
import pytest
from python_calamine import CalamineWorkbook

from tests.contract.asked_days import days_of_evidence, days_to_ask
from tests.contract.oracle import Book, Event, Roster, Row, expected_rows
from tests.contract.rule_books import EVIDENCE_COLUMNS, ROSTER_COLUMNS, Phase, RuleBook, csv_text, draw
from tests.contract.shell import RECORDS, Shell, start

COMPARED = ("hand_id", "name", "position", "crew", "competency", "standing", "due", "do_by", "late")
COLUMNS = (*COMPARED, "reason")
FIELDS = {"record_id", "site", "seq", "at", "day", "by", "hand", "kind", "body", "prev", "hash"}
# Between them these turn on every clause of the rules: with any one of them read otherwise, some cell differs.
SEEDS = [2, 4, 10]
OF_EVIDENCE = ("outside", "stood-down", "reinstated")


def seeds() -> list[int]:
    asked = os.environ.get("RULE_BOOKS")
    if not asked:
        return SEEDS
    first, _, last = asked.rpartition("-")
    return list(range(int(first or 0), int(last)))


def records_of(text: str) -> list[dict[str, Any]]:
    return [json.loads(line) for line in text.splitlines()]


@dataclass
class Played:
    """A site after all its phases: what was expected on the way, and what the ledger held after each step."""

    book: RuleBook
    shell: Shell
    roster: Roster = field(default_factory=Roster)
    evidence: list[Row] = field(default_factory=list)
    ledgers: list[tuple[str, str]] = field(default_factory=list)

    @property
    def now(self) -> str:
        return self.book.phases[-1].now

    @property
    def records(self) -> list[dict[str, Any]]:
        return records_of(self.ledgers[-1][0])

    def rules(self, voided: Sequence[str] = ()) -> Book:
        return Book.of(self.book.competencies, self.book.site, self.roster, self.evidence, voided)

    def days(self, count: int, voided: Sequence[str] = ()) -> list[date]:
        looks = [*days_of_evidence(self.book)[::8], *(self.book.today + timedelta(days=step) for step in (0, 40, 200))]
        return days_to_ask(self.book, [row for day in looks for row in expected_rows(self.rules(voided), day)], count)

    def matrices(self, shell: Shell, days: Sequence[date], form: str = "csv") -> list[str]:
        asked = ["matrix", "--format", form, "--out", "-", "--as-of"]
        said = shell.run_all([(self.now, [*asked, day.isoformat()]) for day in days])
        assert [each.code for each in said] == [0] * len(days), said
        return [each.out for each in said]


def play(folder: Path, book: RuleBook) -> Played:
    """Runs every phase: roster, evidence, then both again, the ledger looked at after each of the two rounds."""
    played = Played(book, start(folder, book, book.phases[0].now))
    commands: list[tuple[str, Sequence[str]]] = [(book.phases[0].now, RECORDS)]
    for number, phase in enumerate(book.phases):
        files = _files(folder, number, phase)
        look = (phase.now, RECORDS)
        commands += [*files, look, *files, look]
    said = played.shell.run_all(commands)
    for (_, words), each in zip(commands, said, strict=True):
        assert each.code == 0, (words, each.err)
    texts = [each.out for (_, words), each in zip(commands, said, strict=True) if words[0] == "records"]
    played.ledgers = list(zip(texts[1::2], texts[2::2], strict=True))
    for phase, before, after in zip(book.phases, texts[::2], texts[1::2], strict=False):
        _expect(played, phase, records_of(after)[len(records_of(before)) :])
    return played


def _files(folder: Path, number: int, phase: Phase) -> list[tuple[str, Sequence[str]]]:
    tables = (("roster", phase.roster, ROSTER_COLUMNS), ("evidence", phase.evidence, EVIDENCE_COLUMNS))
    commands: list[tuple[str, Sequence[str]]] = []
    for name, rows, columns in tables:
        if rows:
            path = folder / f"{name}-{number}.csv"
            path.write_text(csv_text(rows, columns), encoding="utf-8", newline="")
            commands.append((phase.now, [name, str(path)]))
    return commands


def _expect(played: Played, phase: Phase, written: list[dict[str, Any]]) -> None:
    """Takes the phase into what is expected, each expected row with the id of the record that says the same."""
    events = played.roster.take(phase.roster, phase.today)
    stays = [each for each in written if each["kind"] in ("joined", "moved", "left")]
    assert sorted(map(_stay, stays)) == sorted(map(_event, events))
    for event in events:
        event["record_id"] = next(each["record_id"] for each in stays if _stay(each) == _event(event))
    there = Counter(_key(row) for row in played.evidence)
    rows: list[Row] = []
    seen: Counter[tuple[str, ...]] = Counter()
    for row in phase.evidence:
        seen[_key(row)] += 1
        if seen[_key(row)] > there[_key(row)]:
            rows.append(dict(row))
    proofs = [each for each in written if each["kind"] in OF_EVIDENCE]
    assert [_said(each) for each in proofs] == [_told(row) for row in rows]
    for row, proof in zip(rows, proofs, strict=True):
        row["record_id"] = proof["record_id"]
    played.evidence += rows
    assert len(written) == len(stays) + len(proofs)


def _stay(record: dict[str, Any]) -> tuple[str, ...]:
    body = record["body"]
    return record["hand"], record["kind"], record["day"], body.get("crew", ""), body.get("position", "")


def _event(event: Event) -> tuple[str, ...]:
    return event["hand"], event["kind"], event["day"], event["crew"], event["position"]


def _key(row: Row) -> tuple[str, ...]:
    told = {**row, "outcome": "" if row["part"] in OF_EVIDENCE else row["outcome"]}
    return tuple(unicodedata.normalize("NFC", told[name]) for name in EVIDENCE_COLUMNS)


def _said(record: dict[str, Any]) -> tuple[str, ...]:
    body = record["body"]
    part = body["part"] if record["kind"] == "outside" else record["kind"]
    return record["hand"], body["competency"], part, record["day"], body.get("outcome", ""), record["by"]


def _told(row: Row) -> tuple[str, ...]:
    outcome = "" if row["part"] in OF_EVIDENCE else row["outcome"]
    return row["hand_id"], row["competency"], row["part"], row["day"], outcome, "console"


def table(text: str) -> list[dict[str, str]]:
    """The rows of an exported CSV, the guard of formula-like text taken off."""
    assert text.startswith("\ufeff")
    rows = list(csv.DictReader(io.StringIO(text[1:], newline="")))
    return [{name: cell[1:] if cell[:2] in GUARDED else cell for name, cell in row.items()} for row in rows]


GUARDED = ("'=", "'+", "'-", "'@")


def compare(played: Played, rules: Book, day: date, text: str) -> None:
    found = [{name: row[name] for name in COMPARED} for row in table(text)]
    wanted = [{name: row[name] for name in COMPARED} for row in expected_rows(rules, day)]
    wrong = [(want, got) for want, got in zip(wanted, found, strict=False) if want != got]
    told = "\n".join(f"expected {want}\n     got {got}" for want, got in wrong[:5])
    assert not wrong, f"seed {played.book.seed}, as of {day}: {len(wrong)} cells\n{told}"
    assert len(found) == len(wanted), f"seed {played.book.seed}, as of {day}"


@pytest.fixture(scope="module", params=seeds(), ids=lambda seed: f"seed-{seed}")
def played(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Played]:
    folder = tmp_path_factory.mktemp(f"book-{request.param}")
    yield play(folder, draw(request.param))
    shutil.rmtree(folder)


def test_a_second_run_of_the_same_files_writes_nothing(played: Played) -> None:
    for once, twice in played.ledgers:
        assert once == twice


def test_each_cell_on_each_day_is_what_the_rules_say(played: Played) -> None:
    days = played.days(60)
    for day, text in zip(days, played.matrices(played.shell, days), strict=True):
        compare(played, played.rules(), day, text)


def test_the_matrix_is_todays_where_no_day_is_named_and_begins_with_its_columns(played: Played) -> None:
    said = played.shell.run(played.now, "matrix", "--format", "csv", "--out", "-")
    assert (said.code, said.err) == (0, "")
    assert said.out.startswith("\ufeff" + ",".join(COLUMNS) + "\r\n")
    compare(played, played.rules(), played.book.today, said.out)
    assert all(row["reason"] for row in table(said.out))


def test_csv_json_and_workbook_hold_the_same_rows(played: Played, tmp_path: Path) -> None:
    day = played.book.today.isoformat()
    forms = ("csv", "json", "xlsx")
    lines = [["matrix", "--as-of", day, "--format", form, "--out", str(tmp_path / f"m.{form}")] for form in forms]
    assert [each.code for each in played.shell.run_all([(played.now, line) for line in lines])] == [0, 0, 0]
    rows = table((tmp_path / "m.csv").read_bytes().decode("utf-8"))
    objects = json.loads((tmp_path / "m.json").read_text("utf-8"))
    assert [list(each) for each in objects] == [list(COLUMNS)] * len(rows)
    assert [{name: cell or "" for name, cell in each.items()} for each in objects] == rows
    assert not any(cell == "" for each in objects for cell in each.values())
    book = openpyxl.load_workbook(tmp_path / "m.xlsx")
    first = [list(row) for row in book.worksheets[0].iter_rows(values_only=True)]
    assert _of_workbook(first) == rows
    assert _of_workbook(CalamineWorkbook.from_path(tmp_path / "m.xlsx").get_sheet_by_index(0).to_python()) == rows
    assert len(book.sheetnames) == 2


def _of_workbook(cells: Sequence[Sequence[Any]]) -> list[dict[str, str]]:
    top = next(number for number, row in enumerate(cells) if row and row[0] == "hand_id")
    filled = [row for row in cells[top + 1 :] if row[0] not in (None, "")]
    rows = [dict(zip(COLUMNS, map(_of_cell, row), strict=False)) for row in filled]
    standings = ("not started", "learning", "current", "overdue", "stood down", "due")
    for row in rows:
        row["standing"] = next(word for word in standings if word in row["standing"])
    return rows


def _of_cell(value: object) -> str:
    if isinstance(value, date):
        return value.isoformat()[:10]
    return "" if value is None else str(value)


def test_the_chain_is_worked_out_again_by_another_package(played: Played) -> None:
    prev = "0" * 64
    for seq, record in enumerate(played.records, 1):
        assert set(record) == FIELDS
        assert (record["seq"], record["prev"], record["site"]) == (seq, prev, "rig-9")
        rest = {name: value for name, value in record.items() if name != "hash"}
        assert record["hash"] == hashlib.sha256(jcs.canonicalize(rest)).hexdigest()
        prev = record["hash"]


def test_the_ledger_holds_no_name_and_no_note_and_one_mark_for_one_outside_person(played: Played) -> None:
    text = played.ledgers[-1][0]
    assert not [name for name in played.roster.names.values() if name in text]
    marks: dict[str, set[str]] = {}
    by_id = {record["record_id"]: record["body"] for record in played.records}
    for row in played.evidence:
        marks.setdefault(unicodedata.normalize("NFC", row["by"]), set()).add(by_id[row["record_id"]]["observer"])
        assert not row["note"] or json.dumps(row["note"], ensure_ascii=False) not in text
    assert all(len(each) == 1 for each in marks.values())
    assert len(set.union(*marks.values())) == len(marks)
    known = played.roster.names.keys() & marks.keys()
    assert all(marks[hand] == {hand} for hand in known)


def test_voided_records_are_out_of_the_matrix_on_every_date(played: Played, tmp_path: Path) -> None:
    luck = random.Random(played.book.seed)
    shell = played.shell.copy(tmp_path / "data")
    moves = [each["record_id"] for each in played.roster.events if each["kind"] in ("moved", "left")]
    picked = luck.sample([row["record_id"] for row in played.evidence], 25) + luck.sample(moves, min(3, len(moves)))
    reason = ["--reason", "typed in twice"]
    said = shell.run_all([(played.now, ["void", each, *reason]) for each in picked])
    voided = [each for each, answer in zip(picked, said, strict=True) if answer.code == 0]
    assert voided == picked, [answer.err for answer in said if answer.code]
    days = played.days(30, voided)
    for day, text in zip(days, played.matrices(shell, days), strict=True):
        compare(played, played.rules(voided), day, text)
    look = (played.now, RECORDS)
    again = [(played.now, ["void", picked[0], *reason]), look]
    ledger, verified, twice, after = shell.run_all([look, (played.now, ["verify"]), *again])
    lines = ledger.out.splitlines()
    assert "\n".join(lines[: -len(picked)]) + "\n" == played.ledgers[-1][0]
    assert [each["body"]["record"] for each in records_of(ledger.out)[-len(picked) :]] == picked
    assert (verified.code, twice.code, after.out) == (0, 1, ledger.out)
    a_void = records_of(ledger.out)[-1]["record_id"]
    refused, last = shell.run_all([(played.now, ["void", a_void, *reason]), look])
    assert (refused.code, last.out) == (1, ledger.out)


def test_one_changed_sign_in_a_record_is_found_and_the_record_named(played: Played, tmp_path: Path) -> None:
    luck = random.Random(played.book.seed)
    columns = ("body", "body", "body", "day", "at", "by", "hand", "kind", "prev", "hash", "record_id", "site")
    records = luck.sample([each for each in played.records[:-1] if each["hand"]], len(columns))
    for number, (column, record) in enumerate(zip(columns, records, strict=True)):
        shell = played.shell.copy(tmp_path / str(number))
        _spoil(shell.data / "trainer.sqlite3", record["record_id"], column, luck)
    folders = [str(tmp_path / str(number)) for number in range(len(columns))]
    said = played.shell.run_all([(played.now, ["verify", "--data", each]) for each in folders])
    missed = []
    for column, record, each in zip(columns, records, said, strict=True):
        named = str(record["seq"]) if column == "record_id" else record["record_id"]
        if each.code != 1 or named not in each.err:
            missed.append(f"{column} of {record}: exit {each.code}: {each.out}{each.err}")
    assert not missed, "\n".join(missed)


UNREADABLE = (
    ("outside", '"pass"', '"past"'),
    ("outside", '"practical"', '"practised"'),
    ("stood-down", '"competency"', '"competencies"'),
    ("site", '"crews"', '"crew"'),
    ("site", '"role"', '"rule"'),
)


def test_a_record_that_can_no_longer_be_read_is_named_too(played: Played, tmp_path: Path) -> None:
    named: list[str] = []
    for number, (kind, written, instead) in enumerate(UNREADABLE):
        shell = played.shell.copy(tmp_path / str(number))
        fitting = (each for each in played.records if each["kind"] == kind and written in json.dumps(each["body"]))
        named.append(next(fitting)["record_id"])
        change = "update records set body = replace(body, ?, ?) where record_id = ?"
        with _opened(shell.data / "trainer.sqlite3") as base:
            base.execute(change, (written, instead, named[-1]))
    folders = [str(tmp_path / str(number)) for number in range(len(UNREADABLE))]
    said = played.shell.run_all([(played.now, ["verify", "--data", each]) for each in folders])
    told = zip(UNREADABLE, named, said, strict=True)
    missed = [(what, each) for what, record_id, each in told if each.code != 1 or record_id not in each.err]
    assert not missed


def _spoil(file: Path, record_id: str, column: str, luck: random.Random) -> None:
    with _opened(file) as base:
        (text,) = base.execute(f'select "{column}" from records where record_id = ?', (record_id,)).fetchone()
        place = luck.choice([number for number, sign in enumerate(text) if sign.isalnum()])
        spoiled = text[:place] + ("9" if text[place] != "9" else "8") + text[place + 1 :]
        base.execute(f'update records set "{column}" = ? where record_id = ?', (spoiled, record_id))


@contextmanager
def _opened(file: Path) -> Iterator[sqlite3.Connection]:
    """The database with the triggers gone that would refuse a change."""
    with closing(sqlite3.connect(file)) as base, base:
        for (name,) in base.execute("select name from sqlite_master where type = 'trigger'").fetchall():
            base.execute(f'drop trigger "{name}"')
        yield base
