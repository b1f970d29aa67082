"""One-use codes, hashed, with which a hand sets a PIN; a newer code takes the older one's place."""

from __future__ import annotations

from sqlalchemy import Connection, delete, select

from trainer.store.rows import put
from trainer.store.schema import codes
from trainer.store.shapes import Code

__all__ = ["drop", "everybody", "find", "keep"]


def find(connection: Connection, hand_id: str) -> Code | None:
    """That person's code, or ``None``."""
    row = connection.execute(select(codes).where(codes.c.hand_id == hand_id)).one_or_none()
    return Code(row.hash, row.expires) if row else None


def everybody(connection: Connection) -> dict[str, Code]:
    """Each person's code, run out or not, by hand_id."""
    return {row.hand_id: Code(row.hash, row.expires) for row in connection.execute(select(codes))}


def keep(connection: Connection, hand_id: str, code: Code) -> None:
    """Write a new code over the old one."""
    put(connection, codes, {"hand_id": hand_id}, hash=code.hash, expires=code.expires)


def drop(connection: Connection, hand_id: str) -> bool:
    """Whether there was a code to delete."""
    return connection.execute(delete(codes).where(codes.c.hand_id == hand_id)).rowcount > 0
