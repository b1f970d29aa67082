"""Whatever is changed behind the store's back, verify finds it and says where."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from sqlalchemy import create_engine, text
from sqlalchemy.exc import IntegrityError

from tests.contract import ledgers
from tests.contract.conftest import DIALECTS, made_place
from tests.contract.ledgers import SITE
from trainer.errors import StoreDamaged
from trainer.store import Fault, Store
from trainer.store.schema import records

COLUMNS = tuple(column.name for column in records.columns)
TABLES = ("records", "heads", "evidence", "stays", "voids")

ONLY_IN_A_FILE = ("AS BLOB", "seq = 'x'")
"""What a column of PostgreSQL does not take at all."""


class Raw:
    """The database behind the store's back: no triggers, no foreign keys, every statement at once."""

    def __init__(self, store: Store) -> None:
        self.engine = create_engine(store._engine.url, isolation_level="AUTOCOMMIT")
        self.is_file = self.engine.dialect.name == "sqlite"

    def run(self, statement: str, **values: object) -> list[tuple[Any, ...]]:
        """The rows that ``statement`` gives, if it gives any."""
        with self.engine.connect() as connection:
            done = connection.execute(text(statement), values) if values else connection.exec_driver_sql(statement)
            return [tuple(row) for row in done] if done.returns_rows else []

    def unguard(self) -> None:
        """Take the triggers away."""
        if self.is_file:
            for (name,) in self.run("SELECT name FROM sqlite_master WHERE type = 'trigger'"):
                self.run(f"DROP TRIGGER {name}")
        else:
            self.run("ALTER TABLE records DISABLE TRIGGER USER")

    def copies(self) -> dict[str, list[tuple[Any, ...]]]:
        """Every row of the tables that verify reads."""
        return {table: self.run(f"SELECT * FROM {table}") for table in TABLES}

    def put_back(self, copies: dict[str, list[tuple[Any, ...]]]) -> None:
        """The tables as ``copies`` has them."""
        for table, rows in copies.items():
            self.run(f"DELETE FROM {table}")
            for row in rows:
                values = {f"v{place}": value for place, value in enumerate(row)}
                self.run(f"INSERT INTO {table} VALUES ({', '.join(f':{name}' for name in values)})", **values)


Tampered = tuple[Store, Raw]


@pytest.fixture(scope="module", params=DIALECTS)
def opened(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Tampered]:
    """A store with a little of everything, and a way round it."""
    store = ledgers.empty_at(made_place(request, tmp_path_factory.mktemp("tampered") / "data"))
    ledgers.lively(store)
    raw = Raw(store)
    raw.unguard()
    yield store, raw
    raw.engine.dispose()
    store.close()


@pytest.fixture
def tampered(opened: Tampered) -> Iterator[Tampered]:
    """The same, undone afterwards."""
    store, raw = opened
    before = raw.copies()
    yield store, raw
    raw.put_back(before)
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
def test_one_bit_turned_in_any_field_of_a_record_is_named(tampered: Tampered, column: str, seq: int) -> None:
    store, raw = tampered
    ((value,),) = raw.run(f'SELECT "{column}" FROM records WHERE seq = :seq', seq=seq)
    # By a column that stays as it is.
    named = "seq" if column != "seq" else "hash"
    ((name,),) = raw.run(f"SELECT {named} FROM records WHERE seq = :seq", seq=seq)
    change = f'UPDATE records SET "{column}" = :changed WHERE {named} = :name'
    tried = 0
    for changed in few(flips(value)):
        try:
            raw.run(change, changed=changed, name=name)
        except IntegrityError:
            continue  # such a seq is taken: the database itself refuses it
        tried += 1
        first = store.verify()[0]
        assert first.code in ("gap", "prev", "hash", "form")
        # A record moved away leaves its gap before the next one; one at the end of its site leaves only the head wrong.
        assert first.seq in (seq, seq + 1, changed)
    assert tried or value is None


def test_every_single_letter_of_a_body_counts(tampered: Tampered) -> None:
    store, raw = tampered
    ((value,),) = raw.run("SELECT body FROM records WHERE seq = 5")
    for changed in flips(value):
        raw.run("UPDATE records SET body = :changed WHERE seq = 5", changed=changed)
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
def test_what_is_no_bit_is_found_too(tampered: Tampered, changed: str, where: int) -> None:
    store, raw = tampered
    if raw.is_file or not any(each in changed for each in ONLY_IN_A_FILE):
        raw.run(changed)
        assert store.verify()[0].seq == where


def test_only_the_first_record_of_a_chain_is_named(tampered: Tampered) -> None:
    store, raw = tampered
    raw.run("UPDATE records SET at = '2026-03-02T06:00:00.001Z' WHERE seq IN (3, 4, 9)")
    chain = [fault for fault in store.verify() if fault.code in ("gap", "prev", "hash", "form")]
    ((record_id,),) = raw.run("SELECT record_id FROM records WHERE seq = 3")
    assert chain == [Fault("hash", SITE, 3, record_id)]


def test_a_record_hashed_again_breaks_the_next_one(tampered: Tampered) -> None:
    store, raw = tampered
    raw.run("UPDATE records SET hash = replace(hash, 'a', 'b'), prev = replace(prev, 'a', 'b') WHERE seq = 3")
    assert store.verify()[0].seq == 3
    raw.run("DELETE FROM records WHERE seq = 14")
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
def test_a_row_that_the_records_do_not_give_is_found(tampered: Tampered, changed: str, code: str) -> None:
    store, raw = tampered
    raw.run(changed)
    assert code in [fault.code for fault in store.verify()]


def test_a_record_that_cannot_be_read_is_an_error_and_not_a_gap(tampered: Tampered) -> None:
    store, raw = tampered
    raw.run("UPDATE records SET body = '{}' WHERE seq = 5")
    with pytest.raises(StoreDamaged, match="record-damaged"):
        list(store.records())


def test_verify_reads_page_by_page(tampered: Tampered, monkeypatch: pytest.MonkeyPatch) -> None:
    store, raw = tampered
    monkeypatch.setattr("trainer.store.ledger.PAGE", 4)
    assert store.verify() == []
    raw.run("DELETE FROM records WHERE seq = 8")
    assert store.verify()[0].seq == 9


def test_the_site_itself_moved_elsewhere_is_found(tampered: Tampered) -> None:
    store, raw = tampered
    raw.run("UPDATE records SET site = 'OTHER'")
    assert {fault.code for fault in store.verify()} >= {"hash", "head"}
