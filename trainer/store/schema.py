"""The tables, as SQLAlchemy Core describes them, and the schema's version.

append-only: records, kept_heads, aside, forks, doubts · written with them: evidence, stays, voids, heads ·
erasable: people, texts · mutable: the rest. Days and times of records are kept as the text that was hashed, so that
verify reads what stands there.
"""

from __future__ import annotations

from sqlalchemy import BigInteger, Boolean, Column, ForeignKey, Index, Integer, MetaData, String, Table, Text
from sqlalchemy import UniqueConstraint as Unique

__all__ = [
    "ALL",
    "SCHEMA",
    "answers",
    "aside",
    "codes",
    "doubts",
    "drafts",
    "evidence",
    "forks",
    "heads",
    "kept_heads",
    "meta",
    "people",
    "pins",
    "records",
    "sessions",
    "stays",
    "texts",
    "tickets",
    "tries",
    "views",
    "voids",
]

SCHEMA = 3
"""Raised whenever a table changes; a store with a higher one was written by a newer version of this program."""

ALL = MetaData()

# Ids, days and times sort by their letters' numbers everywhere, whatever order of letters a database was made with.
_SHORT = String().with_variant(String(collation="C"), "postgresql")

meta = Table(
    "meta",
    ALL,
    Column("name", _SHORT, primary_key=True),
    Column("value", _SHORT, nullable=False),
)

records = Table(
    "records",
    ALL,
    Column("record_id", _SHORT, primary_key=True),
    Column("site", _SHORT, nullable=False),
    Column("seq", Integer, nullable=False),
    Column("at", _SHORT, nullable=False),
    Column("day", _SHORT, nullable=False),
    Column("by", _SHORT, nullable=False),
    Column("hand", _SHORT),
    Column("kind", _SHORT, nullable=False),
    Column("body", Text, nullable=False),
    Column("prev", _SHORT, nullable=False),
    Column("hash", _SHORT, nullable=False),
    Unique("site", "seq"),
    Index("records_by_hand", "hand", "kind"),
    Index("records_by_kind", "kind", "site", "seq"),
)

heads = Table(
    "heads",
    ALL,
    Column("site", _SHORT, primary_key=True),
    Column("seq", Integer, nullable=False),
    Column("hash", _SHORT, nullable=False),
    Column("at", _SHORT, nullable=False),
    # The latest ``at`` anywhere in the chain: a later record counts as no earlier than this.
    Column("latest", _SHORT, nullable=False),
)

# A hand's rows stand together in the file: whoever reads a crew's reads a few pages, however many others there are.
evidence = Table(
    "evidence",
    ALL,
    Column("hand", _SHORT, primary_key=True),
    Column("record_id", _SHORT, primary_key=True),
    Column("competency", _SHORT, primary_key=True),
    Column("part", _SHORT, nullable=False),
    Column("effect", _SHORT, nullable=False),
    Column("day", _SHORT, nullable=False),
    Column("at", _SHORT, nullable=False),
    Column("site", _SHORT, nullable=False),
    Column("seq", Integer, nullable=False),
    Column("by", _SHORT, nullable=False),
    sqlite_with_rowid=False,
)

stays = Table(
    "stays",
    ALL,
    Column("record_id", _SHORT, primary_key=True),
    Column("hand", _SHORT, nullable=False),
    Column("kind", _SHORT, nullable=False),
    Column("day", _SHORT, nullable=False),
    Column("crew", _SHORT, nullable=False),
    Column("position", _SHORT, nullable=False),
    Column("at", _SHORT, nullable=False),
    Column("site", _SHORT, nullable=False),
    Column("seq", Integer, nullable=False),
    Index("stays_by_hand", "hand"),
)

voids = Table(
    "voids",
    ALL,
    Column("record_id", _SHORT, primary_key=True),
    Column("void_id", _SHORT, nullable=False),
    Column("site", _SHORT, nullable=False),
    Column("seq", Integer, nullable=False),
)

