"""A tailgate that is on record, found again by whoever held it, with all that its printed sheet says."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from trainer.actions import may, vouching
from trainer.actions.desk import Desk
from trainer.actions.look import Voided, told_void
from trainer.actions.meetings import people_on
from trainer.actions.vouching import Held
from trainer.core.crewlist import Known
from trainer.core.lessons import Lesson
from trainer.core.records import Tailgate
from trainer.core.tailgate import bank_of
from trainer.core.text import Text

__all__ = ["Asked", "Past", "Talk", "latest", "talk"]

_BACK = timedelta(days=14)
_MOST = 5


@dataclass(frozen=True, slots=True)
class Past:
    """One of the actor's own tailgates."""

    tailgate_id: str
    competency: str
    day: date


@dataclass(frozen=True, slots=True)
class Asked:
    """One question of it: how many answered it and how many had it right. ``text`` is ``None`` where it was reworded
    since."""

    item: str
    version: str
    text: Text | None
    answered: int
    right: int


@dataclass(frozen=True, slots=True)
class Talk:
    """A tailgate as its sheet has it. ``number``, ``revision`` and ``header`` are the site's own form's.

    ``names`` and ``places`` are by hand_id, the places as of that day, without whoever was erased or not here.
    ``voided`` is by record_id. ``lesson`` is ``None`` where there is none of that name any more.
    """

    held: Held
    lesson: Lesson | None
    number: str
    revision: str
    header: str
    names: Mapping[str, str]
    places: Mapping[str, Known]
    questions: tuple[Asked, ...]
    voided: Mapping[str, Voided]


def latest(desk: Desk) -> tuple[Past, ...]:
    """The actor's own tailgates of the last two weeks, the newest first, five at most."""
    may.require(desk, "tailgating_held.latest")
    since, own = desk.today - _BACK, desk.actor.hand
    found = [
        Past(record.record_id, record.body.competency, record.day)
        for record in desk.store.records(kinds=("tailgate",), hand=own, site=desk.store.site)
        if isinstance(record.body, Tailgate) and record.record_id == record.body.tailgate and record.by == own
        # A sheet of paper comes in later than it was held.
        if record.day >= since or record.body.entered >= since.isoformat()
    ]
    return tuple(found[: -_MOST - 1 : -1])


def talk(desk: Desk, tailgate_id: str) -> Talk:
    """The actor's tailgate of that id. Raises ``NotFound("no-record")``."""
    may.require(desk, "tailgating_held.talk")
    held = vouching.held(desk, tailgate_id)
    number, revision, header = _form(desk, held.body.form)
    hands = (held.body.vouched, *(each.hand for each in held.people))
    people, places = desk.store.people(), people_on(desk.store, held.record.day)
    return Talk(
        held, desk.catalogue.lessons.get(held.body.topic), number, revision, header,
        names={hand: people[hand].name for hand in hands if hand in people},
        places={hand: places[hand] for hand in hands if hand in places},
        questions=tuple(_asked(desk, held, each) for each in held.body.items),
        voided=_voided(desk, held),
    )  # fmt: skip


def _form(desk: Desk, key: str | None) -> tuple[str, str, str]:
    lines = ((desk.store.text(key) if key else None) or "").split("\n")
    number, revision, header = (*lines, "", "", "")[:3]
    return number, revision, header


def _asked(desk: Desk, held: Held, drawn: str) -> Asked:
    name, _, version = drawn.rpartition(":")
    bank = bank_of(desk.catalogue, held.body.competency)
    item = bank.item(name) if bank else None
    bodies = [each.record.body for each in held.people if isinstance(each.record.body, Tailgate)]
    return Asked(
        name, version, item.text if item and str(item.version) == version else None,
        sum(body.answers.get(name) is not None for body in bodies), sum(name in body.right for body in bodies),
    )  # fmt: skip


def _voided(desk: Desk, held: Held) -> Mapping[str, Voided]:
    voids = desk.store.voids()
    records = (held.record.record_id, *(each.record.record_id for each in held.people))
    told = {each: told_void(desk, voids[each]) for each in records if each in voids}
    return {each: void for each, void in told.items() if void is not None}
