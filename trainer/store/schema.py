"""The tables, as SQLAlchemy Core describes them, and the schema's version.

append-only: records · written with them: evidence, stays, voids, heads · erasable: people, texts ·
mutable: the rest. Days and times of records are kept as the text that was hashed, so that verify reads what stands
there.
"""

from __future__ import annotations

from sqlalchemy import BigInteger, Boolean, Column, ForeignKey, Index, Integer, MetaData, String, Table, Text
from sqlalchemy import UniqueConstraint as Unique

__all__ = [
    "ALL",
    "SCHEMA",
    "answers",
    "codes",
    "drafts",
    "evidence",
    "heads",
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

SCHEMA = 1
"""Raised whenever a table changes; a store with a higher one was written by a newer version of this program."""

ALL = MetaData()

meta = Table(
    "meta",
    ALL,
    Column("name", String, primary_key=True),
    Column("value", String, nullable=False),
)

records = Table(
    "records",
    ALL,
    Column("record_id", String, primary_key=True),
    Column("site", String, nullable=False),
    Column("seq", Integer, nullable=False),
    Column("at", String, nullable=False),
    Column("day", String, nullable=False),
    Column("by", String, nullable=False),
    Column("hand", String),
    Column("kind", String, nullable=False),
    Column("body", Text, nullable=False),
    Column("prev", String, nullable=False),
    Column("hash", String, nullable=False),
    Unique("site", "seq"),
    Index("records_by_hand", "hand", "kind"),
    Index("records_by_kind", "kind", "site", "seq"),
)

heads = Table(
    "heads",
    ALL,
    Column("site", String, primary_key=True),
    Column("seq", Integer, nullable=False),
    Column("hash", String, nullable=False),
    Column("at", String, nullable=False),
    # The latest ``at`` anywhere in the chain: a later record counts as no earlier than this.
    Column("latest", String, nullable=False),
)

evidence = Table(
    "evidence",
    ALL,
    Column("record_id", String, primary_key=True),
    Column("competency", String, primary_key=True),
    Column("hand", String, nullable=False),
    Column("part", String, nullable=False),
    Column("effect", String, nullable=False),
    Column("day", String, nullable=False),
    Column("at", String, nullable=False),
    Column("site", String, nullable=False),
    Column("seq", Integer, nullable=False),
    Column("by", String, nullable=False),
    Index("evidence_by_hand", "hand"),
    Index("evidence_by_seq", "site", "seq"),
)

stays = Table(
    "stays",
    ALL,
    Column("record_id", String, primary_key=True),
    Column("hand", String, nullable=False),
    Column("kind", String, nullable=False),
    Column("day", String, nullable=False),
    Column("crew", String, nullable=False),
    Column("position", String, nullable=False),
    Column("at", String, nullable=False),
    Column("site", String, nullable=False),
    Column("seq", Integer, nullable=False),
    Index("stays_by_hand", "hand"),
)

voids = Table(
    "voids",
    ALL,
    Column("record_id", String, primary_key=True),
    Column("void_id", String, nullable=False),
    Column("site", String, nullable=False),
    Column("seq", Integer, nullable=False),
)

people = Table(
    "people",
    ALL,
    Column("hand_id", String, primary_key=True),
    Column("name", String, nullable=False),
    Column("language", String, nullable=False),
    Column("note", Text, nullable=False),
)

texts = Table(
    "texts",
    ALL,
    Column("key", String, primary_key=True),
    Column("salt", String, nullable=False),
    Column("text", Text, nullable=False),
    Column("hand", String, nullable=False),
    Index("texts_by_hand", "hand"),
)

drafts = Table(
    "drafts",
    ALL,
    Column("draft_id", String, primary_key=True),
    Column("owner", String, nullable=False),
    Column("kind", String, nullable=False),
    Column("subject", String, nullable=False),
    Column("body", Text, nullable=False),
    Column("opened", String, nullable=False),
    Column("touched", String, nullable=False),
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
    Column("id_hash", String, primary_key=True),
    Column("hand", String, nullable=False),
    Column("device", String, nullable=False),
    Column("opened", BigInteger, nullable=False),
    Column("seen", BigInteger, nullable=False),
    Column("ended", BigInteger),
    Column("why", String, nullable=False),
    Index("sessions_by_hand", "hand"),
)

tickets = Table(
    "tickets",
    ALL,
    Column("ticket_hash", String, primary_key=True),
    Column("session", ForeignKey("sessions.id_hash", ondelete="CASCADE"), nullable=False),
    Column("expires", BigInteger, nullable=False),
)

tries = Table(
    "tries",
    ALL,
    Column("hand", String, primary_key=True),
    Column("device", String, primary_key=True),
    Column("failed", Integer, nullable=False),
    Column("last", BigInteger, nullable=False),
    Column("until", BigInteger, nullable=False),
)

codes = Table(
    "codes",
    ALL,
    Column("hand_id", String, primary_key=True),
    Column("hash", String, nullable=False),
    Column("expires", BigInteger, nullable=False),
)

pins = Table(
    "pins",
    ALL,
    Column("hand_id", String, primary_key=True),
    Column("hash", String, nullable=False),
    Column("set_at", String, nullable=False),
)

views = Table(
    "views",
    ALL,
    Column("owner", String, primary_key=True),
    Column("name", String, primary_key=True),
    Column("body", Text, nullable=False),
)