people = Table(
    "people",
    ALL,
    Column("hand_id", _SHORT, primary_key=True),
    Column("name", _SHORT, nullable=False),
    Column("language", _SHORT, nullable=False),
    Column("note", Text, nullable=False),
    # When it was written: of two sites' rows about one person the later one holds.
    Column("at", _SHORT, nullable=False, server_default=""),
)

kept_heads = Table(
    "kept_heads",
    ALL,
    Column("site", _SHORT, primary_key=True),
    Column("seq", Integer, primary_key=True),
    Column("hash", _SHORT, primary_key=True),
    Column("at", _SHORT, nullable=False),
    Column("key", _SHORT, nullable=False),
    Column("signature", _SHORT, nullable=False),
)

forks = Table(
    "forks",
    ALL,
    Column("site", _SHORT, primary_key=True),
    # From here on two different chains of that site are known, and neither counts.
    Column("seq", Integer, nullable=False),
)

aside = Table(
    "aside",
    ALL,
    Column("hash", _SHORT, primary_key=True),
    Column("site", _SHORT, nullable=False),
    Column("seq", Integer, nullable=False),
    Column("record", Text, nullable=False),
)

doubts = Table(
    "doubts",
    ALL,
    Column("record_id", _SHORT, primary_key=True),
    Column("site", _SHORT, nullable=False),
    Column("seq", Integer, nullable=False),
    # ahead: beyond the clock of whoever took it in; back: earlier than one before it in its chain.
    Column("why", _SHORT, nullable=False),
)

texts = Table(
    "texts",
    ALL,
    Column("key", _SHORT, primary_key=True),
    Column("salt", _SHORT, nullable=False),
    Column("text", Text, nullable=False),
    Column("hand", _SHORT, nullable=False),
    Index("texts_by_hand", "hand"),
)

drafts = Table(
    "drafts",
    ALL,
    Column("draft_id", _SHORT, primary_key=True),
    Column("owner", _SHORT, nullable=False),
    Column("kind", _SHORT, nullable=False),
    Column("subject", _SHORT, nullable=False),
    Column("body", Text, nullable=False),
    Column("opened", _SHORT, nullable=False),
    Column("touched", _SHORT, nullable=False),
    Index("drafts_by_owner", "owner", "kind"),
)

answers = Table(
    "answers",
    ALL,
    Column("draft_id", ForeignKey("drafts.draft_id", ondelete="CASCADE"), primary_key=True),
    Column("position", Integer, primary_key=True),
    Column("answer", Text, nullable=False),
    Column("final", Boolean, nullable=False),
)

sessions = Table(
    "sessions",
    ALL,
    Column("id_hash", _SHORT, primary_key=True),
    Column("hand", _SHORT, nullable=False),
    Column("device", _SHORT, nullable=False),
    Column("opened", BigInteger, nullable=False),
    Column("seen", BigInteger, nullable=False),
    Column("ended", BigInteger),
    Column("why", _SHORT, nullable=False),
    Index("sessions_by_hand", "hand"),
)

tickets = Table(
    "tickets",
    ALL,
    Column("ticket_hash", _SHORT, primary_key=True),
    Column("session", ForeignKey("sessions.id_hash", ondelete="CASCADE"), nullable=False),
    Column("expires", BigInteger, nullable=False),
)

tries = Table(
    "tries",
    ALL,
    Column("hand", _SHORT, primary_key=True),
    Column("device", _SHORT, primary_key=True),
    Column("failed", Integer, nullable=False),
    Column("last", BigInteger, nullable=False),
    Column("until", BigInteger, nullable=False),
)

codes = Table(
    "codes",
    ALL,
    Column("hand_id", _SHORT, primary_key=True),
    Column("hash", _SHORT, nullable=False),
    Column("expires", BigInteger, nullable=False),
)

pins = Table(
    "pins",
    ALL,
    Column("hand_id", _SHORT, primary_key=True),
    Column("hash", _SHORT, nullable=False),
    Column("set_at", _SHORT, nullable=False),
)

views = Table(
    "views",
    ALL,
    Column("owner", _SHORT, primary_key=True),
    Column("name", _SHORT, primary_key=True),
    Column("body", Text, nullable=False),
)
