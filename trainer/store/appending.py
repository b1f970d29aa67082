"""What every append does, sent straight to the driver, in statements that were made once for each dialect.

An append is one wait for the disk. SQLAlchemy's way through a statement takes ten times as long as SQLite needs to run
it, and each way to a server and back as long as its disk: so here a file gets three short statements and a server one.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from functools import lru_cache
from typing import Any

import psycopg
from psycopg.sql import Literal
from sqlalchemy import Integer, Table

from trainer.core.records import EvidenceRow, Record
from trainer.store.dialects import Driver
from trainer.store.schema import evidence, heads, records

__all__ = ["Last", "asked_for_last", "write"]

Last = tuple[int, str, str]
"""A chain's last seq, its hash, and the latest ``at`` anywhere in the chain."""

_Values = tuple[str | int | None, ...]


def asked_for_last(site: str) -> str:
    """The question for ``site``'s ``Last``, to be sent to a server together with others."""
    # Nothing but a text whole as it is can be sent with others, so the site stands in it, quoted by the driver.
    return f"SELECT seq, hash, latest FROM heads WHERE site = {Literal(site).as_string()}"  # noqa: S608


def write(driver: Driver, record: Record, body: str, rows: Sequence[EvidenceRow], latest: str) -> bool:
    """Write ``record``, ``body`` the text of its body, its evidence ``rows``, and make it its site's head.

    ``False``, and nothing is written, where a record stands under its id. Raises what the driver raises: a taken
    (site, seq) is an error, because the caller holds the lock.
    """
    added: _Values = (
        record.record_id, record.site, record.seq, record.at, record.day.isoformat(), record.by, record.hand,
        record.kind, body, record.prev, record.hash,
    )  # fmt: skip
    moved: _Values = (record.site, record.seq, record.hash, record.at, latest)
    if isinstance(driver, sqlite3.Connection):
        return _into_file(driver, added, [_kept(row) for row in rows], moved)
    return _to_server(driver, added, [_kept(row) for row in rows], moved)


def _kept(row: EvidenceRow) -> _Values:
    return (
        row.hand, row.record_id, row.competency, row.part.value, row.effect.value, row.day.isoformat(), row.at,
        row.site, row.seq, row.by,
    )  # fmt: skip


def _names(table: Table) -> str:
    return ", ".join(f'"{column.name}"' for column in table.columns)


def _marks(table: Table, mark: str) -> str:
    """A mark for each column's value; a server is told which ones are numbers, as it cannot see it by itself."""
    return ", ".join(
        f"{mark}::integer" if mark == "%s" and isinstance(column.type, Integer) else mark for column in table.columns
    )


def _into(table: Table) -> str:
    return f"INSERT INTO {table.name} ({_names(table)})"


_ONCE = "ON CONFLICT (record_id) DO NOTHING"
_OVER = "ON CONFLICT (site) DO UPDATE SET " + ", ".join(
    f"{column.name} = excluded.{column.name}" for column in heads.columns if column.name != "site"
)

_ADD = f"{_into(records)} VALUES ({_marks(records, '?')}) {_ONCE}"
_KEEP = f"{_into(evidence)} VALUES ({_marks(evidence, '?')})"
_MOVE = f"{_into(heads)} VALUES ({_marks(heads, '?')}) {_OVER}"

# Whoever writes holds the lock, so that what a server sees here as not there is not there.
_FIRST = (
    f"{_into(records)} SELECT {_marks(records, '%s')}"  # noqa: S608 - names of the schema only
    " WHERE NOT EXISTS (SELECT FROM records WHERE record_id = %s) RETURNING record_id"
)
_GIVEN = f"SELECT {_marks(evidence, '%s')} FROM written"  # noqa: S608 - as above
_MOVED = "UPDATE heads SET seq = %s::integer, hash = %s, at = %s, latest = %s FROM written WHERE site = %s"
_BEGUN = f"{_into(heads)} SELECT {_marks(heads, '%s')} FROM written"  # noqa: S608 - as above
_UNLESS = "WHERE NOT EXISTS (SELECT FROM heads WHERE site = %s)"
_THEN = f"moved AS ({_MOVED}), begun AS ({_BEGUN} {_UNLESS}) SELECT FROM written"


def _into_file(driver: sqlite3.Connection, added: _Values, kept: Sequence[_Values], moved: _Values) -> bool:
    if not driver.execute(_ADD, added).rowcount:
        return False
    for row in kept:
        driver.execute(_KEEP, row)
    driver.execute(_MOVE, moved)
    return True


def _to_server(driver: psycopg.Connection[Any], added: _Values, kept: Sequence[_Values], moved: _Values) -> bool:
    site, *rest = moved
    values = [*added, added[0], *(value for row in kept for value in row), *rest, site, *moved, site]
    return bool(driver.execute(_all_in_one(len(kept)), values).rowcount)


@lru_cache(maxsize=64)
def _all_in_one(count: int) -> bytes:
    """One statement for a record, so many evidence rows and its head: the rest only where the record was written."""
    rows = " UNION ALL ".join([_GIVEN] * count)
    kept = f", kept AS ({_into(evidence)} {rows})" if count else ""
    return f"WITH written AS ({_FIRST}){kept}, {_THEN}".encode()
