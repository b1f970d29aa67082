"""Earlier evidence comes in: each row one record, a second run of the same file none."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from trainer.actions import may
from trainer.actions.desk import Desk
from trainer.actions.people import known
from trainer.core.earlier import REINSTATED, STOOD_DOWN, Entry, plan_earlier
from trainer.core.records import Body, Outside, Record, Reinstated, StoodDown
from trainer.core.rows import TableRow, comparable
from trainer.errors import BadCell, BadTable
from trainer.store import Reading, Transaction

__all__ = ["Imported", "Preview", "import_evidence", "preview_evidence"]

_KINDS = ("outside", STOOD_DOWN, REINSTATED)


@dataclass(frozen=True, slots=True)
class Imported:
    """What an import did: how many rows were written, how many were there already, and what to look at again."""

    written: int
    same: int
    remarks: tuple[BadCell, ...]


@dataclass(frozen=True, slots=True)
class Preview:
    """What an import would do: the ``fresh`` rows to be written in file order, and how many are there already.

    With anything ``refused`` nothing is written; ``remarks`` stop nothing.
    """

    fresh: tuple[Entry, ...]
    same: int
    refused: tuple[BadCell, ...]
    remarks: tuple[BadCell, ...]


def preview_evidence(desk: Desk, rows: Sequence[TableRow]) -> Preview:
    """What the rows say, which of them are there already, and what is wrong with them. Nothing is written."""
    may.require(desk, "importing.preview_evidence")
    plan = plan_earlier(rows, desk.catalogue, known(desk.store), desk.today)
    there = Counter(_keys_there(desk.store, _outsiders(desk.store)))
    fresh = tuple(_not_there(plan.entries, there))
    return Preview(fresh, len(plan.entries) - len(fresh), plan.refused, plan.remarks)


def import_evidence(desk: Desk, rows: Sequence[TableRow]) -> Imported:
    """Write every row that is not there yet, in file order, in one transaction.

    The nth equal row matches the nth already there, voided ones too: running a file again never brings back what was
    voided. Raises ``BadTable`` with every bad cell, and then nothing is written.
    """
    may.require(desk, "importing.import_evidence")
    with desk.store.transaction() as transaction:
        plan = plan_earlier(rows, desk.catalogue, known(transaction), desk.today)
        if plan.refused:
            raise BadTable(plan.refused)
        outsiders = _Outsiders(transaction)
        there = Counter(_keys_there(transaction, outsiders.names))
        fresh = list(_not_there(plan.entries, there))
        for entry in fresh:
            observer = entry.by if entry.is_by_hand else outsiders.key_of(entry.by)
            body = _body(transaction, entry, observer)
            transaction.append(desk.new_record(body, hand=entry.hand, day=entry.day))
    return Imported(len(fresh), len(plan.entries) - len(fresh), plan.remarks)


def _not_there(entries: Sequence[Entry], there: Counter[tuple[str, ...]]) -> Iterator[Entry]:
    """The entries beyond those that ``there`` holds already, each of which is used up by one equal entry."""
    left = there.copy()
    for entry in entries:
        if left[entry.key] > 0:
            left[entry.key] -= 1
        else:
            yield entry


def _outsiders(reading: Reading) -> dict[str, str]:
    """The people from outside that the records name: the value in the ledger to the name."""
    observers = {_observer(record.body) for record in reading.records(kinds=_KINDS)} - {None}
    people = reading.people()
    kept = {value: reading.text(value) for value in observers if value and value not in people}
    return {value: name for value, name in kept.items() if name}


class _Outsiders:
    """The people from outside, each one value in the ledger for good: two spellings of a name are one person.

    The ledger holds no name, and the value of a text is drawn with a salt of its own, so whoever is named again is
    looked up among those that the records name already.
    """

    def __init__(self, transaction: Transaction) -> None:
        self._transaction = transaction
        self.names = _outsiders(transaction)
        self._values = {comparable(name): value for value, name in self.names.items()}

    def key_of(self, name: str) -> str:
        """The value that stands for this person in the ledger, kept now when nobody named them before."""
        spelt = comparable(name)
        if spelt not in self._values:
            self._values[spelt] = self._transaction.keep_text(name)
        return self._values[spelt]


def _observer(body: Body) -> str | None:
    return body.observer if isinstance(body, Outside | StoodDown | Reinstated) else None


def _note(body: Body) -> str | None:
    match body:
        case Outside():
            return body.note
        case StoodDown():
            return body.why
        case Reinstated():
            return body.done
    return None


def _keys_there(reading: Reading, names: Mapping[str, str]) -> Iterator[tuple[str, ...]]:
    """The key of each record that a row of such a file could have made; what the app wrote names no observer."""
    for record in reading.records(kinds=_KINDS):
        observer = _observer(record.body)
        if observer is not None and record.hand is not None:
            note = _note(record.body)
            yield _key(record, observer, names, (note and reading.text(note)) or "")


def _key(record: Record, observer: str, names: Mapping[str, str], note: str) -> tuple[str, ...]:
    body = record.body
    assert isinstance(body, Outside | StoodDown | Reinstated)
    part, outcome = (body.part, body.outcome) if isinstance(body, Outside) else (record.kind, "")
    name = names.get(observer)
    entry = Entry(
        row=0,
        hand=record.hand or "",
        competency=body.competency,
        part=part,
        day=record.day,
        outcome=outcome,
        by=name or observer,
        is_by_hand=name is None,
        note=note,
    )
    return entry.key


def _body(transaction: Transaction, entry: Entry, observer: str) -> Body:
    note = transaction.keep_text(entry.note, hand=entry.hand) if entry.note else None
    match entry.part:
        case "stood-down":
            return StoodDown(entry.competency, why=note, observer=observer)
        case "reinstated":
            return Reinstated(entry.competency, done=note, observer=observer)
    return Outside(entry.competency, entry.part, entry.outcome, observer, note)
