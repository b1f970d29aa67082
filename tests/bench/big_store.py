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
Row = dict[str, object]


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
    while some := list(islice(rows, _TOGETHER)):
        connection.execute(insert(table), some)


def _id(number: int) -> str:
    return f"01900000-0000-7000-8000-{number:012x}"


def _hand(place: int) -> str:
    return f"h{place:05}"


def _people(everybody: int) -> Iterator[Row]:
    for place in range(everybody):
        yield {"hand_id": _hand(place), "name": f"Hand {place}", "language": "en", "note": "", "at": _AT}


def _stays(everybody: int) -> Iterator[Row]:
    for place in range(everybody):
        yield {
            "record_id": _id(10**9 + place), "hand": _hand(place), "kind": "joined", "day": "2021-01-01",
            "crew": f"crew-{place // HANDS:02}", "position": "floorhand", "at": _AT, "site": "OTHER", "seq": place + 1,
        }  # fmt: skip


def _evidence(count: int, everybody: int) -> Iterator[Row]:
    random, known = Random(1), [each.id for each in rigs.catalogue().competencies]
    first = date(2021, 1, 2)
    parts = ("knowledge", "tailgate", "practical")
    for number in range(count):
        yield {
            "record_id": _id(number), "competency": random.choice(known), "hand": _hand(number % everybody),
            "part": parts[number // everybody % 3], "effect": "fail" if number % 11 == 0 else "pass",
            "day": (first + timedelta(days=random.randrange(1900))).isoformat(), "at": _AT, "site": ledgers.SITE,
            "seq": number + 10, "by": f"o{number % 7}",
        }  # fmt: skip


def _records(count: int, everybody: int) -> Iterator[Row]:
    for number in range(count):
        yield {
            "record_id": _id(number), "site": ledgers.SITE, "seq": number + 10, "at": _AT, "day": "2026-05-01",
            "by": "console", "hand": _hand(number % everybody), "kind": "quiz", "body": '{"v":1}', "prev": "0" * 64,
            "hash": "1" * 64,
        }  # fmt: skip
