"""Earlier evidence comes in: each row one record, a second run of the same file none."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from trainer.actions import may
from trainer.actions.desk import Desk
from trainer.actions.people import known
from trainer.core.crewlist import Known
from trainer.core.earlier import REINSTATED, STOOD_DOWN, EarlierPlan, Entry, plan_earlier
from trainer.core.records import Body, Outside, Record, Reinstated, StoodDown
from trainer.core.rows import TableRow, comparable
from trainer.errors import BadCell, BadTable
from trainer.store import NewRecord, Reading, Transaction

__all__ = ["Imported", "Preview", "Told", "import_evidence", "preview_evidence"]

_TOGETHER = 500
"""Rows judged or written at a time."""

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


Told = Callable[[int, int], None]
"""Called now and then with how many rows are done and how many there are to do."""


def preview_evidence(desk: Desk, rows: Sequence[TableRow], told: Told = lambda _done, _of: None) -> Preview:
    """What the rows say, which of them are there already, and what is wrong with them. Nothing is written."""
    may.require(desk, "importing.preview_evidence")
    plan = _planned(desk, rows, known(desk.store), lambda done: told(done, len(rows)))
    there = _There(desk.store)
    fresh = tuple(_not_there(plan.entries, there.keys))
    return Preview(fresh, len(plan.entries) - len(fresh), plan.refused, plan.remarks)


def import_evidence(desk: Desk, rows: Sequence[TableRow], told: Told = lambda _done, _of: None) -> Imported:
    """Write every row that is not there yet, in file order, in one transaction.

    The nth equal row matches the nth already there, voided ones too: running a file again never brings back what was
    voided. Raises ``BadTable`` with every bad cell, and then nothing is written. Each row is told twice: judged, done.
    """
    may.require(desk, "importing.import_evidence")
    count = len(rows)
    with desk.store.transaction() as transaction:
        plan = _planned(desk, rows, known(transaction), lambda done: told(done, 2 * count))
        if plan.refused:
            raise BadTable(plan.refused)
        there = _There(transaction)
        outsiders = _Outsiders(transaction, there.names)
        fresh = list(_not_there(plan.entries, there.keys))
        for start in range(0, len(fresh), _TOGETHER):
            some = fresh[start : start + _TOGETHER]
            transaction.append_all([_record(desk, transaction, outsiders, entry) for entry in some])
            told(2 * count - len(fresh) + start + len(some), 2 * count)
    return Imported(len(fresh), len(plan.entries) - len(fresh), plan.remarks)


def _planned(
    desk: Desk, rows: Sequence[TableRow], people: Mapping[str, Known], told: Callable[[int], None]
) -> EarlierPlan:
    """All rows judged, some at a time; ``told`` is called with how many are."""
    plans = []
    for start in range(0, len(rows), _TOGETHER):
        some = rows[start : start + _TOGETHER]
        plans.append(plan_earlier(some, desk.catalogue, people, desk.today))
        told(start + len(some))
    return EarlierPlan(
        entries=tuple(each for plan in plans for each in plan.entries),
        refused=tuple(each for plan in plans for each in plan.refused),
        remarks=tuple(each for plan in plans for each in plan.remarks),
    )


def _record(desk: Desk, transaction: Transaction, outsiders: _Outsiders, entry: Entry) -> NewRecord:
    observer = entry.by if entry.is_by_hand else outsiders.key_of(entry.by)
    return desk.new_record(_body(transaction, entry, observer), hand=entry.hand, day=entry.day)


def _not_there(entries: Sequence[Entry], there: Counter[tuple[str, ...]]) -> Iterator[Entry]:
    """The entries beyond those that ``there`` holds already, each of which is used up by one equal entry."""
    left = there.copy()
    for entry in entries:
        if left[entry.key] > 0:
            left[entry.key] -= 1
        else:
            yield entry


class _There:
    """What such files brought before: people from outside by the value in the ledger, each row's key with its count."""

    def __init__(self, reading: Reading) -> None:
        records = list(reading.records(kinds=_KINDS))
        texts, people = reading.texts() if records else {}, reading.people()
        observers = {observer for record in records if (observer := _observer(record.body))}
        self.names = {value: texts[value] for value in observers if value in texts and value not in people}
        self.keys = Counter(_keys_there(records, self.names, texts))


class _Outsiders:
    """The people from outside, each one value in the ledger for good: two spellings of a name are one person.

    The ledger holds no name, and the value of a text is drawn with a salt of its own, so whoever is named again is
    looked up among those that the records name already.
    """

    def __init__(self, transaction: Transaction, names: Mapping[str, str]) -> None:
        self._transaction = transaction
        self._values = {comparable(name): value for value, name in names.items()}

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


def _keys_there(
    records: Iterable[Record], names: Mapping[str, str], texts: Mapping[str, str]
) -> Iterator[tuple[str, ...]]:
    """The key of each record that a row of such a file could have made; what the app wrote names no observer."""
    for record in records:
        observer = _observer(record.body)
        if observer is not None and record.hand is not None:
            yield _key(record, observer, names, texts.get(_note(record.body) or "", ""))


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
