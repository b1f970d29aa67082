"""The last record of each site's chain: where the next one goes, and a cheap sign that something was written."""

from __future__ import annotations

from sqlalchemy import Connection, bindparam, insert, select, update

from trainer.core.records import GENESIS, Record
from trainer.store import coding
from trainer.store.keys import Keys, fits
from trainer.store.schema import heads
from trainer.store.shapes import Head, SignedHead

__all__ = ["digest", "is_genuine", "lock", "move", "read", "signed"]


# Built once: an import appends thousands of records, and building a statement takes longer than running it.
_WHERE = heads.c.site == bindparam("in_site")
_LOCKED = select(heads.c.seq, heads.c.hash, heads.c.latest).where(_WHERE).with_for_update()
_MOVE = update(heads).where(_WHERE)


def read(connection: Connection) -> tuple[Head, ...]:
    """The head of each site, by site."""
    rows = connection.execute(select(heads.c.site, heads.c.seq, heads.c.hash, heads.c.at).order_by(heads.c.site))
    return tuple(Head(*row) for row in rows)


def digest(known: tuple[Head, ...]) -> str:
    """A hex SHA-256 over all of ``known``."""
    return coding.digest(coding.canonical([[head.site, head.seq, head.hash] for head in known]))


def lock(connection: Connection, site: str) -> tuple[int, str, str]:
    """``site``'s last seq, its hash and the latest ``at`` in the chain, held until the transaction ends."""
    row = connection.execute(_LOCKED, {"in_site": site}).one_or_none()
    return (row.seq, row.hash, row.latest) if row else (0, GENESIS, "")


def move(connection: Connection, record: Record, latest: str) -> None:
    """Make ``record`` its site's head; ``latest`` is the latest ``at`` in the chain now."""
    values = {"seq": record.seq, "hash": record.hash, "at": record.at, "latest": latest}
    if not connection.execute(_MOVE, {"in_site": record.site, **values}).rowcount:
        connection.execute(insert(heads), {"site": record.site, **values})


def signed(head: Head, keys: Keys) -> SignedHead:
    """``head`` signed with the ``keys`` of its site: a chain that is cut short later gives itself away."""
    signature = keys.sign_text(_told(head.site, head.seq, head.hash, head.at))
    return SignedHead(head.site, head.seq, head.hash, head.at, keys.public(), signature)


def is_genuine(head: SignedHead) -> bool:
    """Whether the holder of ``head.key`` signed exactly this head; whose key it is, its chain must say."""
    return fits(head.key, _told(head.site, head.seq, head.hash, head.at), head.signature)


def _told(site: str, seq: int, hash: str, at: str) -> bytes:
    return coding.canonical({"site": site, "seq": seq, "hash": hash, "at": at})
