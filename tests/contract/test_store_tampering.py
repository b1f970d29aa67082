"""Whatever is changed behind the store's back, verify finds it and says where."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from tests.contract import ledgers
from tests.contract.ledgers import SITE
from trainer.errors import StoreDamaged
from trainer.store import Fault, Store
from trainer.store.dialects import FILE_NAME
from trainer.store.schema import records

COLUMNS = tuple(column.name for column in records.columns)


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Store, sqlite3.Connection]]:
    """A store with a little of everything, and a way round it: no triggers, no foreign keys."""
    folder = tmp_path_factory.mktemp("tampered") / "data"
    store = ledgers.empty(folder)
    ledgers.lively(store)
    with closing(sqlite3.connect(folder / FILE_NAME, isolation_level=None)) as raw:
        for (trigger,) in raw.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            raw.execute(f"DROP TRIGGER {trigger}")
        yield store, raw
    store.close()


@pytest.fixture
def tampered(opened: tuple[Store, sqlite3.Connection]) -> Iterator[tuple[Store, sqlite3.Connection]]:
    """The same, undone afterwards."""
    store, raw = opened
    tables = ("records", "heads", "evidence", "stays", "voids")
    before = {table: raw.execute(f"SELECT * FROM {table}").fetchall() for table in tables}
    yield store, raw
    for table, rows in before.items():
        raw.execute(f"DELETE FROM {table}")
        raw.executemany(f"INSERT INTO {table} VALUES ({','.join('?' * len(rows[0]))})", rows)
    assert store.verify() == []


def flips(value: object) -> Iterator[object]:
    """``value`` with one bit turned: of a number the lowest and one that is free, of a text in each of its letters."""
    if isinstance(value, int):
        yield from (value ^ 1, value ^ 64)
    elif isinstance(value, str):
        for place, letter in enumerate(value):
            yield value[:place] + chr(ord(letter) ^ (1 << place % 6)) + value[place + 1 :]


def few(changed: Iterator[object]) -> list[object]:
    """At most a dozen of them, the first and the last among them."""
    known = list(changed)
    return known[:: max(1, len(known) // 10)] + known[-1:]


@pytest.mark.parametrize("column", COLUMNS)
@pytest.mark.parametrize("seq", [1, 2, 5, 6, 14])
def test_one_bit_turned_in_any_field_of_a_record_is_named(
    tampered: tuple[Store, sqlite3.Connection], column: str, seq: int
) -> None:
    store, raw = tampered
    (value,) = raw.execute(f'SELECT "{column}" FROM records WHERE seq = ?', (seq,)).fetchone()
    (rowid,) = raw.execute("SELECT rowid FROM records WHERE seq = ?", (seq,)).fetchone()
    tried = 0
    for changed in few(flips(value)):
        try:
            raw.execute(f'UPDATE records SET "{column}" = ? WHERE rowid = ?', (changed, rowid))
        except sqlite3.IntegrityError:
            continue  # such a seq is taken: the database itself refuses it
        tried += 1
        first = store.verify()[0]
        assert first.code in ("gap", "prev", "hash", "form")
        # A record moved away leaves its gap before the next one; one at the end of its site leaves only the head wrong.
        assert first.seq in (seq, seq + 1, changed)
    raw.execute(f'UPDATE records SET "{column}" = ? WHERE rowid = ?', (value, rowid))
    assert tried or value is None


def test_every_single_letter_of_a_body_counts(tampered: tuple[Store, sqlite3.Connection]) -> None:
    store, raw = tampered
    (value,) = raw.execute("SELECT body FROM records WHERE seq = 5").fetchone()
    for changed in flips(value):
        raw.execute("UPDATE records SET body = ? WHERE seq = 5", (changed,))
        assert store.verify()[0].seq == 5


@pytest.mark.parametrize(
    ("changed", "where"),
    [
        ("UPDATE records SET hand = 'h1' WHERE seq = 1", 1),
        ("UPDATE records SET hand = NULL WHERE seq = 5", 5),
        ("UPDATE records SET hand = '' WHERE seq = 1", 1),
        ("UPDATE records SET body = body || ' ' WHERE seq = 5", 5),
        ("UPDATE records SET body = replace(body, ':', ': ') WHERE seq = 5", 5),
        ("UPDATE records SET body = CAST(body AS BLOB) WHERE seq = 5", 5),
        ("UPDATE records SET body = '[' WHERE seq = 5", 5),
        ("UPDATE records SET body = '{}' WHERE seq = 5", 5),
        ("UPDATE records SET seq = 'x' WHERE seq = 5", 6),
        ("UPDATE records SET at = CAST(at AS BLOB) WHERE seq = 5", 5),
        ("UPDATE records SET day = 'someday' WHERE seq = 5", 5),
        ("DELETE FROM records WHERE seq = 5", 6),
        ("DELETE FROM records WHERE seq = 1", 2),
    ],
)
def test_what_is_no_bit_is_found_too(tampered: tuple[Store, sqlite3.Connection], changed: str, where: int) -> None:
    store, raw = tampered
    raw.execute(changed)
    assert store.verify()[0].seq == where


def test_only_the_first_record_of_a_chain_is_named(tampered: tuple[Store, sqlite3.Connection]) -> None:
    store, raw = tampered
    raw.execute("UPDATE records SET at = '2026-03-02T06:00:00.001Z' WHERE seq IN (3, 4, 9)")
    chain = [fault for fault in store.verify() if fault.code in ("gap", "prev", "hash", "form")]
    (record_id,) = raw.execute("SELECT record_id FROM records WHERE seq = 3").fetchone()
    assert chain == [Fault("hash", SITE, 3, record_id)]


def test_a_record_hashed_again_breaks_the_next_one(tampered: tuple[Store, sqlite3.Connection]) -> None:
    store, raw = tampered
    raw.execute("UPDATE records SET hash = replace(hash, 'a', 'b'), prev = replace(prev, 'a', 'b') WHERE seq = 3")
    assert store.verify()[0].seq == 3
    raw.execute("DELETE FROM records WHERE seq = 14")
    assert "head" in [fault.code for fault in store.verify()]


@pytest.mark.parametrize(
    ("changed", "code"),
    [
        ("UPDATE heads SET hash = replace(hash, substr(hash, 1, 1), 'g')", "head"),
        ("UPDATE heads SET seq = 13", "head"),
        ("UPDATE heads SET at = '2026-03-02T06:00:00.001Z'", "head"),
        ("UPDATE heads SET latest = '2026-03-02T06:00:00.001Z'", "head"),
        ("DELETE FROM heads", "head"),
        ("INSERT INTO heads VALUES ('OTHER', 1, 'x', 'x', 'x')", "head"),
        ("DELETE FROM evidence WHERE seq = 5", "evidence-missing"),
        ("UPDATE evidence SET effect = 'pass' WHERE effect = 'fail'", "evidence-extra"),
        ("UPDATE evidence SET day = '2027-03-02' WHERE seq = 5", "evidence-extra"),
        ("UPDATE evidence SET \"by\" = 'h1' WHERE seq = 6", "evidence-extra"),
        ("UPDATE evidence SET competency = 'more' WHERE seq = 5", "evidence-extra"),
        ("DELETE FROM stays WHERE seq = 3", "stay-missing"),
        ("UPDATE stays SET position = 'driller' WHERE seq = 4", "stay-extra"),
        ("DELETE FROM voids WHERE record_id = (SELECT record_id FROM records WHERE seq = 12)", "void-missing"),
        ("INSERT INTO voids SELECT record_id, record_id, site, seq FROM records WHERE seq = 5", "void-extra"),
    ],
)  # fmt: skip
def test_a_row_that_the_records_do_not_give_is_found(
    tampered: tuple[Store, sqlite3.Connection], changed: str, code: str
) -> None:
    store, raw = tampered
    raw.execute(changed)
    assert code in [fault.code for fault in store.verify()]


def test_a_record_that_cannot_be_read_is_an_error_and_not_a_gap(tampered: tuple[Store, sqlite3.Connection]) -> None:
    store, raw = tampered
    raw.execute("UPDATE records SET body = '{}' WHERE seq = 5")
    with pytest.raises(StoreDamaged, match="record-damaged"):
        list(store.records())


def test_verify_reads_page_by_page(tampered: tuple[Store, sqlite3.Connection], monkeypatch: pytest.MonkeyPatch) -> None:
    store, raw = tampered
    monkeypatch.setattr("trainer.store.ledger.PAGE", 4)
    assert store.verify() == []
    raw.execute("DELETE FROM records WHERE seq = 8")
    assert store.verify()[0].seq == 9


def test_the_site_itself_moved_elsewhere_is_found(tampered: tuple[Store, sqlite3.Connection], tmp_path: Path) -> None:
    store, raw = tampered
    raw.execute("UPDATE records SET site = 'OTHER'")
    assert {fault.code for fault in store.verify()} >= {"hash", "head"}
