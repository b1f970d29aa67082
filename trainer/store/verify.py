"""Chains, heads and rows, worked out again from the records as they stand in the tables."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection, Row, Table, select

from trainer.core.records import GENESIS, Json, Record
from trainer.errors import StoreDamaged
from trainer.store import coding, dialects, foreign, ledger, projection
from trainer.store.evidence import table_row
from trainer.store.heads import is_genuine
from trainer.store.schema import evidence, heads, records, stays, voids
from trainer.store.shapes import Fault
from trainer.store.verify_beside import foreign_faults, text_faults

__all__ = ["faults"]

_Row = Row[Any]
_FIELDS = tuple(column.name for column in records.columns)


@dataclass(slots=True)
class _Chain:
    """What was seen of one site's chain so far. After the first record that does not fit no other is named."""

    seq: int = 0
    hash: str = GENESIS
    at: str = ""
    latest: str = ""
    fault: Fault | None = None


@dataclass(slots=True)
class _Seen:
    """All chains, and each record that could be read with the time at which it counts."""

    chains: dict[str, _Chain] = field(default_factory=dict)
    records: list[tuple[Record, str]] = field(default_factory=list)
    hashes: set[tuple[str, int, str]] = field(default_factory=set)
    places: set[tuple[str, str, int]] = field(default_factory=set)


def faults(connection: Connection, site: str) -> list[Fault]:
    """Whatever does not verify in the store of ``site``, within each by site, seq.

    Chains come first, then heads, then evidence, stays and voids, what is kept of other sites' forks and clocks, the
    texts that records stand for, and at the end the file. Raises ``StoreDamaged`` for one that is no database.
    """
    with dialects.reading_damaged(connection) as is_file_whole:
        return _faults(connection, site) + ([] if is_file_whole else [Fault("file", "", 0, "")])


def _faults(connection: Connection, site: str) -> list[Fault]:
    # A store has a chain of its own site from its first moment on.
    seen = _Seen(chains={site: _Chain()})
    for row in _rows(connection):
        _follow(seen, row)
    broken = [chain.fault for chain in seen.chains.values() if chain.fault is not None]
    broken += _kept_faults(connection, seen)
    broken += _head_faults(connection, seen.chains) + _row_faults(connection, seen.records)
    return broken + foreign_faults(connection, seen.hashes, seen.places) + text_faults(connection)


def _rows(connection: Connection) -> Iterator[_Row]:
    after: tuple[str, int] | None = ("", 0)
    while after is not None:
        page = ledger.raw_page(connection, after)
        yield from page
        after = (page[-1].site, page[-1].seq) if len(page) == ledger.PAGE else None


def _follow(seen: _Seen, row: _Row) -> None:
    chain = seen.chains.setdefault(row.site, _Chain())
    code = _chain_code(chain, row)
    if code and chain.fault is None:
        chain.fault = Fault(code, str(row.site), row.seq, str(row.record_id))
    # A seq that is no number at all is a fault too, and must not stop the walk.
    chain.seq = row.seq if isinstance(row.seq, int) else chain.seq + 1
    chain.hash, chain.at = row.hash, row.at
    seen.hashes.add((row.site, row.seq, row.hash))
    seen.places.add((row.record_id, row.site, row.seq))
    chain.latest = max(chain.latest, str(row.at))
    try:
        record = ledger.from_row(row)
        # A part or an outcome that there is not shows only here.
        projection.rows_of(record)
        seen.records.append((record, chain.latest))
    except (StoreDamaged, ValueError):
        chain.fault = chain.fault or Fault("form", str(row.site), row.seq, str(row.record_id))


def _chain_code(chain: _Chain, row: _Row) -> str | None:
    """What is wrong with ``row`` as the next one of its chain, or ``None``."""
    if row.seq != chain.seq + 1:
        return "gap"
    if row.prev != chain.hash:
        return "prev"
    if row.hash != _recomputed(row):
        return "hash"
    return None


def _recomputed(row: _Row) -> str | None:
    """The hash of the fields as they stand; ``None`` where the body is not in its canonical form."""
    fields: dict[str, Json] = {name: getattr(row, name) for name in _FIELDS}
    try:
        body = json.loads(str(row.body))
        if not isinstance(row.body, str) or coding.canonical(body).decode() != row.body:
            return None
        return coding.hash_of(fields, row.body)
    except (ValueError, TypeError, RecursionError):
        return None


def _kept_faults(connection: Connection, seen: _Seen) -> list[Fault]:
    """A fault for each site whose chain does not hold a head that was signed and kept, or whose signature is not its.

    That is how a tail that was cut off shows. Of a forked site heads of either chain are kept, so that its chain is not
    asked.
    """
    forked = foreign.forks_of(connection)
    found: dict[str, Fault] = {}
    for head in foreign.heads_kept(connection):
        is_there = head.site in forked or (head.site, head.seq, head.hash) in seen.hashes
        if not is_there or not is_genuine(head):
            found.setdefault(head.site, Fault("cut", head.site, head.seq, ""))
    return list(found.values())


def _head_faults(connection: Connection, chains: Mapping[str, _Chain]) -> list[Fault]:
    stored = {row.site: (row.seq, row.hash, row.at, row.latest) for row in connection.execute(select(heads))}
    given = {site: (chain.seq, chain.hash, chain.at, chain.latest) for site, chain in chains.items()}
    return [
        Fault("head", str(site), given[site][0] if site in given else 0, "")
        for site in sorted(stored.keys() | given.keys(), key=str)
        if stored.get(site) != given.get(site)
    ]


def _row_faults(connection: Connection, seen: list[tuple[Record, str]]) -> list[Fault]:
    """A fault for each row that the records do not give, and for each that they give and that is missing."""
    given = projection.project(seen, foreign.forks_of(connection))
    given_evidence = [table_row(row) for row in given.evidence]
    given_stays = [table_row(row) for row in given.stays]
    given_voids = [
        {"record_id": record_id, "void_id": void.record_id, "site": void.site, "seq": void.seq}
        for record_id, void in given.voids.items()
    ]
    return [
        *_compared(connection, evidence, "evidence", given_evidence),
        *_compared(connection, stays, "stay", given_stays),
        *_compared(connection, voids, "void", given_voids),
    ]


def _compared(connection: Connection, table: Table, what: str, given: list[dict[str, object]]) -> list[Fault]:
    stored = Counter(tuple(row) for row in connection.execute(select(table)))
    names = [column.name for column in table.columns]
    wanted = Counter(tuple(row[name] for name in names) for row in given)
    extra = [(f"{what}-extra", dict(zip(names, row, strict=True))) for row in stored - wanted]
    missing = [(f"{what}-missing", dict(zip(names, row, strict=True))) for row in wanted - stored]
    found = [_fault(code, row) for code, row in extra + missing]
    return sorted(found, key=lambda each: (each.site, each.seq, each.record_id, each.code))


def _fault(code: str, row: Mapping[str, object]) -> Fault:
    seq = row["seq"]
    return Fault(code, str(row["site"]), seq if isinstance(seq, int) else 0, str(row["record_id"]))
