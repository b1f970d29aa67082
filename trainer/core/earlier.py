"""Earlier evidence that a file brings: each row read and judged, before anything is written."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from trainer.core.catalogue import Catalogue, Competency
from trainer.core.crewlist import Known
from trainer.core.records import Part
from trainer.core.rows import ColumnSet, TableRow, chosen_id, comparable, read_day, tidy
from trainer.errors import BadCell

__all__ = ["EVIDENCE_COLUMNS", "EarlierPlan", "Entry", "plan_earlier"]

EVIDENCE_COLUMNS = ColumnSet(
    ("hand_id", "competency", "part", "day", "outcome", "by", "note"),
    ("hand_id", "competency", "part", "day", "by"),
    days=("day",),
)
"""Columns of a file of earlier evidence; ``outcome`` may lack where every row is ``stood-down`` or ``reinstated``."""

STOOD_DOWN, REINSTATED = "stood-down", "reinstated"
_PARTS = tuple(part.value for part in Part if part is not Part.NONE)
_KINDS = (*_PARTS, STOOD_DOWN, REINSTATED)
_OUTCOMES = ("pass", "fail")
_WATCHED = (Part.PRACTICAL, Part.OUTSIDE_PRACTICAL)


@dataclass(frozen=True, slots=True)
class Entry:
    """One row as it will be written. ``part`` may be ``stood-down`` or ``reinstated``: those have no ``outcome``.

    ``by`` is a hand_id when ``is_by_hand``, else the name of a person from outside. Two equal entries are equal rows:
    ``row`` is left out of the comparison by ``key``.
    """

    row: int
    hand: str
    competency: str
    part: str
    day: date
    outcome: str
    by: str
    is_by_hand: bool
    note: str

    @property
    def key(self) -> tuple[str, ...]:
        """What makes two rows equal; the same outside person may be spelt with other case or accents."""
        by = self.by if self.is_by_hand else f"name:{comparable(self.by)}"
        return (self.hand, self.competency, self.part, self.day.isoformat(), self.outcome, by, self.note)


@dataclass(frozen=True, slots=True)
class EarlierPlan:
    """The rows that can be written, in file order; with anything ``refused`` none is; ``remarks`` stop nothing."""

    entries: tuple[Entry, ...]
    refused: tuple[BadCell, ...]
    remarks: tuple[BadCell, ...]


def plan_earlier(
    rows: Sequence[TableRow], catalogue: Catalogue, known: Mapping[str, Known], today: date
) -> EarlierPlan:
    """Each of ``rows`` as an entry or as bad cells, with a remark for a part or competency that nobody asked for."""
    entries: list[Entry] = []
    refused: list[BadCell] = []
    remarks: list[BadCell] = []
    for row in rows:
        bad = [*row.flaws, *_bad_cells(row, catalogue, known, today)]
        refused.extend(bad)
        if not bad:
            entries.append(_entry(row, catalogue, known))
            remarks.extend(_not_needed(row, entries[-1], catalogue, known))
    return EarlierPlan(tuple(entries), tuple(refused), tuple(remarks))


def _competency(row: TableRow, catalogue: Catalogue) -> Competency | None:
    ids = [each.id for each in catalogue.competencies]
    return catalogue.competency(chosen_id(row.get("competency"), ids))


def _entry(row: TableRow, catalogue: Catalogue, known: Mapping[str, Known]) -> Entry:
    """A row that holds nothing bad, read."""
    competency, day = _competency(row, catalogue), read_day(row, "day")
    assert competency is not None
    assert isinstance(day, date)
    part, by = chosen_id(row.get("part"), _KINDS), tidy(row.get("by"))
    return Entry(
        row=row.number,
        hand=row.get("hand_id"),
        competency=competency.id,
        part=part,
        day=day,
        outcome=row.get("outcome").casefold() if part in _PARTS else "",
        by=by,
        is_by_hand=by in known,
        note=row.get("note"),
    )


def _bad_cells(row: TableRow, catalogue: Catalogue, known: Mapping[str, Known], today: date) -> Iterable[BadCell]:
    """All that is wrong with one row."""
    yield from _bad_hand(row, known)
    if not row.get("competency"):
        yield row.bad("competency", "competency-missing")
    elif _competency(row, catalogue) is None:
        yield row.bad("competency", "competency-unknown", known=", ".join(each.id for each in catalogue.competencies))
    yield from _bad_part(row)
    day = read_day(row, "day")
    if day is None:
        yield row.bad("day", "day-missing")
    elif isinstance(day, BadCell):
        yield day
    elif day > today:
        yield row.bad("day", "day-future", today=today.isoformat())
    yield from _bad_by(row, known)


def _bad_hand(row: TableRow, known: Mapping[str, Known]) -> Iterable[BadCell]:
    hand = row.get("hand_id")
    if not hand:
        yield row.bad("hand_id", "hand-missing")
    elif hand not in known:
        yield row.bad("hand_id", "hand-unknown")
    elif known[hand].name is None:
        yield row.bad("hand_id", "hand-erased")


def _bad_part(row: TableRow) -> Iterable[BadCell]:
    """A part that there is not, or an outcome that a part with one lacks."""
    part, outcome = chosen_id(row.get("part"), _KINDS), row.get("outcome").casefold()
    if not part:
        yield row.bad("part", "part-missing", known=", ".join(_KINDS))
    elif part not in _KINDS:
        yield row.bad("part", "part-unknown", known=", ".join(_KINDS))
    elif part in _PARTS and outcome not in _OUTCOMES:
        yield row.bad("outcome", "outcome-unknown" if outcome else "outcome-missing")


def _bad_by(row: TableRow, known: Mapping[str, Known]) -> Iterable[BadCell]:
    """Nobody named, or a practical that the hand watched himself, under his id or under his own name."""
    by, hand = tidy(row.get("by")), row.get("hand_id")
    if not by:
        yield row.bad("by", "by-missing")
    elif not by.isprintable():
        yield row.bad("by", "by-form")
    elif chosen_id(row.get("part"), _KINDS) in _WATCHED and hand in known:
        own = known[hand].name or ""
        if by == hand or (by not in known and comparable(by) == comparable(own)):
            yield row.bad("by", "by-himself")


def _not_needed(row: TableRow, entry: Entry, catalogue: Catalogue, known: Mapping[str, Known]) -> Iterable[BadCell]:
    """A remark when the hand's position needs no such competency, or the competency no such part."""
    competency = catalogue.competency(entry.competency)
    assert competency is not None
    position = known[entry.hand].position
    if position not in competency.positions:
        yield row.bad("competency", "competency-not-needed", position=position or "-")
    if not _needs_part(competency, entry.part):
        yield row.bad("part", "part-not-needed", competency=competency.id)


def _needs_part(competency: Competency, part: str) -> bool:
    """Whether evidence of ``part`` can change a standing: a tailgate only where it extends the knowledge part."""
    knowledge, practical = competency.needs.knowledge, competency.needs.practical
    if part in _WATCHED:
        return practical is not None
    if part == Part.TAILGATE:
        return knowledge is not None and knowledge.tailgate_extends is not None
    return knowledge is not None or part in (STOOD_DOWN, REINSTATED)
