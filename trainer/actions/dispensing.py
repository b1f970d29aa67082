"""A hand may do work for a while that he does not hold, under conditions: allowed by two people, shown, never standing.

A toolpusher (a position that dispenses) and a coordinator each put a PIN to it. It is given for the rest of the tour or
of the hitch of the hand's crew and ends with it; a stand-down ends it at once. The form is a draft, so that the first
PIN holds for ten minutes and a closed page loses nothing.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import cast
from zoneinfo import ZoneInfo

from trainer.actions import may, seconds, signing_in
from trainer.actions.desk import COORDINATOR, Desk
from trainer.core.catalogue import Position
from trainer.core.columns import evidence_columns, stay_columns
from trainer.core.hitch import crew_change
from trainer.core.matrix import Standing
from trainer.core.records import Dispensation, Record
from trainer.core.rows import tidy
from trainer.core.standing import fold_hand
from trainer.core.tours import at_hand
from trainer.errors import BadInput, NotFound, Refused
from trainer.store import Draft, Reading, Transaction

__all__ = [
    "HITCH",
    "KIND",
    "TOUR",
    "Form",
    "Offer",
    "commit",
    "drop",
    "fill",
    "form",
    "offer",
    "open_form",
    "sign",
    "waiting",
]

KIND = "dispensation"

TOUR, HITCH = "tour", "hitch"
"""How long it lasts."""

_SIGNED_FOR = timedelta(minutes=10)
_HOLDING = (Standing.CURRENT, Standing.DUE)


@dataclass(frozen=True, slots=True)
class Offer:
    """How it could be given today. ``until`` maps ``tour`` and ``hitch`` to the day on which its last tour begins.

    ``pushers`` and ``coordinators`` are those who can allow it, (hand_id, name).
    """

    until: dict[str, date]
    tour: str
    pushers: tuple[tuple[str, str], ...]
    coordinators: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Form:
    """A dispensation being filled in. ``form_id`` is also the id of the record; ``signed`` when the pusher signed."""

    form_id: str
    hand: str
    competency: str
    lasts: str
    conditions: str
    pusher: str
    coordinator: str
    signed: str
    opened: str

    def is_signed(self, now: datetime) -> bool:
        """Whether the toolpusher has put his PIN to it as it stands, no more than ten minutes ago."""
        return bool(self.signed) and now - datetime.fromisoformat(self.signed) <= _SIGNED_FOR


def offer(desk: Desk, hand: str, competency: str) -> Offer | None:
    """How a dispensation could be given today; ``None`` where it cannot be, by this actor or at all."""
    may.require(desk, "dispensing.offer")
    try:
        return _offer(desk, desk.store, hand, competency)
    except (NotFound, Refused):
        return None


def open_form(desk: Desk, hand: str, competency: str) -> Form:
    """The actor's form for that hand and competency: the one left open, else a new one.

    Raises ``NotFound`` (``no-hand``, ``no-competency``), ``Refused`` (``dispense-himself``, ``dispense-down``,
    ``dispense-holds``, ``dispense-not-needed``, ``dispense-away``).
    """
    may.require(desk, "dispensing.open_form")
    with desk.store.transaction() as writing:
        found = _offer(desk, writing, hand, competency)
        for draft in writing.drafts(owner=desk.actor.hand, kind=KIND, subject=hand):
            if draft.body["competency"] == competency:
                return _form(draft)
        pusher = desk.actor.hand if desk.actor.hand in dict(found.pushers) else ""
        coordinator = desk.actor.hand if desk.actor.hand in dict(found.coordinators) else ""
        made = Form(desk.new_id(), hand, competency, TOUR, "", pusher, coordinator, "", desk.at)
        _put(desk, writing, made)
    return made


def form(desk: Desk, form_id: str) -> Form:
    """The open form of that id that the actor opened, or is the coordinator of. Raises ``NotFound("no-draft")``."""
    may.require(desk, "dispensing.form")
    return _to_sign(desk, desk.store, form_id)


def waiting(desk: Desk) -> tuple[Form, ...]:
    """Forms that others opened and that wait for the actor's PIN as the coordinator, the oldest first."""
    may.require(desk, "dispensing.waiting")
    drafts = (each for each in desk.store.drafts(kind=KIND) if each.owner != desk.actor.hand)
    found = (form for form in map(_form, drafts) if form.coordinator == desk.actor.hand and form.is_signed(desk.now))
    return tuple(sorted(found, key=lambda each: each.signed))


