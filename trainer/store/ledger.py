"""The append-only records: one row in, records out. Nothing here changes or deletes one."""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping, Sequence
from datetime import date
from typing import Any, cast

from sqlalchemy import Connection, Row, bindparam, insert, select, tuple_

from trainer.core.records import Json, Record, SiteFigures
from trainer.errors import StoreDamaged
from trainer.store import coding
from trainer.store.schema import records
from trainer.store.shapes import NewRecord

__all__ = [
    "PAGE", "add_all", "figures", "find", "from_fields", "from_row", "hashes", "known", "last_site_record",
    "made", "newest", "page", "raw_page",
]  # fmt: skip

PAGE = 500
"""Records read at a time."""

_Row = Row[Any]

# Built once: every append asks whether its record is there already.
_BY_ID = select(records).where(records.c.record_id == bindparam("wanted"))


_ADD = insert(records)


def made(new: NewRecord, site: str, seq: int, prev: str) -> tuple[Record, str]:
    """``new`` as the record at ``seq`` in ``site``, hashed, and the canonical text of its body.

    The body is read back, so that what is wrong is refused.

    Raises ``StoreDamaged("body-form")`` for a body with a field of another type than it says.
    """
    encoded = coding.encode(new.body)
    text = coding.canonical_plain(encoded).decode()
    body = coding.decode(new.kind, encoded, text)
    fields: dict[str, Json] = {
        "record_id": new.record_id,
        "site": site,
        "seq": seq,
        "at": new.at,
        "day": new.day.isoformat(),
        "by": new.by,
        "hand": new.hand,
        "kind": new.kind,
        "prev": prev,
    }
    hashed = coding.hash_of(fields, text, coding.canonical_plain)
    return Record(
        new.record_id, site, seq, new.at, new.day, new.by, new.hand, new.kind, body, prev, hashed
    ), text  # fmt: skip


def add_all(connection: Connection, given: Sequence[tuple[Record, str]]) -> None:
    """Write records, each with its body's canonical text.

    A taken record_id or (site, seq) is the driver's error, because the caller holds the lock.
    """
    connection.execute(_ADD, [coding.fields_json(record, body) for record, body in given])


def known(connection: Connection, record_ids: Sequence[str]) -> set[str]:
    """Those of the ids under which a record stands."""
    found: set[str] = set()
    for start in range(0, len(record_ids), PAGE):
        wanted = select(records.c.record_id).where(records.c.record_id.in_(record_ids[start : start + PAGE]))
        found.update(connection.execute(wanted).scalars())
    return found


def from_row(row: _Row) -> Record:
    """The record in ``row``; raises ``StoreDamaged("record-damaged")`` for a row that cannot be read."""
    try:
        body = coding.decode(row.kind, cast("dict[str, Json]", json.loads(row.body)))
        day = date.fromisoformat(row.day)
    except (ValueError, TypeError, RecursionError, StoreDamaged) as error:
        raise StoreDamaged("record-damaged", record=row.record_id, site=row.site, seq=row.seq) from error
    return Record(
        row.record_id, row.site, row.seq, row.at, day, row.by, row.hand, row.kind, body, row.prev, row.hash
    )  # fmt: skip


def from_fields(fields: Mapping[str, Json]) -> Record:
    """The record with the fields that an export gives it; raises ``StoreDamaged``, ``TypeError`` or ``ValueError``."""
    kind, hand, seq = fields["kind"], fields["hand"], fields["seq"]
    body = coding.decode(str(kind), cast("dict[str, Json]", fields["body"]))
    texts = [fields[name] for name in ("record_id", "site", "at", "day", "by", "prev", "hash")]
    if not all(isinstance(each, str) for each in texts) or type(seq) is not int or not isinstance(hand, str | None):
        raise TypeError("record")
    record_id, site, at, day, by, prev, digest = map(str, texts)
    return Record(record_id, site, seq, at, date.fromisoformat(day), by, hand, str(kind), body, prev, digest)


def find(connection: Connection, record_id: str) -> Record | None:
    """The record with that id, or ``None``."""
    row = connection.execute(_BY_ID, {"wanted": record_id}).one_or_none()
    return from_row(row) if row else None


def hashes(connection: Connection, site: str, seq: int) -> tuple[str, ...]:
    """The hash of the record at that place, if there is one."""
    wanted = select(records.c.hash).where(records.c.site == site, records.c.seq == seq)
    return tuple(connection.execute(wanted).scalars())


def raw_page(
    connection: Connection,
    after: tuple[str, int],
    *,
    kinds: Collection[str] = (),
    hand: str | None = None,
    site: str | None = None,
) -> Sequence[_Row]:
    """Up to ``PAGE`` rows by (site, seq) that come after that place, as they stand in the table."""
    wanted = select(records).order_by(records.c.site, records.c.seq).limit(PAGE)
    wanted = wanted.where(tuple_(records.c.site, records.c.seq) > after)
    if kinds:
        wanted = wanted.where(records.c.kind.in_(tuple(kinds)))
    if hand is not None:
        wanted = wanted.where(records.c.hand == hand)
    if site is not None:
        wanted = wanted.where(records.c.site == site)
    return connection.execute(wanted).all()


def page(
    connection: Connection,
    after: tuple[str, int],
    *,
    kinds: Collection[str] = (),
    hand: str | None = None,
    site: str | None = None,
) -> list[Record]:
    """The same as records."""
    return [from_row(row) for row in raw_page(connection, after, kinds=kinds, hand=hand, site=site)]


def newest(connection: Connection, kind: str, site: str, most: int) -> list[Record]:
    """The last records of that kind that ``site`` wrote, the newest first, ``most`` of them at the most."""
    wanted = select(records).where(records.c.kind == kind, records.c.site == site)
    return [from_row(row) for row in connection.execute(wanted.order_by(records.c.seq.desc()).limit(most))]


def last_site_record(connection: Connection, site: str) -> str:
    """The id of the last ``site`` record of ``site``; raises ``StoreDamaged("no-site-record")`` where there is none."""
    wanted = select(records.c.record_id).where(records.c.kind == "site", records.c.site == site)
    found = connection.execute(wanted.order_by(records.c.seq.desc()).limit(1)).scalar_one_or_none()
    if found is None:
        raise StoreDamaged("no-site-record", site=site)
    return str(found)


def figures(connection: Connection, record_id: str) -> SiteFigures:
    """The body of that ``site`` record."""
    record = find(connection, record_id)
    if record is None or not isinstance(record.body, SiteFigures):
        raise StoreDamaged("record-damaged", record=record_id, site="", seq=0)
    return record.body
