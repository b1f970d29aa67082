"""People come, move, leave and are renamed: by a roster file or one at a time, under the same rules."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime

from trainer.actions import may
from trainer.actions.desk import Desk
from trainer.core.crewlist import Change, Known, RosterPlan, StayEvent, known_people, plan_roster
from trainer.core.records import Body, Joined, Left, Moved
from trainer.core.rows import TableRow
from trainer.errors import BadTable, NotFound, Refused
from trainer.store import Person, Reading, Transaction

__all__ = ["Listed", "add_person", "apply_roster", "known", "leave", "listed", "move", "preview_roster", "rename"]


@dataclass(frozen=True, slots=True)
class Listed:
    """One person as the office lists them: the last stay, whether a PIN is set, and until when a code is good."""

    hand: str
    name: str
    language: str
    crew: str
    position: str
    joined: date | None
    left: date | None
    has_pin: bool
    code_until: datetime | None

    def is_here(self, day: date) -> bool:
        """Whether ``day`` lies within the last stay."""
        return self.joined is not None and self.joined <= day and (self.left is None or day <= self.left)


def listed(desk: Desk) -> tuple[Listed, ...]:
    """Everybody with a name here, by name: those here today, those to come and those who have left."""
    may.require(desk, "people.listed")
    with_pin, codes = desk.store.with_pin(), desk.store.codes()
    found = []
    for hand, each in known(desk.store).items():
        if each.name is None:
            continue
        code = codes.get(hand)
        until = datetime.fromtimestamp(code.expires / 1000, UTC) if code else None
        is_open = until is not None and desk.now <= until
        stay = (each.crew, each.position, each.joined, each.left)
        found.append(Listed(hand, each.name, each.language, *stay, hand in with_pin, until if is_open else None))
    return tuple(sorted(found, key=lambda each: (each.name.casefold(), each.hand)))


def known(reading: Reading) -> dict[str, Known]:
    """Everybody the site knows, by hand_id, as the last joined, moved or left says, future ones too."""
    named = {hand: (person.name, person.language) for hand, person in reading.people().items()}
    return known_people(named, reading.stay_rows())


def preview_roster(desk: Desk, rows: Sequence[TableRow]) -> RosterPlan:
    """What a roster would do: new, changed, same, refused. Nothing is written."""
    may.require(desk, "people.preview_roster")
    return plan_roster(rows, desk.catalogue.site, known(desk.store), desk.today)


def apply_roster(desk: Desk, plan: RosterPlan) -> RosterPlan:
    """Write all that a roster says, in file order, in one transaction; what was done comes back.

    The rows are planned again on what the ledger holds by now. Raises ``BadTable`` with every bad cell, and then
    nothing is written.
    """
    may.require(desk, "people.apply_roster")
    return _write(desk, plan.rows)


def _write(desk: Desk, rows: Sequence[TableRow]) -> RosterPlan:
    with desk.store.transaction() as transaction:
        plan = plan_roster(rows, desk.catalogue.site, known(transaction), desk.today)
        if plan.refused:
            raise BadTable(plan.refused)
        people = transaction.people()
        for change in plan.changes:
            _write_change(desk, transaction, change, people.get(change.hand_id))
    return plan


def _write_change(desk: Desk, transaction: Transaction, change: Change, was: Person | None) -> None:
    if change.is_new or change.is_renamed:
        note = was.note if was else ""
        transaction.put_person(Person(change.hand_id, change.name, change.language, note, desk.at))
    for event in change.events:
        transaction.append(desk.new_record(_body(event), hand=change.hand_id, day=event.day))


def _body(event: StayEvent) -> Body:
    match event.kind:
        case "joined":
            return Joined(event.crew, event.position)
        case "moved":
            return Moved(event.crew, event.position)
    return Left()


def add_person(
    desk: Desk, hand: str, name: str, position: str, crew: str = "", joined: date | None = None, language: str = ""
) -> None:
    """Take somebody new on, today unless ``joined`` says another day.

    Raises ``Refused("hand-exists")`` when the hand_id is taken, ``BadTable`` with each field that cannot be used.
    """
    may.require(desk, "people.add_person")
    if hand in known(desk.store):
        raise Refused("hand-exists", hand=hand)
    day = (joined or desk.today).isoformat()
    _write_one(desk, {"hand_id": hand, "name": name, "position": position, "crew": crew, "joined": day}, language)


def move(desk: Desk, hand: str, crew: str, position: str) -> None:
    """Another crew or position from today on. Raises ``NotFound``; ``BadTable`` for one who has left."""
    may.require(desk, "people.move")
    was = _somebody(desk, hand)
    _write_one(desk, {"hand_id": hand, "name": was.name or "", "position": position, "crew": crew})


def leave(desk: Desk, hand: str, day: date) -> None:
    """``day`` is the hand's last on the matrix. Raises ``NotFound``; ``BadTable`` where another day is known."""
    may.require(desk, "people.leave")
    was = _somebody(desk, hand)
    cells = {"hand_id": hand, "name": was.name or "", "position": was.position, "left": day.isoformat()}
    _write_one(desk, cells)


def rename(desk: Desk, hand: str, name: str, language: str = "") -> None:
    """Another name or language; the ledger holds neither. Raises ``NotFound``, or ``BadTable`` for a bad name."""
    may.require(desk, "people.rename")
    was = _somebody(desk, hand)
    _write_one(desk, {"hand_id": hand, "name": name, "position": was.position}, language)


def _somebody(desk: Desk, hand: str) -> Known:
    was = known(desk.store).get(hand)
    if was is None or was.name is None:
        raise NotFound("no-hand", hand=hand)
    return was


def _write_one(desk: Desk, cells: Mapping[str, str], language: str = "") -> None:
    said = {"language": language} if language else {}
    _write(desk, (TableRow(1, {**cells, **said}),))
