"""A store with any number of records behind a crew of thirty, written straight into its tables.

Nobody could append two million records one by one in a bench. What the matrix reads is as an append would leave it;
the records' bodies are short and their hashes are none, so such a store is only to be read.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import islice
from pathlib import Path
from random import Random

from sqlalchemy import Connection, Table, insert, update

from tests.bench import rigs
from tests.contract import ledgers
from trainer.store import Store, Transaction
from trainer.store.schema import evidence, heads, people, records, stays

__all__ = ["CREW", "EACH", "HANDS", "filled"]

CREW = "crew-00"
HANDS = 30
EACH = 330
"""Records of one hand."""

_AT = "2026-05-01T00:00:00.000Z"
_TOGETHER = 20_000
_FIRST = date(2021, 1, 2)
_DAYS = 1900
Row = tuple[object, ...]
"""Values in the order of the table's columns."""


def filled(folder: Path, count: int) -> Store:
    """A store with ``count`` records, thirty hands a crew."""
    store = ledgers.empty(folder)
    everybody = max(count // EACH, HANDS)
    with store.transaction() as writing:
        connection = _of(writing)
        for table, rows in (
            (people, _people(everybody)),
            (stays, _stays(everybody)),
            (evidence, _evidence(count, everybody)),
            (records, _records(count, everybody)),
        ):
            _put(connection, table, rows)
        connection.execute(update(heads).values(seq=count + 10))
    return store


def _of(writing: Transaction) -> Connection:
    return writing._open


def _put(connection: Connection, table: Table, rows: Iterator[Row]) -> None:
    """All rows past SQLAlchemy, whose work on each value takes longer than the database's; then the indexes at once."""
    indexes = sorted(table.indexes, key=lambda index: str(index.name))
    for index in indexes:
        index.drop(connection)
    statement = str(insert(table).compile(dialect=connection.dialect))
    while some := list(islice(rows, _TOGETHER)):
        connection.exec_driver_sql(statement, some)
    for index in indexes:
        index.create(connection)


def _id(number: int) -> str:
    return f"01900000-0000-7000-8000-{number:012x}"


def _hand(place: int) -> str:
    return f"h{place:05}"


def _people(everybody: int) -> Iterator[Row]:
    for place in range(everybody):
        yield _hand(place), f"Hand {place}", "en", "", _AT


def _stays(everybody: int) -> Iterator[Row]:
    for place in range(everybody):
        crew = f"crew-{place // HANDS:02}"
        yield _id(10**9 + place), _hand(place), "joined", "2021-01-01", crew, "floorhand", _AT, "OTHER", place + 1


def _evidence(count: int, everybody: int) -> Iterator[Row]:
    random, known = Random(1), [each.id for each in rigs.catalogue().competencies]
    days = [(_FIRST + timedelta(days=number)).isoformat() for number in range(_DAYS)]
    hands = [_hand(place) for place in range(everybody)]
    parts = ("knowledge", "tailgate", "practical")
    for number in range(count):
        part, effect = parts[number // everybody % 3], "fail" if number % 11 == 0 else "pass"
        yield (
            hands[number % everybody], _id(number), random.choice(known), part, effect, random.choice(days), _AT,
            ledgers.SITE, number + 10, f"o{number % 7}",
        )  # fmt: skip


def _records(count: int, everybody: int) -> Iterator[Row]:
    hands = [_hand(place) for place in range(everybody)]
    prev, own = "0" * 64, "1" * 64
    for number in range(count):
        yield (
            _id(number), ledgers.SITE, number + 10, _AT, "2026-05-01", "console", hands[number % everybody], "quiz",
            '{"v":1}', prev, own,
        )  # fmt: skip
