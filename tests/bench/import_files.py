"""An evidence file of any length, as CSV and as XLSX, and a new site whose people it is about."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import uuid6
import xlsxwriter

from tests.bench import rigs
from trainer.actions.desk import Desk, console
from trainer.core.earlier import EVIDENCE_COLUMNS
from trainer.core.records import Joined, Key, SiteFigures
from trainer.settings import Settings
from trainer.store import NewRecord, Person, Transaction, create

__all__ = ["csv_file", "new_desk", "xlsx_file"]

NOW = datetime(2026, 6, 1, 12, 0, tzinfo=UTC)
_FIRST = date(2024, 1, 1)


def table(rows: int, hands: int) -> Iterator[tuple[str, ...]]:
    """The header and that many different rows, two parts in turn, some with a note, by observers from outside."""
    yield tuple(EVIDENCE_COLUMNS.names)
    ids = [each.id for each in rigs.catalogue().competencies if each.needs.knowledge and each.needs.practical]
    for number in range(rows):
        cells = {
            "hand_id": f"h{number % hands:05}",
            "competency": ids[number // hands % len(ids)],
            "part": ("outside-knowledge", "outside-practical")[number // hands // len(ids) % 2],
            "day": (_FIRST + timedelta(days=number * 7 % 800)).isoformat(),
            "outcome": "pass",
            "by": f"Observer {number % 40}",
            "note": f"Seen at the old rig, sheet {number}" if number % 5 == 0 else "",
        }
        yield tuple(cells.get(name, "") for name in EVIDENCE_COLUMNS.names)


def csv_file(rows: int, hands: int) -> bytes:
    """That table as CSV."""
    text = io.StringIO(newline="")
    csv.writer(text).writerows(table(rows, hands))
    return text.getvalue().encode()


def xlsx_file(rows: int, hands: int) -> bytes:
    """That table as XLSX."""
    packed = io.BytesIO()
    book = xlsxwriter.Workbook(packed, {"in_memory": True})
    page = book.add_worksheet()
    for number, cells in enumerate(table(rows, hands)):
        page.write_row(number, 0, cells)
    book.close()
    return packed.getvalue()


@contextmanager
def new_desk(folder: Path, hands: int) -> Iterator[Desk]:
    """The console's desk on a new site with that many floorhands."""
    place = Settings(folder, None, folder, folder)
    store = create(place, "rig", lambda writing: _fill(writing, hands))
    try:
        yield Desk(store, rigs.catalogue(), NOW, lambda: str(uuid6.uuid7()), console())
    finally:
        store.close()


def _fill(writing: Transaction, hands: int) -> None:
    at, day = "2026-01-01T00:00:00.000Z", date(2024, 1, 1)
    writing.append(NewRecord(str(uuid6.uuid7()), "site", SiteFigures({}, "UTC"), day, "console", None, at))
    writing.append(NewRecord(str(uuid6.uuid7()), "key", Key(writing.keys.public()), day, "console", None, at))
    for number in range(hands):
        hand = f"h{number:05}"
        writing.put_person(Person(hand, f"Hand {number}"))
        joined = Joined("crew-00", "floorhand")
        writing.append(NewRecord(str(uuid6.uuid7()), "joined", joined, day, "console", hand, at))
