"""Reports with everything in them that a reader may stumble over."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

from trainer import words
from trainer.core.records import Json
from trainer.core.standing import Cell, Reason, Rule, Standing
from trainer.export import LedgerHead, MatrixReport, RecordsReport

NOW = datetime(2026, 3, 2, 18, 0, tzinfo=UTC)
ROOT = Path(words.__file__).resolve().parent.parent
ENGLISH = words.load(ROOT, ROOT)["en"]
HEADS = (LedgerHead("rig-7", 12, "ab" * 32, "2026-03-02T17:00:00.000Z"),)


def cell(hand: str, standing: Standing, reason: Reason, **other: object) -> Cell:
    """A cell of a floorhand on day-1 without dates, but for what ``other`` says."""
    plain: dict[str, object] = {"due": None, "do_by": None, "late": False, "crew": "day-1", **other}
    return Cell(hand, "grip", "floorhand", standing=standing, reason=reason, **plain)  # type: ignore[arg-type]


DAY = date(2025, 12, 2)
CELLS = (
    cell("h1", Standing.CURRENT, Reason(Rule.HOLDS, "knowledge", "r1", DAY), due=date(2026, 12, 2), do_by=DAY),
    cell("h2", Standing.OVERDUE, Reason(Rule.EXPIRED, "practical", "r2", DAY), due=DAY, do_by="arrange", late=True),
    cell("h3", Standing.STOOD_DOWN, Reason(Rule.STOOD_DOWN, "", "r3", DAY), crew=""),
    cell("h4", Standing.LEARNING, Reason(Rule.AFTER, "calls", None, None)),
    cell("h5", Standing.NOT_STARTED, Reason(Rule.NOTHING, "", None, None)),
    cell("h6", Standing.DUE, Reason(Rule.LAST_HITCH, "knowledge", "r6", DAY), due=date(2026, 3, 9), do_by="arrange"),
)
NAMES = {
    "h1": 'José Ñandú, "el Flaco"',
    "h2": "=1+1",
    "h3": "@SUM(A1)",
    "h4": "+34 600",
    "h5": "due",
    # h6 was erased
}
MATRIX = MatrixReport("rig-7", date(2026, 3, 2), CELLS, NAMES, HEADS, "0.1", shown="day-1")

RECORDS: tuple[dict[str, Json], ...] = (
    {
        "record_id": "00000000-0000-7000-8000-000000000001", "site": "rig-7", "seq": 1,
        "at": "2026-03-02T17:00:00.000Z", "day": "2026-03-02", "by": "console", "hand": None, "kind": "site",
        "body": {"site": {"crews": {}, "ñ": "=1"}, "tz": "UTC", "v": 1}, "prev": "0" * 64, "hash": "12" * 32,
    },
    {
        "record_id": "00000000-0000-7000-8000-000000000002", "site": "rig-7", "seq": 2,
        "at": "2026-03-02T17:00:00.000Z", "day": "2026-03-02", "by": "console", "hand": "-h", "kind": "left",
        "body": {"v": 1}, "prev": "12" * 32, "hash": "34" * 32,
    },
)  # fmt: skip


def records() -> RecordsReport:
    """A report of ``RECORDS``, which is read once."""
    return RecordsReport("rig-7", iter(RECORDS), HEADS, "0.1")
