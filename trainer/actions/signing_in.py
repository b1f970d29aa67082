"""Signing in with a PIN, staying signed in, signing out, and putting a PIN to a sign-off.

Nobody is known yet when these begin, so no role is asked; they give a role. A wrong PIN, an unknown hand, one without a
PIN and one who has left all get the same answer after the same time. Wrong tries are counted in the store, before the
PIN is looked at, so that many at once are many tries.
"""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime

from trainer.actions import may, pin_rules
from trainer.actions.desk import HAND, Actor, Desk
from trainer.core.crewlist import Known, known_people
from trainer.errors import NotFound, Refused, StoreUnavailable
from trainer.store import Code, Session, Transaction, Tries
from trainer.store.people import is_hand_id

__all__ = [
    "ABSOLUTE_SECONDS",
    "IDLE_SECONDS",
    "Opened",
    "change_pin",
    "check_pin",
    "first_pin",
    "from_cookie",
    "new_code",
    "nobody",
    "people_to_choose",
    "redeem",
    "seconds_left",
    "sign_in",
    "sign_out",
    "sign_out_person",
    "who",
]

IDLE_SECONDS = 10 * 60
"""After so long without a tap a session ends."""

ABSOLUTE_SECONDS = 12 * 3600
"""After so long a session ends in any case: one tour."""

TICKET_SECONDS = 30
CODE_SECONDS = 24 * 3600
CODE_DIGITS = 8

FREE_TRIES = 5
LONGEST_WAIT_MINUTES = 15
FORGET_TRIES_SECONDS = 24 * 3600

# A clock may be put right by so much; a session last seen later than this from now was opened by another clock.
CLOCK_SECONDS = 5 * 60

# One write in so long is enough to know whether somebody is there, and spares the disk.
TOUCH_SECONDS = 20
KEEP_SECONDS = 7 * 24 * 3600

_NO_HAND = "-"
_LONGEST_DEVICE = 64


@dataclass(frozen=True, slots=True)
class Opened:
    """A session just opened: its id for the script, the one-time ticket for the browser, and who it is."""

    session: str
    ticket: str
    who: Actor


def nobody() -> Actor:
    """The actor of a desk before anybody has signed in: a role that may do nothing."""
    return Actor("", "")


def people_to_choose(desk: Desk) -> Mapping[str, tuple[tuple[str, str], ...]]:
    """Crew to its (hand_id, name) pairs by name, of everybody here today; under "" those without a crew."""
    here = known_people({}, (stay for stay in desk.store.stay_rows() if stay.day <= desk.today))
    crews: dict[str, list[tuple[str, str]]] = {}
    for hand, person in desk.store.people().items():
        place = here.get(hand)
        if place is not None and place.is_here(desk.today):
            crews.setdefault(place.crew, []).append((hand, person.name))
    by_name = {crew: sorted(pairs, key=lambda pair: (pair[1].casefold(), pair[0])) for crew, pairs in crews.items()}
    return {crew: tuple(by_name[crew]) for crew in sorted(by_name)}


def sign_in(desk: Desk, hand: str, pin: str, device: str) -> Opened:
    """A session for ``hand`` on ``device``.

    Raises ``Refused``: ``pin-wrong`` for whatever does not fit, ``pin-wait`` after too many tries.
    """
    actor = _actor(desk, hand)
    pin_hash = desk.store.pin(hand) if actor else None
    _prove(desk, hand, device, pin_hash, pin, "pin-wrong")
    with desk.store.transaction() as writing:
        if actor is None or writing.pin(hand) != pin_hash:
            raise Refused("pin-wrong")
        return _opened(desk, writing, actor, device)


def check_pin(desk: Desk, hand: str, pin: str, device: str) -> None:
    """Raise ``Refused`` (as ``sign_in``) unless ``pin`` is the one of ``hand``: the PIN that goes with a sign-off."""
    _prove(desk, hand, device, desk.store.pin(hand) if _actor(desk, hand) else None, pin, "pin-wrong")
    with desk.store.transaction() as writing:
        writing.clear_tries(_key(hand), device[:_LONGEST_DEVICE])