def fill(desk: Desk, form_id: str, *, lasts: str, conditions: str, pusher: str = "", coordinator: str = "") -> Form:
    """The form with all of it replaced, kept before this returns; a PIN put to it before is taken off.

    Raises ``BadInput`` (``dispense-form``) for what cannot be chosen.
    """
    may.require(desk, "dispensing.fill")
    with desk.store.transaction() as writing:
        was = _load(desk, writing, form_id)
        found = _offer(desk, writing, was.hand, was.competency)
        chosen = (
            ("lasts", lasts, found.until),
            ("pusher", pusher, {"", *dict(found.pushers)}),
            ("coordinator", coordinator, {"", *dict(found.coordinators)}),
        )
        for name, value, offered in chosen:
            if value not in offered:
                raise BadInput("dispense-form", field=name)
        now = replace(was, lasts=lasts, conditions=tidy(conditions), pusher=pusher, coordinator=coordinator, signed="")
        _put(desk, writing, now)
    return now


def sign(desk: Desk, form_id: str, pin: str, device: str = "") -> Form:
    """The form with the toolpusher's PIN put to it as it stands: within ten minutes the coordinator puts his.

    Raises ``BadInput("dispense-conditions")`` without conditions, as ``open_form``, and as ``signing_in.check_pin``.
    """
    may.require(desk, "dispensing.sign")
    seen = _load(desk, desk.store, form_id)
    _require_whole(desk, desk.store, seen)
    signing_in.check_pin(desk, seen.pusher, pin, device)
    with desk.store.transaction() as writing:
        if _load(desk, writing, form_id) != seen:
            raise Refused("dispense-changed")
        now = replace(seen, signed=desk.at)
        _put(desk, writing, now)
    return now


def commit(desk: Desk, form_id: str, pin: str, device: str = "") -> Record:
    """The ``dispensation`` record, on the coordinator's PIN after the toolpusher's; the form is gone.

    The coordinator puts it on the tablet where the form is open, or on a screen of his own. A second press returns the
    first record. Raises ``Refused("dispense-pusher-first")`` without the toolpusher's PIN, and as ``sign``; the form is
    then as it was.
    """
    may.require(desk, "dispensing.commit")
    there = desk.store.record(form_id)
    if there is not None and there.by == desk.actor.hand and there.kind == KIND:
        return there
    seen = _to_sign(desk, desk.store, form_id)
    _require_whole(desk, desk.store, seen)
    if not seen.is_signed(desk.now):
        raise Refused("dispense-pusher-first")
    signing_in.check_pin(desk, seen.coordinator, pin, device)
    with desk.store.transaction() as writing:
        if _to_sign(desk, writing, form_id) != seen:
            raise Refused("dispense-changed")
        found = _require_whole(desk, writing, seen)
        body = Dispensation(
            competency=seen.competency,
            lasts=seen.lasts,
            until=found.until[seen.lasts].isoformat(),
            tour=found.tour,
            conditions=writing.keep_text(seen.conditions, seen.hand),
            pusher=seen.pusher,
            coordinator=seen.coordinator,
        )
        writing.drop_draft(form_id)
        return writing.append(desk.new_record(body, hand=seen.hand, record_id=form_id))


def drop(desk: Desk, form_id: str) -> None:
    """Throw the actor's open form away; nothing happens where there is none."""
    may.require(desk, "dispensing.drop")
    with desk.store.transaction() as writing:
        draft = writing.draft(form_id)
        if draft is not None and draft.owner == desk.actor.hand and draft.kind == KIND:
            writing.drop_draft(form_id)


