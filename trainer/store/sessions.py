"""Sign-in sessions and their one-time tickets. Only hashes stand here, so a copied database opens no session."""

from __future__ import annotations

import hashlib

from sqlalchemy import Connection, delete, insert, select, update

from trainer.store.schema import sessions, tickets
from trainer.store.shapes import Session

__all__ = ["add", "add_ticket", "drop_before", "drop_of", "end", "end_of", "find", "take_ticket", "touch"]


def _hash(secret: str) -> str:
    return hashlib.sha256(secret.encode()).hexdigest()


def find(connection: Connection, session_id: str) -> Session | None:
    """That session, or ``None``."""
    row = connection.execute(select(sessions).where(sessions.c.id_hash == _hash(session_id))).one_or_none()
    return Session(row.hand, row.device, row.opened, row.seen, row.ended) if row else None


def add(connection: Connection, session_id: str, hand: str, device: str, now: int) -> None:
    """Write a session opened at ``now``."""
    connection.execute(
        insert(sessions).values(id_hash=_hash(session_id), hand=hand, device=device, opened=now, seen=now, why="")
    )


def touch(connection: Connection, session_id: str, now: int) -> None:
    """Write that the session was used at ``now``, unless it has ended."""
    open_one = (sessions.c.id_hash == _hash(session_id)) & sessions.c.ended.is_(None)
    connection.execute(update(sessions).where(open_one).values(seen=now))


def end(connection: Connection, session_id: str, now: int, why: str) -> None:
    """End that session, unless it has ended."""
    open_one = (sessions.c.id_hash == _hash(session_id)) & sessions.c.ended.is_(None)
    connection.execute(update(sessions).where(open_one).values(ended=now, why=why))


def end_of(connection: Connection, hand: str, now: int, why: str, *, but: str | None) -> None:
    """End every open session of ``hand``, except the session ``but``."""
    wanted = (sessions.c.hand == hand) & sessions.c.ended.is_(None)
    if but is not None:
        wanted &= sessions.c.id_hash != _hash(but)
    connection.execute(update(sessions).where(wanted).values(ended=now, why=why))


def drop_of(connection: Connection, hand: str) -> None:
    """Delete every session of ``hand``, with its tickets."""
    connection.execute(delete(sessions).where(sessions.c.hand == hand))


def drop_before(connection: Connection, moment: int) -> None:
    """Delete whatever was opened before ``moment`` (milliseconds since 1970), with its tickets."""
    connection.execute(delete(sessions).where(sessions.c.opened < moment))


def add_ticket(connection: Connection, ticket: str, session_id: str, expires: int) -> None:
    """Write a ticket for that session, good until ``expires``."""
    connection.execute(insert(tickets).values(ticket_hash=_hash(ticket), session=_hash(session_id), expires=expires))


def take_ticket(connection: Connection, ticket: str, now: int) -> bool:
    """Whether the ticket was good; it is gone either way, so that of two who bring it one is too late."""
    gone = delete(tickets).where(tickets.c.ticket_hash == _hash(ticket)).returning(tickets.c.expires)
    expires = connection.execute(gone).scalar_one_or_none()
    return expires is not None and now <= expires
