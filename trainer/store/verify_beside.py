"""What stands beside the ledger, looked at again: other sites' forks and clocks, and the texts of records."""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping

from sqlalchemy import Connection, select

from trainer.core.records import Json
from trainer.store import coding, texts
from trainer.store.schema import aside, doubts, forks
from trainer.store.shapes import Fault

__all__ = ["foreign_faults", "text_faults"]

_WHY = ("ahead", "back")


def foreign_faults(
    connection: Connection, hashes: Collection[tuple[str, int, str]], places: Collection[tuple[str, str, int]]
) -> list[Fault]:
    """A fault for each record set aside, fork and doubt that does not fit the others.

    ``hashes`` are (site, seq, hash) of every record, ``places`` (record_id, site, seq).
    """
    rows = connection.execute(select(aside.c.hash, aside.c.site, aside.c.seq, aside.c.record)).all()
    changed = [("aside", row.site, row.seq) for row in rows if not _is_whole(row.hash, row.site, row.seq, row.record)]
    stands_aside = {(row.site, row.seq) for row in rows}
    known = {(site, seq) for site, seq, _ in hashes}
    parted = {(row.site, row.seq) for row in connection.execute(select(forks.c.site, forks.c.seq))}
    # Where two chains part, ours has a record and so has the other.
    changed += [("fork", site, seq) for site, seq in parted - (stands_aside & known)]
    changed += [("fork", site, 0) for site in {site for site, _ in stands_aside} - {site for site, _ in parted}]
    for doubt in connection.execute(select(doubts)):
        fits = (doubt.record_id, doubt.site, doubt.seq) in places and doubt.why in _WHY
        changed += [] if fits else [("doubt", doubt.site, doubt.seq)]
    found = [Fault(code, str(site), seq if isinstance(seq, int) else 0, "") for code, site, seq in changed]
    return sorted(found, key=lambda each: (each.site, each.seq, each.code))


def _is_whole(digest: str, site: str, seq: int, written: str) -> bool:
    """Whether a record set aside still has the hash, the site and the number that it stands under."""
    try:
        record = json.loads(written)
        whole = isinstance(record, dict) and coding.canonical(record).decode() == written
        return whole and (record["hash"], record["site"], record["seq"]) == (digest, site, seq) == _own(record)
    except (ValueError, TypeError, LookupError, RecursionError):
        return False


def _own(record: Mapping[str, Json]) -> tuple[str, Json, Json]:
    body = coding.canonical(record["body"]).decode()
    return coding.hash_of(record, body), record["site"], record["seq"]


def text_faults(connection: Connection) -> list[Fault]:
    """A fault for each text that is not the one its record stands for."""
    return [
        Fault("text", "", 0, key) for key, salt, text, _ in texts.all_of(connection) if not texts.fits(key, salt, text)
    ]
