"""The evidence, stays and voids tables: written with their record, taken out by a void, read by the matrix."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from datetime import date
from itertools import pairwise
from typing import Any

from sqlalchemy import ColumnElement, Connection, Select, Table, and_, delete, insert, or_, select, tuple_

from trainer.core.records import Effect, EvidenceRow, Part, Record, StayRow
from trainer.store.projection import Projected
from trainer.store.schema import evidence, records, stays, voids

__all__ = [
    "evidence_rows", "hands_in", "is_out", "keep", "keep_stay", "places", "replace_all", "stay_rows", "table_row",
    "take_out", "voids_of",
]  # fmt: skip

_ORDER = ("day", "at", "site", "seq")
# Built once: building a statement takes longer than running it.
_KEEP = insert(evidence)
_KEEP_STAY = insert(stays)
_PARTS = {part.value: part for part in Part}
_EFFECTS = {effect.value: effect for effect in Effect}


def table_row(row: EvidenceRow | StayRow) -> dict[str, object]:
    """``row`` as its table holds it."""
    return {**{name: getattr(row, name) for name in row.__slots__}, "day": row.day.isoformat()}


def keep(connection: Connection, rows: Iterable[EvidenceRow]) -> None:
    """Write the evidence rows of one record."""
    values = [table_row(row) for row in rows]
    if values:
        connection.execute(_KEEP, values)


def keep_stay(connection: Connection, row: StayRow) -> None:
    """Write the stay row of one record."""
    connection.execute(_KEEP_STAY, table_row(row))


def take_out(connection: Connection, record: Record, void: Record) -> None:
    """Delete what ``record`` gave and remember the void that says so."""
    own = evidence.c.hand == record.hand, evidence.c.record_id == record.record_id
    connection.execute(delete(evidence).where(*own))
    connection.execute(delete(stays).where(stays.c.record_id == record.record_id))
    connection.execute(
        insert(voids).values(record_id=record.record_id, void_id=void.record_id, site=void.site, seq=void.seq)
    )


def replace_all(connection: Connection, given: Projected) -> None:
    """Have the tables hold exactly the rows in ``given``."""
    void_rows = [
        {"record_id": record_id, "void_id": void.record_id, "site": void.site, "seq": void.seq}
        for record_id, void in given.voids.items()
    ]
    tables: tuple[tuple[Table, list[dict[str, object]]], ...] = (
        (evidence, [table_row(row) for row in given.evidence]),
        (stays, [table_row(row) for row in given.stays]),
        (voids, list(void_rows)),
    )
    for table, rows in tables:
        connection.execute(delete(table))
        if rows:
            connection.execute(insert(table), rows)


def is_out(connection: Connection, record_id: str) -> bool:
    """Whether a void has taken that record out."""
    return connection.execute(select(voids.c.void_id).where(voids.c.record_id == record_id)).first() is not None


def evidence_rows(
    connection: Connection, after: Mapping[str, int] | None, hands: Collection[str] | None
) -> list[EvidenceRow]:
    """The evidence rows by (day, at, site, seq), then competency; ``after`` and ``hands`` narrow them."""
    wanted = select(*(evidence.c[name] for name in EvidenceRow.__slots__))
    if after:
        # The places in the chain are an index of the records: one more for the evidence is one more page an append.
        new = select(records.c.hand, records.c.record_id).where(_since(records, after))
        wanted = wanted.where(tuple_(evidence.c.hand, evidence.c.record_id).in_(new))
    wanted = _narrowed(wanted, evidence, None, hands).order_by(
        *(evidence.c[name] for name in _ORDER), evidence.c.competency
    )
    day_of = date.fromisoformat
    return [
        EvidenceRow(
            hand, competency, _PARTS[part], _EFFECTS[effect], day_of(day), at, site, seq, by, record_id
        )
        for hand, competency, part, effect, day, at, site, seq, by, record_id in connection.execute(wanted)
    ]  # fmt: skip


def stay_rows(connection: Connection, after: Mapping[str, int] | None, hands: Collection[str] | None) -> list[StayRow]:
    """The stay rows by (day, at, site, seq); ``after`` and ``hands`` narrow them."""
    columns = [stays.c[name] for name in StayRow.__slots__]
    wanted = _narrowed(select(*columns), stays, after, hands).order_by(*(stays.c[name] for name in _ORDER))
    return [
        StayRow(hand, kind, date.fromisoformat(day), crew, position, at, site, seq, record_id)
        for hand, kind, day, crew, position, at, site, seq, record_id in connection.execute(wanted)
    ]


def hands_in(connection: Connection, crew: str) -> list[str]:
    """Everybody who ever joined or moved to that crew, by hand_id."""
    wanted = select(stays.c.hand).where(stays.c.crew == crew).distinct().order_by(stays.c.hand)
    return list(connection.execute(wanted).scalars())


def places(connection: Connection) -> list[tuple[str, str]]:
    """Each crew and position that somebody ever had together, sorted."""
    wanted = select(stays.c.crew, stays.c.position).where(stays.c.kind != "left").distinct()
    return sorted((row.crew, row.position) for row in connection.execute(wanted))


def voids_of(connection: Connection, after: Mapping[str, int] | None) -> dict[str, str]:
    """Record id to the void that took it out, in id order; only by voids written after those seqs."""
    wanted = _narrowed(select(voids.c.record_id, voids.c.void_id), voids, after, None).order_by(voids.c.record_id)
    return {row.record_id: row.void_id for row in connection.execute(wanted)}


def _narrowed(
    wanted: Select[*tuple[Any, ...]],
    table: Table,
    after: Mapping[str, int] | None,
    hands: Collection[str] | None,
) -> Select[*tuple[Any, ...]]:
    if after:
        wanted = wanted.where(_since(table, after))
    return wanted if hands is None else wanted.where(table.c.hand.in_(sorted(hands)))


def _since(table: Table, after: Mapping[str, int]) -> ColumnElement[bool]:
    """What stands after that seq in each site, and every site not named.

    Said as ranges, each of which an index finds: what is not up to a seq would be looked for row by row.
    """
    site, named = table.c.site, sorted(after)
    later = [and_(site == each, table.c.seq > after[each]) for each in named]
    between = [and_(site > low, site < high) for low, high in pairwise(named)]
    return or_(*later, site < named[0], *between, site > named[-1])
