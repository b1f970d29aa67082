"""What is kept of other sites besides their records: signed heads, forks, what was set aside, and doubtful clocks."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping

from sqlalchemy import Connection, insert, select

from trainer.core.records import Json
from trainer.store import coding
from trainer.store.rows import put
from trainer.store.schema import aside, doubts, forks, kept_heads
from trainer.store.shapes import SignedHead

__all__ = [
    "branches", "doubtful", "forks_of", "heads_kept", "keep_doubts", "keep_fork", "keep_head", "set_aside",
    "stands_aside",
]  # fmt: skip

_NAMES = tuple(SignedHead.__slots__)
_KEY = ("site", "seq", "hash")


def heads_kept(connection: Connection) -> tuple[SignedHead, ...]:
    """Every signed head that was ever kept here, by site, then seq."""
    wanted = select(*(kept_heads.c[name] for name in _NAMES)).order_by(*(kept_heads.c[name] for name in _KEY))
    return tuple(SignedHead(*row) for row in connection.execute(wanted))


def keep_head(connection: Connection, head: SignedHead) -> None:
    """Keep a signed head; one that is kept already stays as it is."""
    known = select(kept_heads.c.site).where(*(kept_heads.c[name] == getattr(head, name) for name in _KEY))
    if connection.execute(known).first() is None:
        connection.execute(insert(kept_heads), {name: getattr(head, name) for name in _NAMES})


def forks_of(connection: Connection) -> dict[str, int]:
    """Each site of which two different chains are known, with the first seq at which they differ."""
    return {row.site: row.seq for row in connection.execute(select(forks).order_by(forks.c.site))}


def keep_fork(connection: Connection, site: str, seq: int) -> None:
    """Remember that the chains of ``site`` differ from ``seq`` on, or from where that was known already."""
    known = forks_of(connection).get(site, seq)
    put(connection, forks, {"site": site}, seq=min(known, seq))


def set_aside(connection: Connection, records: Iterable[Mapping[str, Json]]) -> None:
    """Keep records that do not count, each under its hash, so that people can see what the other chain said."""
    for each in records:
        values = {"site": each["site"], "seq": each["seq"], "record": coding.canonical(dict(each)).decode()}
        put(connection, aside, {"hash": str(each["hash"])}, **values)


def stands_aside(connection: Connection) -> list[dict[str, Json]]:
    """Every record that was set aside, by site, seq, hash."""
    wanted = select(aside.c.record).order_by(aside.c.site, aside.c.seq, aside.c.hash)
    return [json.loads(row.record) for row in connection.execute(wanted)]


def keep_doubts(connection: Connection, found: Iterable[tuple[str, str, int, str]]) -> None:
    """Mark records as clock doubtful: (record_id, site, seq, ``ahead`` or ``back``)."""
    for record_id, site, seq, why in found:
        put(connection, doubts, {"record_id": record_id}, site=site, seq=seq, why=why)


def doubtful(connection: Connection) -> dict[str, str]:
    """Record id to why its clock is doubted."""
    return {row.record_id: row.why for row in connection.execute(select(doubts).order_by(doubts.c.record_id))}


def branches(aside_records: Iterable[Mapping[str, Json]]) -> list[list[Mapping[str, Json]]]:
    """What was set aside as runs of records that follow each other, each to its end; a shared beginning is in each."""
    by_hash = {str(each["hash"]): each for each in aside_records}
    followed = {str(each["prev"]) for each in by_hash.values()}
    ends = [each for name, each in by_hash.items() if name not in followed]
    runs: list[list[Mapping[str, Json]]] = []
    for end in ends:
        run: list[Mapping[str, Json]] = [end]
        while (before := by_hash.get(str(run[0]["prev"]))) is not None:
            run.insert(0, before)
        runs.append(run)
    return runs