def first_pin(desk: Desk, hand: str, code: str, pin: str, device: str) -> Opened:
    """A session for ``hand``, whose one-use ``code`` is used up and whose PIN is ``pin`` from now on.

    Other sessions of theirs end. Raises ``BadInput`` for a PIN that may not be, ``Refused``: ``code-wrong`` for
    whatever does not fit, ``pin-wait`` after too many tries.
    """
    pin_rules.require_good(pin, hand)
    actor = _actor(desk, hand)
    known = desk.store.code(hand) if actor else None
    is_good = known is not None and _now(desk) <= known.expires
    typed = "".join(code.split())
    _prove(desk, hand, device, known.hash if known and is_good else None, typed, "code-wrong")
    pin_hash = desk.store.keys.pin_hash(pin)
    with desk.store.transaction() as writing:
        if actor is None or writing.code(hand) != known or not writing.take_code(hand):
            raise Refused("code-wrong")
        writing.put_pin(hand, pin_hash, desk.at)
        writing.end_sessions_of(hand, _now(desk), "new PIN")
        return _opened(desk, writing, actor, device)


def change_pin(desk: Desk, old: str, new: str, device: str, session: str | None = None) -> None:
    """Give the actor the PIN ``new``; every other session of theirs ends, ``session`` stays.

    Raises ``BadInput`` for a PIN that may not be, ``Refused`` as ``sign_in`` when ``old`` does not fit.
    """
    may.require(desk, "signing_in.change_pin")
    hand = desk.actor.hand
    pin_rules.require_good(new, hand)
    check_pin(desk, hand, old, device)
    pin_hash = desk.store.keys.pin_hash(new)
    with desk.store.transaction() as writing:
        writing.put_pin(hand, pin_hash, desk.at)
        writing.end_sessions_of(hand, _now(desk), "new PIN", but=session)


def new_code(desk: Desk, hand: str) -> str:
    """A code of 8 digits, good once and for 24 h, with which ``hand`` sets a PIN; earlier codes are no good any more.

    The PIN they have stays good until then; their wrong tries are forgotten. Raises ``NotFound("no-hand")`` for anybody
    who is not here today.
    """
    may.require(desk, "people.issue_code")
    if _actor(desk, hand) is None:
        raise NotFound("no-hand", hand=hand)
    code = f"{secrets.randbelow(10**CODE_DIGITS):0{CODE_DIGITS}}"
    code_hash = desk.store.keys.pin_hash(code)
    with desk.store.transaction() as writing:
        writing.put_code(hand, Code(code_hash, _now(desk) + CODE_SECONDS * 1000))
        writing.clear_tries_of(hand)
    return code


# sessions


def redeem(desk: Desk, ticket: str) -> str | None:
    """The cookie's value for a ticket, once and within 30 s of signing in; else ``None``."""
    session = desk.store.keys.session_of_ticket(ticket)
    with desk.store.transaction() as writing:
        is_good = writing.take_ticket(ticket, _now(desk)) and _is_open(desk, writing.session(session))
    return desk.store.keys.cookie_of(session) if is_good else None


def from_cookie(desk: Desk, cookie: str | None) -> str | None:
    """The session in a cookie that was signed here, while it is open; else ``None``."""
    session = desk.store.keys.session_in(cookie)
    return session if session and _is_open(desk, desk.store.session(session)) else None


def who(desk: Desk, session: str | None, *, active: bool = True) -> Actor | None:
    """Who holds ``session`` now, in today's position and crew; ``None`` once it has ended or they have left.

    ``active=False`` looks without counting as a tap.
    """
    found = desk.store.session(session) if session else None
    if session is None or found is None or found.ended is not None:
        return None
    actor = _actor(desk, found.hand) if _is_open(desk, found) else None
    # A full disk must not sign anybody out, nor keep anybody from reading: these writes may be missed.
    with suppress(StoreUnavailable):
        if actor is None:
            _end(desk, session, "timed out")
        elif active and _now(desk) - found.seen >= TOUCH_SECONDS * 1000:
            with desk.store.transaction() as writing:
                writing.touch_session(session, _now(desk))
    return actor


