"""One helper of the mutable tables: write a row whether or not it is there."""

from __future__ import annotations

from collections.abc import Mapping

from sqlalchemy import Connection, Table, insert, update

__all__ = ["put"]


def put(connection: Connection, table: Table, key: Mapping[str, str | int], **values: object) -> None:
    """Write ``values`` into the row of ``table`` under ``key``, making it where it is not there.

    An update first and an insert after it: the caller is in a write transaction, and this is the same in every dialect.
    """
    changed = update(table).values(**values)
    for name, value in key.items():
        changed = changed.where(table.c[name] == value)
    if not connection.execute(changed).rowcount:
        connection.execute(insert(table).values(**key, **values))
