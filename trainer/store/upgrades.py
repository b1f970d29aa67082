"""Older stores brought forward, one step a version, in the transaction that opens them for the first time."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from sqlalchemy import Connection, text, update

from trainer.store.schema import ALL, SCHEMA, aside, doubts, evidence, forks, kept_heads, meta

__all__ = ["STEPS", "upgrade"]

Step = Callable[[Connection], None]


def _to_2(connection: Connection) -> None:
    """Other sites' records: their heads, forks and doubts; and when each name was written."""
    ALL.create_all(connection, tables=[kept_heads, forks, aside, doubts])
    connection.execute(text("ALTER TABLE people ADD COLUMN at VARCHAR NOT NULL DEFAULT ''"))


def _to_3(connection: Connection) -> None:
    """Evidence stands hand by hand, and the same rows stay in it."""
    connection.execute(text("CREATE TEMPORARY TABLE earlier AS SELECT * FROM evidence"))
    connection.execute(text("DROP TABLE evidence"))
    ALL.create_all(connection, tables=[evidence])
    names = ", ".join(f'"{column.name}"' for column in evidence.columns)
    connection.execute(text(f"INSERT INTO evidence ({names}) SELECT {names} FROM earlier"))  # noqa: S608 - our names
    connection.execute(text("DROP TABLE earlier"))


STEPS: Mapping[int, Step] = {1: _to_2, 2: _to_3}
"""What brings a store of that version to the next one."""


def upgrade(connection: Connection, version: int) -> None:
    """Bring a store of ``version`` to this program's; ``connection`` holds the write lock and the schema's tables.

    Records are not touched: what they hold says its own version.
    """
    for each in range(version, SCHEMA):
        STEPS[each](connection)
    connection.execute(update(meta).where(meta.c.name == "schema").values(value=str(SCHEMA)))