def seconds_left(desk: Desk, session: str | None) -> int:
    """Whole seconds until ``session`` ends by itself, 0 once it has ended."""
    found = desk.store.session(session) if session else None
    if found is None or not _is_open(desk, found):
        return 0
    return min(IDLE_SECONDS, max(0, (_last_moment(found) - _now(desk)) // 1000))


def sign_out(desk: Desk, session: str | None) -> None:
    """End ``session`` on every tab at once; nothing happens where it has ended."""
    if session:
        _end(desk, session, "signed out")


def sign_out_person(desk: Desk, hand: str) -> None:
    """End every session of ``hand``: a tablet was lost, or somebody saw the PIN."""
    may.require(desk, "signing_in.sign_out_person")
    with desk.store.transaction() as writing:
        writing.end_sessions_of(hand, _now(desk), "signed out by another")


def _opened(desk: Desk, writing: Transaction, actor: Actor, device: str) -> Opened:
    now, ticket = _now(desk), secrets.token_urlsafe(32)
    session = desk.store.keys.session_of_ticket(ticket)
    device = device[:_LONGEST_DEVICE]
    writing.tidy(now - KEEP_SECONDS * 1000)
    writing.clear_tries(actor.hand, device)
    writing.open_session(session, actor.hand, device, now)
    writing.put_ticket(ticket, session, now + TICKET_SECONDS * 1000)
    return Opened(session, ticket, actor)


def _end(desk: Desk, session: str, why: str) -> None:
    with desk.store.transaction() as writing:
        writing.end_session(session, _now(desk), why)


def _is_open(desk: Desk, session: Session | None) -> bool:
    if session is None or session.ended is not None:
        return False
    # With the clock set back it would stay open until the clock has come round again.
    return session.seen - CLOCK_SECONDS * 1000 <= _now(desk) <= _last_moment(session)


def _last_moment(session: Session) -> int:
    return min(session.seen + IDLE_SECONDS * 1000, session.opened + ABSOLUTE_SECONDS * 1000)


def _now(desk: Desk) -> int:
    """The desk's moment in milliseconds since 1970, as sessions and tries hold it."""
    return _milliseconds(desk.now)


def _milliseconds(moment: datetime) -> int:
    return round(moment.timestamp() * 1000)


def _actor(desk: Desk, hand: str) -> Actor | None:
    """``hand`` in today's position and crew; ``None`` for one unknown, erased, not yet here or gone."""
    person, place = desk.store.person(hand), _place(desk, hand)
    if person is None or place is None:
        return None
    position = desk.catalogue.site.position(place.position)
    # A position that the site no longer names gives the least that a position can.
    role = position.role if position else HAND
    return Actor(hand, role, place.position, place.crew, person.language)


def _place(desk: Desk, hand: str) -> Known | None:
    stays = (stay for stay in desk.store.stay_rows(hands=(hand,)) if stay.day <= desk.today)
    place = known_people({}, stays).get(hand)
    return place if place is not None and place.is_here(desk.today) else None


# tries


def _prove(desk: Desk, hand: str, device: str, expected: str | None, typed: str, code: str) -> None:
    """Raise ``Refused(code)`` unless ``typed`` is what was hashed as ``expected``; one try either way."""
    _count_try(desk, _key(hand), device[:_LONGEST_DEVICE])
    # Outside the transaction: the hash takes a tenth of a second, in which nobody else could write.
    if not desk.store.keys.pin_fits(expected, typed[: pin_rules.LONGEST]):
        raise Refused(code)


def _count_try(desk: Desk, hand: str, device: str) -> None:
    now = _now(desk)
    with desk.store.transaction() as writing:
        known = writing.tries(hand, device)
        tries = _by_this_clock(known, now)
        seconds = -(-(tries.until - now) // 1000)
        if seconds <= 0:
            failed = 1 + (tries.failed if now - tries.last <= FORGET_TRIES_SECONDS * 1000 else 0)
            tries = Tries(failed, now, now + _wait_minutes(failed) * 60_000)
        if tries != known:
            writing.put_tries(hand, device, tries)
    # Outside the transaction, which an error would undo.
    if seconds > 0:
        raise Refused("pin-wait", seconds=seconds, minutes=-(-seconds // 60))


def _by_this_clock(tries: Tries, now: int) -> Tries:
    """The tries as a clock that was set back since the last one sees them: as long to wait, from now on."""
    return tries if tries.last <= now else Tries(tries.failed, now, now + tries.until - tries.last)


def _wait_minutes(failed: int) -> int:
    """How long to wait after so many wrong tries in a row: none before the fifth, then 1, 2, 4 … 15 minutes."""
    return 0 if failed < FREE_TRIES else min(2 ** min(failed - FREE_TRIES, 10), LONGEST_WAIT_MINUTES)


def _key(hand: str) -> str:
    """Under what the tries of ``hand`` are counted: whatever cannot be a hand_id counts together."""
    return hand if is_hand_id(hand) else _NO_HAND
