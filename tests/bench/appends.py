"""Records appended one a transaction, each on the disk before the next, against bare INSERTs that wait as long.

The bare ones go straight to the driver, one a transaction too: the same row with as long a body, into a table with the
columns and indexes of the records, in a database that waits for the disk in the same way. They look at nothing, work
nothing out, chain nothing, and write no evidence and no head.
"""

from __future__ import annotations

import sqlite3
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from itertools import count
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter
from typing import TypeVar

import psycopg

from tests.bench.lines import Line, Wrong
from tests.contract import ledgers, postgres
from trainer.store import NewRecord, Store, coding

__all__ = ["measure"]

ROUNDS = 5
_COLUMNS = ("record_id", "site", "seq", "at", "day", "by", "hand", "kind", "body", "prev", "hash")
_TABLE = (
    """CREATE TABLE bare (record_id VARCHAR PRIMARY KEY, site VARCHAR, seq INTEGER, at VARCHAR, day VARCHAR,
    "by" VARCHAR, hand VARCHAR, kind VARCHAR, body TEXT, prev VARCHAR, hash VARCHAR, UNIQUE (site, seq))""",
    "CREATE INDEX bare_by_hand ON bare (hand, kind)",
    "CREATE INDEX bare_by_kind ON bare (kind, site, seq)",
)
_New = TypeVar("_New")
Write = Callable[[tuple[object, ...]], None]


def measure(full: bool) -> Sequence[Line]:
    """On SQLite, and on PostgreSQL where it is installed."""
    each = 200 if full else 60
    with TemporaryDirectory() as folder:
        place = ledgers.settings_in(Path(folder) / "data")
        store = ledgers.empty_at(place)
        with _bare_sqlite(Path(folder) / "bare.sqlite3") as write:
            lines = [_line("SQLite", store, write, each)]
        store.close()
        if postgres.programs() is None:
            print("no PostgreSQL here: appends to it are not measured", file=sys.stderr)
            return lines
        with postgres.server(waits=True) as server:
            store = ledgers.empty_at(ledgers.settings_in(Path(folder) / "keys", server.database()))
            with _bare_postgresql(server.database()) as write:
                lines.append(_line("PostgreSQL", store, write, each))
            store.close()
    return lines


def _line(name: str, store: Store, write: Write, each: int) -> Line:
    """The two take turns, a round each; the rate is that of the middle round."""
    seqs = count(1)
    body = coding.canonical(coding.encode(ledgers.quiz())).decode()

    def row() -> tuple[object, ...]:
        at = (ledgers.AT, "2026-03-02", "console", "h1", "quiz", body, "0" * 64, "1" * 64)
        return (next(ledgers.IDS), ledgers.SITE, next(seqs), *at)

    def record() -> NewRecord:
        return ledgers.new(ledgers.quiz(), "h1")

    def append(new: NewRecord) -> None:
        with store.transaction() as writing:
            writing.append(new)

    before, bare_rates, rates = store.heads()[0].seq, [], []
    for _ in range(ROUNDS):
        bare_rates.append(_rate(write, [row() for _ in range(each)]))
        rates.append(_rate(append, [record() for _ in range(each)]))
    if store.heads()[0].seq != before + ROUNDS * each or store.verify():
        raise Wrong(f"{name}: not every record was appended as it should be")
    share = median(rates) / median(bare_rates)
    return Line(
        f"durable appends on {name}, one a transaction",
        f"{median(rates):.0f} a second",
        f"{median(bare_rates):.0f} a second bare INSERT, as durable",
        f"{share:.2f}",
        "at least 0.50",
        share >= 0.5,
    )


def _rate(write: Callable[[_New], None], given: Sequence[_New]) -> float:
    began = perf_counter()
    for each in given:
        write(each)
    return len(given) / (perf_counter() - began)


@contextmanager
def _bare_sqlite(path: Path) -> Iterator[Write]:
    connection = sqlite3.connect(path, isolation_level=None)
    for pragma in ("journal_mode=WAL", "synchronous=FULL", "secure_delete=ON"):
        connection.execute(f"PRAGMA {pragma}")
    for statement in _TABLE:
        connection.execute(statement)
    insert = f"INSERT INTO bare VALUES ({', '.join('?' * len(_COLUMNS))})"

    def write(values: tuple[object, ...]) -> None:
        connection.execute("BEGIN IMMEDIATE")
        connection.execute(insert, values)
        connection.execute("COMMIT")

    try:
        yield write
    finally:
        connection.close()


@contextmanager
def _bare_postgresql(url: str) -> Iterator[Write]:
    insert = f"INSERT INTO bare VALUES ({', '.join(['%s'] * len(_COLUMNS))})"
    with psycopg.connect(url) as connection:
        for setting in ("fsync", "synchronous_commit"):
            if connection.execute(f"SHOW {setting}").fetchone() != ("on",):
                raise Wrong(f"PostgreSQL does not wait for the disk: {setting}")
        for statement in _TABLE:
            connection.execute(statement)
        connection.commit()

        def write(values: tuple[object, ...]) -> None:
            connection.execute(insert, values)
            connection.commit()

        yield write