def _offer(desk: Desk, reading: Reading, hand: str, competency: str) -> Offer:
    if reading.person(hand) is None:
        raise NotFound("no-hand", hand=hand)
    if desk.catalogue.competency(competency) is None:
        raise NotFound("no-competency", competency=competency)
    if hand == desk.actor.hand:
        raise Refused("dispense-himself")
    _require_lacking(desk, reading, hand, competency)
    until, tour = _until(desk, hand)
    if not until:
        raise Refused("dispense-away")
    return Offer(
        until, tour, seconds.named(desk, _dispenses, but=(hand,)), seconds.named(desk, _coordinates, but=(hand,))
    )


def _dispenses(position: Position | None) -> bool:
    return position is not None and position.dispenses


def _coordinates(position: Position | None) -> bool:
    return position is not None and position.role == COORDINATOR


def _require_lacking(desk: Desk, reading: Reading, hand: str, competency: str) -> None:
    """Raise ``Refused`` unless the hand needs the competency, does not hold it, and is not stood down for it."""
    evidence = evidence_columns(reading.evidence_rows(hands=(hand,)))
    stays = stay_columns(reading.stay_rows(hands=(hand,)))
    cells = fold_hand(desk.catalogue, evidence, stays, hand, desk.today).cells()
    cell = next((each for each in cells if each.competency == competency), None)
    if cell is None:
        raise Refused("dispense-not-needed")
    if cell.standing is Standing.STOOD_DOWN:
        raise Refused("dispense-down")
    if cell.standing in _HOLDING:
        raise Refused("dispense-holds")


def _until(desk: Desk, hand: str) -> tuple[dict[str, date], str]:
    """The last day for each way that it can last, and the hours of the tour; nothing in the crew's days away."""
    place = seconds.place_of(desk, hand)
    crew = desk.catalogue.site.crews.get(place.crew) if place else None
    tour = crew.tour if crew else ""
    day = at_hand(tour, desk.now.astimezone(ZoneInfo(desk.store.tz)))
    if crew is None or crew.start is None:
        return {TOUR: day}, tour
    change = crew_change(crew, day)
    return ({TOUR: day, HITCH: change} if change else {}), tour


def _require_whole(desk: Desk, reading: Reading, seen: Form) -> Offer:
    """The offer that the form still fits, with all of it filled in."""
    found = _offer(desk, reading, seen.hand, seen.competency)
    if not seen.conditions:
        raise BadInput("dispense-conditions")
    is_offered = (
        seen.lasts in found.until
        and seen.pusher in dict(found.pushers)
        and seen.coordinator in dict(found.coordinators)
        and seen.pusher != seen.coordinator
    )
    if not is_offered:
        raise BadInput("dispense-form", field="people")
    return found


def _load(desk: Desk, reading: Reading, form_id: str) -> Form:
    draft = reading.draft(form_id)
    if draft is None or draft.owner != desk.actor.hand or draft.kind != KIND:
        raise NotFound("no-draft")
    return _form(draft)


def _to_sign(desk: Desk, reading: Reading, form_id: str) -> Form:
    """The form, for whoever opened it and for the coordinator that it names."""
    draft = reading.draft(form_id)
    if draft is None or draft.kind != KIND:
        raise NotFound("no-draft")
    found = _form(draft)
    if desk.actor.hand not in (draft.owner, found.coordinator):
        raise NotFound("no-draft")
    return found


def _form(draft: Draft) -> Form:
    body = cast("dict[str, str]", dict(draft.body))
    return Form(form_id=draft.draft_id, hand=draft.subject, opened=draft.opened, **body)


def _put(desk: Desk, writing: Transaction, made: Form) -> None:
    body = {
        name: getattr(made, name) for name in ("competency", "lasts", "conditions", "pusher", "coordinator", "signed")
    }
    writing.put_draft(Draft(made.form_id, desk.actor.hand, KIND, made.hand, body, made.opened, desk.at))
