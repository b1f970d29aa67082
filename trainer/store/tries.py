"""Wrong PINs in a row, by person and device, kept here so that a restart forgets none."""

from __future__ import annotations

from sqlalchemy import Connection, delete, select

from trainer.store.rows import put
from trainer.store.schema import tries
from trainer.store.shapes import Tries

__all__ = ["clear", "drop_before", "drop_of", "find", "keep"]


def find(connection: Connection, hand: str, device: str) -> Tries:
    """The tries of that person on that device; none where nothing is kept."""
    wanted = select(tries).where(tries.c.hand == hand, tries.c.device == device)
    row = connection.execute(wanted).one_or_none()
    return Tries(row.failed, row.last, row.until) if row else Tries()


def keep(connection: Connection, hand: str, device: str, made: Tries) -> None:
    """Write the tries of that person on that device."""
    put(connection, tries, {"hand": hand, "device": device}, failed=made.failed, last=made.last, until=made.until)


def clear(connection: Connection, hand: str, device: str) -> None:
    """Forget them, after a right PIN."""
    connection.execute(delete(tries).where(tries.c.hand == hand, tries.c.device == device))


def drop_of(connection: Connection, hand: str) -> None:
    """Forget that person's tries on every device."""
    connection.execute(delete(tries).where(tries.c.hand == hand))


def drop_before(connection: Connection, moment: int) -> None:
    """Forget whatever was last tried before ``moment`` (milliseconds since 1970)."""
    connection.execute(delete(tries).where(tries.c.last < moment))
