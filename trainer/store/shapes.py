"""What goes into and comes out of the store besides records: small frozen types without behaviour."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from trainer.core.records import Body, EvidenceRow, Json, StayRow

__all__ = [
    "Code", "Draft", "Fault", "Head", "Moment", "NewRecord", "News", "Person", "Session", "SignedHead", "Tries",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class NewRecord:
    """A record to be written: everything but ``site``, ``seq``, ``prev`` and ``hash``, which are the store's.

    ``record_id`` is a UUIDv7 drawn with the form; ``at`` is UTC ``YYYY-MM-DDTHH:MM:SS.mmmZ``.
    """

    record_id: str
    kind: str
    body: Body
    day: date
    by: str
    hand: str | None
    at: str


@dataclass(frozen=True, slots=True)
class Person:
    """One person as the erasable table holds them; ``language`` is the one they read the app in.

    ``at`` is when this was written, a stamp; of two sites' rows about one person the later one holds.
    """

    hand_id: str
    name: str
    language: str = "en"
    note: str = ""
    at: str = ""


@dataclass(frozen=True, slots=True)
class Head:
    """The last record of one site's chain; ``at`` is that record's own."""

    site: str
    seq: int
    hash: str
    at: str


@dataclass(frozen=True, slots=True)
class SignedHead:
    """A head with the site's Ed25519 signature, both base64url without padding; ``key`` is the public key."""

    site: str
    seq: int
    hash: str
    at: str
    key: str
    signature: str


@dataclass(frozen=True, slots=True)
class Moment:
    """Up to where a store was read: the last record of each site, and the forks known then."""

    heads: tuple[Head, ...]
    forks: Mapping[str, int]


@dataclass(frozen=True, slots=True)
class News:
    """What the matrix reads, as of ``moment``: with ``is_all`` everything, else what is new since an earlier one.

    ``gone`` are records to be left out of what was read before. No row here is one of a voided record.
    """

    moment: Moment
    is_all: bool
    gone: frozenset[str]
    evidence: list[EvidenceRow]
    stays: list[StayRow]


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that does not verify.

    ``code`` names the sentence in content/words under ``verify.<code>``. ``seq`` is the first place in ``site`` that
    does not fit; ``record_id`` is the record there, as far as it can be read.
    """

    code: str
    site: str
    seq: int
    record_id: str


@dataclass(frozen=True, slots=True)
class Draft:
    """Something begun and not committed: a quiz, a lesson, a sheet. ``opened``, ``touched`` are stamps like ``at``."""

    draft_id: str
    owner: str
    kind: str
    subject: str
    body: Mapping[str, Json]
    opened: str
    touched: str


@dataclass(frozen=True, slots=True)
class Session:
    """One sign-in. Times are whole milliseconds since 1970; ``ended`` is ``None`` while it is open."""

    hand: str
    device: str
    opened: int
    seen: int
    ended: int | None


@dataclass(frozen=True, slots=True)
class Tries:
    """Wrong PINs in a row of one person on one device; no further try before ``until`` (milliseconds since 1970)."""

    failed: int = 0
    last: int = 0
    until: int = 0


@dataclass(frozen=True, slots=True)
class Code:
    """A one-use code, hashed, with which a hand sets a PIN until ``expires`` (milliseconds since 1970)."""

    hash: str
    expires: int
