"""Hashes of PINs. What makes and compares them is in ``keys``, because it needs the pepper."""

from __future__ import annotations

from sqlalchemy import Connection, delete, select

from trainer.store.rows import put
from trainer.store.schema import pins

__all__ = ["drop", "find", "hands", "keep"]


def find(connection: Connection, hand_id: str) -> str | None:
    """The hash of that person's PIN, or ``None``."""
    return connection.execute(select(pins.c.hash).where(pins.c.hand_id == hand_id)).scalar_one_or_none()


def hands(connection: Connection) -> frozenset[str]:
    """Everybody who has a PIN."""
    return frozenset(connection.execute(select(pins.c.hand_id)).scalars())


def keep(connection: Connection, hand_id: str, pin_hash: str, at: str) -> None:
    """Write the hash of a new PIN over the old one; ``at`` is a stamp."""
    put(connection, pins, {"hand_id": hand_id}, hash=pin_hash, set_at=at)


def drop(connection: Connection, hand_id: str) -> None:
    """Delete that person's PIN."""
    connection.execute(delete(pins).where(pins.c.hand_id == hand_id))
