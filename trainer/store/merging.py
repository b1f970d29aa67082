"""Other sites' records taken in: a union by site, in which the longest chain wins and nothing is picked by chance.

Merging twice changes nothing, and the order in which bundles arrive does not matter. A chain that does not verify, or
whose head its own site did not sign, is left out by name; where two different chains of one site are known, neither
counts from the place where they part.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import groupby

from sqlalchemy import Connection, insert, select

from trainer.core.records import GENESIS, Erased, Json, Key, Record
from trainer.errors import StoreDamaged
from trainer.store import coding, foreign, heads, ledger, people, projection, texts
from trainer.store.bundles import Bundle
from trainer.store.evidence import replace_all
from trainer.store.schema import records
from trainer.store.shapes import Person, SignedHead

__all__ = ["Left", "Merged", "forget_erased", "merge", "rebuild", "runs_back"]

DOUBT = timedelta(minutes=5)
"""How far a clock may run ahead of the receiver's, or back within its own chain, before its records are marked."""

_FIELDS = frozenset(column.name for column in records.columns)


@dataclass(frozen=True, slots=True)
class Left:
    """A chain that was not taken in: ``why`` is ``forged``, ``unsigned``, ``fork`` or ``own``, from ``seq`` on."""

    site: str
    seq: int
    why: str


@dataclass(frozen=True, slots=True)
class Merged:
    """What a merge did: new records a site, chains left out, records whose clock is doubted, names written."""

    written: Mapping[str, int]
    left: tuple[Left, ...]
    doubtful: int
    names: int


def merge(connection: Connection, bundle: Bundle, own_site: str, now: datetime, but: frozenset[str]) -> Merged:
    """Take ``bundle`` in, within the transaction of ``connection``, which holds the write lock.

    ``own_site`` is whose store this is: its own chain is written here only and never from a bundle. ``but`` are the
    hand_ids whose names stay each site's own.
    """
    written: dict[str, int] = {}
    left: list[Left] = []
    doubtful = 0
    for chain in _chains(bundle):
        site = str(chain[0].get("site"))
        fault = _fault(site, chain, bundle.heads)
        taken = [] if fault else _difference(connection, site, chain, own_site, left)
        if fault:
            left.append(fault)
        elif not any(each.site == site and each.why in ("forged", "own") for each in left):
            # A head of records that are not here would look like a tail that was cut off.
            _keep_heads(connection, site, len(chain), bundle.heads)
        if taken:
            doubtful += _write(connection, taken, now)
            written[site] = len(taken)
    names = _names(connection, bundle.people, but)
    for text in bundle.texts:
        texts.take(connection, text.key, text.salt, text.text, text.hand)
    rebuild(connection)
    forget_erased(connection)
    return Merged(written, tuple(dict.fromkeys(left)), doubtful, names)


def _chains(bundle: Bundle) -> Iterator[Sequence[Mapping[str, Json]]]:
    """Each site's chain, and after it every other chain of that site, from its first record on."""
    aside = foreign.branches(bundle.aside)
    for site, group in groupby(bundle.records, key=lambda each: each.get("site")):
        chain = list(group)
        yield chain
        for run in aside:
            first = run[0]["seq"]
            if run[0].get("site") == site and isinstance(first, int):
                yield [*chain[: first - 1], *run]


def _keep_heads(connection: Connection, site: str, length: int, known: Iterable[SignedHead]) -> None:
    for head in known:
        if head.site == site and head.seq <= length and heads.is_genuine(head):
            foreign.keep_head(connection, head)


def _fault(site: str, chain: Sequence[Mapping[str, Json]], known: Iterable[SignedHead]) -> Left | None:
    """Why this chain cannot be believed, or ``None``: each record follows the one before, the site signed the last."""
    prev, key = GENESIS, ""
    for place, fields in enumerate(chain, start=1):
        record = _record(fields)
        if record is None or (record.seq, record.prev) != (place, prev) or record.hash != _hash(fields):
            return Left(site, place, "forged")
        prev = record.hash
        key = record.body.public if isinstance(record.body, Key) else key
    for head in known:
        if (head.site, head.seq, head.hash, head.key) == (site, len(chain), prev, key) and heads.is_genuine(head):
            return None
    return Left(site, len(chain), "unsigned")


def _record(fields: Mapping[str, Json]) -> Record | None:
    """The record with these fields, ``None`` for what cannot be one."""
    if fields.keys() != _FIELDS:
        return None
    try:
        record = ledger.from_fields(fields)
        projection.rows_of(record)
    except (StoreDamaged, ValueError, TypeError):
        return None
    return record


def _hash(fields: Mapping[str, Json]) -> str:
    return coding.hash_of(fields, coding.canonical(fields["body"]).decode())


