"""One action's writes: all of them or none."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import datetime

from sqlalchemy import Connection

from trainer.core.records import BODIES, ConsoleActor, Json, Observation, Record, StoodDown, Void
from trainer.errors import BadInput, NotFound, Refused
from trainer.store import (
    appending,
    codes,
    coding,
    drafts,
    evidence,
    foreign,
    heads,
    ledger,
    merging,
    people,
    pins,
    projection,
    sessions,
    texts,
    tries,
    views,
)
from trainer.store.appending import Last
from trainer.store.bundles import Bundle
from trainer.store.dialects import Held
from trainer.store.keys import Keys
from trainer.store.merging import Merged
from trainer.store.reading import Reading
from trainer.store.shapes import Code, Draft, NewRecord, Person, SignedHead, Tries

__all__ = ["Transaction"]

_RECORD_ID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}")
_AT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z")
_TYPES = dict(BODIES)
_WITHOUT_HAND = frozenset({"site", "key", "gear", "void", "erased", "restricted"})

# A mistake in one of these is put right by the next one of its kind; without it the chain would not say what holds.
_NOT_VOIDED = frozenset({"void", "site", "key", "erased"})


class Transaction(Reading):
    """The writing half of the store, and reads that see what was written in it. Made by ``Store.transaction()``."""

    def __init__(self, held: Held, site: str, store_id: str, keys: Keys) -> None:
        super().__init__(site, store_id, keys)
        self._held = held
        # Nobody else moves the end of the chain while the lock is held.
        self._last: Last | None = held.answer

    @property
    def _open(self) -> Connection:
        return self._held.connection

    @contextmanager
    def _connection(self) -> Iterator[Connection]:
        yield self._open

    # ledger

    def append(self, new: NewRecord) -> Record:
        """The record as written at the end of this site's chain, with its evidence, in this transaction.

        The id says whether it was written before: then the first record comes back and nothing is written. Raises
        ``Refused`` when another kind or body stands under that id and for a void that may not be, ``NotFound`` for a
        void of an unknown record, ``BadInput("record-form")`` for a record that cannot be one.
        """
        _check(new)
        looks_back = _looks_back(new)
        there = ledger.find(self._open, new.record_id) if looks_back else None
        if there is not None:
            return _same(there, new)
        seq, prev, latest = self._end()
        record, body = ledger.made(new, self.site, seq + 1, prev)
        if looks_back:
            self._look_back(record)
        counted = max(latest, record.at)
        if not appending.write(self._held.driver, record, body, projection.rows_of(record, counted), counted):
            return _same(self._known(new.record_id), new)
        self._last = record.seq, record.hash, counted
        self._put_beside(record, latest, counted)
        return record

    def _end(self) -> Last:
        if self._last is None:
            self._last = heads.lock(self._open, self.site)
        return self._last

    def _known(self, record_id: str) -> Record:
        record = ledger.find(self._open, record_id)
        assert record is not None  # nosec B101 - it was in the way a moment ago, under this lock
        return record

    def _put_beside(self, record: Record, before: str, counted: str) -> None:
        """What few records have: a doubtful clock, a stay."""
        if merging.runs_back(record.at, before):
            foreign.keep_doubts(self._open, [(record.record_id, record.site, record.seq, "back")])
        stay = projection.stay_of(record, counted)
        if stay is not None:
            evidence.keep_stay(self._open, stay)

    def append_all(self, given: Sequence[NewRecord]) -> None:
        """The same for each of ``given`` in turn, with the same errors, in far fewer statements: for imports."""
        ids = [new.record_id for new in given]
        seq, prev, latest = self._end()
        if len({*ids}) < len(ids) or any(map(_looks_back, given)) or ledger.known(self._open, ids):
            for new in given:
                self.append(new)
            return
        written: list[tuple[Record, str]] = []
        counted: list[tuple[Record, str]] = []
        for new in given:
            _check(new)
            record, body = ledger.made(new, self.site, seq + 1, prev)
            seq, prev = record.seq, record.hash
            if merging.runs_back(record.at, latest):
                foreign.keep_doubts(self._open, [(record.record_id, record.site, record.seq, "back")])
            latest = max(latest, record.at)
            written.append((record, body))
            counted.append((record, latest))
        if written:
            ledger.add_all(self._open, written)
            heads.move(self._open, *counted[-1])
            self._last = seq, prev, latest
            evidence.keep(self._open, (row for record, at in counted for row in projection.rows_of(record, at)))
            for stay in filter(None, (projection.stay_of(record, at) for record, at in counted)):
                evidence.keep_stay(self._open, stay)

    def _look_back(self, record: Record) -> None:
        if isinstance(record.body, Void):
            self._take_out(record, record.body)
        if isinstance(record.body, StoodDown) and record.body.observation is not None:
            self._require_standing(record.body.observation)

    def _require_standing(self, record_id: str) -> None:
        """Refuse what is said to be written with an observation that a void has taken out already."""
        if evidence.is_out(self._open, record_id):
            raise Refused("void-already", record=record_id)

    def _take_out(self, void: Record, body: Void) -> None:
        target = ledger.find(self._open, body.record)
        if target is None:
            raise NotFound("no-record", record=body.record)
        if target.kind in _NOT_VOIDED:
            raise Refused("void-kind", kind=target.kind)
        if evidence.is_out(self._open, target.record_id):
            raise Refused("void-already", record=target.record_id)
        for record in (target, *self._written_with(target)):
            if not evidence.is_out(self._open, record.record_id):
                evidence.take_out(self._open, record, void)

    def _written_with(self, observation: Record) -> list[Record]:
        """The stood-downs that say they were written with this observation."""
        if not isinstance(observation.body, Observation):
            return []
        return [
            record
            for record in self.records(kinds=("stood-down",), hand=observation.hand)
            if isinstance(record.body, StoodDown) and record.body.observation == observation.record_id
        ]

    def keep_head(self, head: SignedHead) -> None:
        """Keep a signed head: a chain that is cut short after it is found by ``verify``."""
        foreign.keep_head(self._open, head)

    def merge(self, bundle: Bundle, now: datetime, but: frozenset[str] = frozenset()) -> Merged:
        """Take another site's bundle in; ``but`` are the hand_ids whose names stay each site's own."""
        return merging.merge(self._open, bundle, self.site, now, but)

    # people and texts

    def put_person(self, person: Person) -> Person:
        """``person`` as written, the name in Unicode's composed form; replaces what was there under that hand_id.

        Raises ``BadInput``: ``hand-id``, ``name-form``.
        """
        return people.keep(self._open, person)

    def keep_text(self, text: str, hand: str = "") -> str:
        """The key that a body holds instead of ``text``. ``hand`` is whom it is about, and goes with them when erased.

        The same text about the same hand gives the same key. An outside person's name has no ``hand``.
        """
        return texts.keep(self._open, text, hand)

    def forget(self, hand_id: str) -> None:
        """Delete name, texts, PIN, code, sessions, tries, drafts and views of that person; records stay as they are.

        Call ``Store.scrub()`` after the transaction.
        """
        for drop in (people.drop, texts.drop_of, pins.drop, codes.drop, sessions.drop_of, tries.drop_of):
            drop(self._open, hand_id)
        drafts.drop_of(self._open, hand_id)
        views.drop_of(self._open, hand_id)

    # drafts

    def put_draft(self, draft: Draft) -> None:
        """Write ``draft`` over what stands under its id, its answers kept; ``Refused("not-yours")`` for another's."""
        drafts.keep(self._open, draft)

    def drop_draft(self, draft_id: str) -> None:
        """Delete that draft with its answers; nothing happens where it is gone."""
        drafts.drop(self._open, draft_id)

    def keep_answer(self, draft_id: str, position: int, answer: object) -> bool:
        """Whether an answer that can still change was kept: ``False`` once a final one stands there.

        Raises ``NotFound("no-draft")`` where the draft is gone.
        """
        return drafts.keep_answer(self._open, draft_id, position, answer, is_final=False)

    def settle_answer(self, draft_id: str, position: int, answer: object) -> bool:
        """Whether this is the final answer: ``False`` when one stands there already. Raises as above."""
        return drafts.keep_answer(self._open, draft_id, position, answer, is_final=True)

    def put_view(self, owner: str, name: str, body: Mapping[str, Json]) -> None:
        """Keep what ``owner`` has chosen on the screen ``name``."""
        views.keep(self._open, owner, name, body)

    # signing in

    def put_pin(self, hand_id: str, pin_hash: str, at: str) -> None:
        """Write the hash of a new PIN over the old one; ``at`` is a stamp."""
        pins.keep(self._open, hand_id, pin_hash, at)

    def put_code(self, hand_id: str, code: Code) -> None:
        """Write a new one-use code over the old one."""
        codes.keep(self._open, hand_id, code)

    def take_code(self, hand_id: str) -> bool:
        """Whether there was a code, which is gone now: of two who bring it one is too late."""
        return codes.drop(self._open, hand_id)

    def put_tries(self, hand_id: str, device: str, made: Tries) -> None:
        """Write the wrong PINs in a row of that person on that device."""
        tries.keep(self._open, hand_id, device, made)

    def clear_tries(self, hand_id: str, device: str) -> None:
        """Forget them, after a right PIN."""
        tries.clear(self._open, hand_id, device)

    def clear_tries_of(self, hand_id: str) -> None:
        """Forget them on every device."""
        tries.drop_of(self._open, hand_id)

    def open_session(self, session_id: str, hand_id: str, device: str, now: int) -> None:
        """Write a session opened at ``now`` (milliseconds since 1970)."""
        sessions.add(self._open, session_id, hand_id, device, now)

    def touch_session(self, session_id: str, now: int) -> None:
        """Write that the session was used."""
        sessions.touch(self._open, session_id, now)

    def end_session(self, session_id: str, now: int, why: str) -> None:
        """End that session, unless it has ended."""
        sessions.end(self._open, session_id, now, why)

    def end_sessions_of(self, hand_id: str, now: int, why: str, *, but: str | None = None) -> None:
        """End every open session of that person, except the session ``but``."""
        sessions.end_of(self._open, hand_id, now, why, but=but)

    def put_ticket(self, ticket: str, session_id: str, expires: int) -> None:
        """Write a one-time ticket for that session."""
        sessions.add_ticket(self._open, ticket, session_id, expires)

    def take_ticket(self, ticket: str, now: int) -> bool:
        """Whether the ticket was good; it is gone either way."""
        return sessions.take_ticket(self._open, ticket, now)

    def tidy(self, before: int) -> None:
        """Delete sessions and tries from before that moment (milliseconds since 1970)."""
        sessions.drop_before(self._open, before)
        tries.drop_before(self._open, before)


def _looks_back(new: NewRecord) -> bool:
    """Whether what it does rests on records before it."""
    return isinstance(new.body, Void) or (isinstance(new.body, StoodDown) and new.body.observation is not None)


def _check(new: NewRecord) -> None:
    checks = (
        ("record_id", _RECORD_ID.fullmatch(new.record_id) is not None),
        ("kind", _TYPES.get(new.kind) is type(new.body)),
        ("at", _AT.fullmatch(new.at) is not None),
        ("by", new.by == ConsoleActor or people.is_hand_id(new.by)),
        ("hand", new.kind in _WITHOUT_HAND if new.hand is None else people.is_hand_id(new.hand)),
    )
    for field, is_right in checks:
        if not is_right:
            raise BadInput("record-form", field=field, value=getattr(new, field))


def _same(there: Record, new: NewRecord) -> Record:
    is_same = there.kind == new.kind and there.hand == new.hand and coding.encode(there.body) == coding.encode(new.body)
    if not is_same:
        raise Refused("record-differs", record=new.record_id)
    return there