def _difference(
    connection: Connection, site: str, chain: Sequence[Mapping[str, Json]], own_site: str, left: list[Left]
) -> Sequence[Mapping[str, Json]]:
    """The records of ``chain`` that are new here; where it parts from ours that is put on record, and in ``left``."""
    ours = connection.execute(select(records.c.hash).where(records.c.site == site).order_by(records.c.seq)).scalars()
    known = list(ours)
    parts = next((n for n, (each, own) in enumerate(zip(chain, known, strict=False)) if each["hash"] != own), None)
    if site == own_site:
        # What this site wrote it has; a chain of its own that says more, or other things, comes from elsewhere.
        if parts is not None or len(chain) > len(known):
            left.append(Left(site, (len(known) if parts is None else parts) + 1, "own"))
        return ()
    fork = foreign.forks_of(connection).get(site)
    if parts is not None:
        foreign.keep_fork(connection, site, parts + 1)
        foreign.set_aside(connection, chain[parts:])
        left.append(Left(site, parts + 1, "fork"))
        return ()
    if fork is not None:
        # Which of two chains goes on does not matter any more: neither counts.
        foreign.set_aside(connection, chain[len(known) :])
        left.append(Left(site, fork, "fork"))
        return ()
    return _unless_taken(connection, site, chain[len(known) :], left)


def _unless_taken(
    connection: Connection, site: str, new: Sequence[Mapping[str, Json]], left: list[Left]
) -> Sequence[Mapping[str, Json]]:
    """``new``, or nothing where an id in it stands for another site's record already."""
    for each in new:
        if ledger.find(connection, str(each["record_id"])) is not None:
            left.append(Left(site, int(str(each["seq"])), "forged"))
            return ()
    return new


def _write(connection: Connection, new: Sequence[Mapping[str, Json]], now: datetime) -> int:
    """Write ``new`` to the end of its site's chain; how many of them have a doubtful clock."""
    site = str(new[0]["site"])
    _, _, latest = heads.lock(connection, site)
    doubts: list[tuple[str, str, int, str]] = []
    for fields in new:
        record = ledger.from_fields(fields)
        connection.execute(insert(records), {**fields, "body": coding.canonical(fields["body"]).decode()})
        why = _doubt(record.at, latest, now)
        if why:
            doubts.append((record.record_id, site, record.seq, why))
        latest = max(latest, record.at)
        heads.move(connection, record, latest)
    foreign.keep_doubts(connection, doubts)
    return len(doubts)


def _doubt(at: str, latest: str, now: datetime) -> str:
    stamp = datetime.fromisoformat(at)
    if stamp > now + DOUBT:
        return "ahead"
    return "back" if runs_back(at, latest) else ""


def runs_back(at: str, latest: str) -> bool:
    """Whether ``at`` is so much before ``latest``, the latest one in its chain, that a clock was set back."""
    return bool(latest) and datetime.fromisoformat(at) < datetime.fromisoformat(latest) - DOUBT


def _names(connection: Connection, given: Iterable[Person], but: frozenset[str]) -> int:
    """Write the names that are later than ours; how many."""
    count = 0
    for person in given:
        ours = people.find(connection, person.hand_id)
        if person.hand_id not in but and (ours is None or _newer(person) > _newer(ours)):
            people.keep(connection, person)
            count += 1
    return count


def _newer(person: Person) -> tuple[str, str, str, str]:
    """The later written one is greater; of two written at once the same one on every site."""
    return person.at, person.name, person.language, person.note


def rebuild(connection: Connection) -> None:
    """Work evidence, stays and voids out again from every record, as ``verify`` expects them."""
    seen: list[tuple[Record, str]] = []
    latest: dict[str, str] = {}
    after: tuple[str, int] | None = ("", 0)
    while after is not None:
        page = ledger.page(connection, after)
        for record in page:
            latest[record.site] = max(latest.get(record.site, ""), record.at)
            seen.append((record, latest[record.site]))
        after = (page[-1].site, page[-1].seq) if len(page) == ledger.PAGE else None
    replace_all(connection, projection.project(seen, foreign.forks_of(connection)))


def forget_erased(connection: Connection) -> None:
    """Erased people stay erased: what a bundle brought of them goes again."""
    after: tuple[str, int] | None = ("", 0)
    while after is not None:
        page = ledger.page(connection, after, kinds=("erased",))
        for record in page:
            if isinstance(record.body, Erased):
                people.drop_before(connection, record.body.person, record.at)
                texts.drop_of(connection, record.body.person)
        after = (page[-1].site, page[-1].seq) if len(page) == ledger.PAGE else None
