"""What a roster file changes: each row against who is known already, decided before anything is written.

A row of somebody new is a person and a ``joined``. Of somebody known it may move them (today), say their last day,
or bring them back after it; a date that is already in the ledger is never changed here, it is voided first.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import chain

from trainer.core.catalogue import Site
from trainer.core.records import ConsoleActor, StayRow
from trainer.core.rows import ColumnSet, TableRow, chosen_id, comparable, read_day, tidy
from trainer.errors import BadCell

__all__ = ["ROSTER_COLUMNS", "Change", "Known", "RosterPlan", "StayEvent", "known_people", "plan_roster"]

ROSTER_COLUMNS = ColumnSet(
    ("hand_id", "name", "position", "crew", "joined", "left", "language"),
    ("hand_id", "name", "position", "joined"),
    days=("joined", "left"),
)
"""Columns of a roster. One that is absent changes nothing; ``crew`` may be empty: no hitch, every day is worked."""

_HAND_ID = re.compile(r"[A-Za-z0-9_-]{1,32}", re.ASCII)
_LONGEST_NAME = 100
_COORDINATOR = "coordinator"


@dataclass(frozen=True, slots=True)
class Known:
    """Somebody the site knows: the name (``None`` once erased) and the last stay; ``moved`` is its latest move."""

    name: str | None = None
    language: str = ""
    joined: date | None = None
    moved: date | None = None
    left: date | None = None
    crew: str = ""
    position: str = ""

    def is_here(self, day: date) -> bool:
        """Whether ``day`` lies within the last stay."""
        return self.joined is not None and self.joined <= day and (self.left is None or day <= self.left)


@dataclass(frozen=True, slots=True)
class StayEvent:
    """A ``joined``, ``moved`` or ``left`` to be written; ``crew`` and ``position`` are empty for ``left``."""

    kind: str
    day: date
    crew: str = ""
    position: str = ""


@dataclass(frozen=True, slots=True)
class Change:
    """What one row does: the person as they will be, and what happens to their stay, in the order of writing."""

    row: int
    hand_id: str
    name: str
    language: str
    is_new: bool
    is_renamed: bool
    events: tuple[StayEvent, ...]

    @property
    def is_same(self) -> bool:
        """Whether the row says nothing that is not known already."""
        return not (self.is_new or self.is_renamed or self.events)


@dataclass(frozen=True, slots=True)
class RosterPlan:
    """A roster sorted by what it does. With anything ``refused`` nothing is written; ``remarks`` stop nothing."""

    new: tuple[Change, ...]
    changed: tuple[Change, ...]
    same: tuple[Change, ...]
    refused: tuple[BadCell, ...]
    remarks: tuple[BadCell, ...]
    rows: tuple[TableRow, ...]

    @property
    def changes(self) -> tuple[Change, ...]:
        """Everything to be written, in file order."""
        return tuple(sorted(chain(self.new, self.changed), key=lambda change: change.row))


@dataclass(frozen=True, slots=True)
class _Wanted:
    """A row as read, with the gaps of absent columns filled from what is known."""

    row: TableRow
    name: str
    language: str
    crew: str
    position: str
    joined: date | None
    left: date | None


def known_people(people: Mapping[str, tuple[str, str]], stays: Iterable[StayRow]) -> dict[str, Known]:
    """Everybody by hand_id, from (name, language) by hand_id and the stays in their order (day, at, site, seq)."""
    known = {hand: Known(name, language) for hand, (name, language) in people.items()}
    for stay in stays:
        known[stay.hand] = _after_stay(known.get(stay.hand, Known()), stay)
    return known


def _after_stay(was: Known, stay: StayRow) -> Known:
    if stay.kind == "joined":
        return replace(was, joined=stay.day, moved=None, left=None, crew=stay.crew, position=stay.position)
    if stay.kind == "moved":
        return replace(was, moved=stay.day, crew=stay.crew, position=stay.position)
    return replace(was, left=stay.day)


def plan_roster(rows: Sequence[TableRow], site: Site, known: Mapping[str, Known], today: date) -> RosterPlan:
    """What ``rows`` would change on ``today``; every bad cell of every row is in ``refused``, by row."""
    planned = [_plan_row(row, known.get(row.get("hand_id")), site, today) for row in rows]
    changes = [each for each in planned if isinstance(each, Change)]
    refused = [cell for each in planned if not isinstance(each, Change) for cell in each]
    refused.extend(_twice(rows))
    return RosterPlan(
        new=tuple(each for each in changes if each.is_new),
        changed=tuple(each for each in changes if not each.is_new and not each.is_same),
        same=tuple(each for each in changes if each.is_same),
        refused=tuple(sorted(refused, key=lambda cell: cell.row)),
        remarks=_near_names(rows, changes, known),
        rows=tuple(rows),
    )


def _plan_row(row: TableRow, was: Known | None, site: Site, today: date) -> Change | tuple[BadCell, ...]:
    """The change that one row makes, or all that is wrong with it."""
    if was is not None and was.name is None:
        return (row.bad("hand_id", "hand-erased"),)
    known = was or Known()
    bad = [*row.flaws, *_bad_person(row, site), *_bad_place(row, known, site)]
    joined, left = read_day(row, "joined"), read_day(row, "left")
    bad.extend(day for day in (joined, left) if isinstance(day, BadCell))
    if isinstance(joined, BadCell) or isinstance(left, BadCell):
        return tuple(bad)
    wanted = _Wanted(
        row=row,
        name=tidy(row.get("name")),
        language=row.get("language").casefold() or known.language or site.languages[0],
        crew=_crew(row, known, site),
        position=chosen_id(row.get("position"), site.positions),
        joined=joined,
        left=left,
    )
    events = _stay_events(wanted, known, today)
    bad.extend(_bad_stay(wanted, events, is_alone=not bad))
    return tuple(bad) if bad or isinstance(events, BadCell) else _change(wanted, was, events)


def _bad_stay(wanted: _Wanted, events: tuple[StayEvent, ...] | BadCell, *, is_alone: bool) -> Iterable[BadCell]:
    """What is wrong with the days, beside the rest of the row; whether a move may be is not asked of a wrong place."""
    row, joined, left = wanted.row, wanted.joined, wanted.left
    if isinstance(events, BadCell) and (is_alone or events.column in ROSTER_COLUMNS.days):
        yield events
        if events.column == "left":
            return
    if joined is not None and left is not None and left < joined:
        yield row.bad("left", "left-before-joined", joined=joined.isoformat())


def _change(wanted: _Wanted, was: Known | None, events: tuple[StayEvent, ...]) -> Change:
    renamed = was is not None and (was.name, was.language) != (wanted.name, wanted.language)
    hand = wanted.row.get("hand_id")
    return Change(wanted.row.number, hand, wanted.name, wanted.language, was is None, renamed, events)


def _crew(row: TableRow, known: Known, site: Site) -> str:
    """The crew that the row says; where the table has no crew column as it was, but a coordinator has none."""
    if row.has("crew"):
        return chosen_id(row.get("crew"), site.crews)
    return "" if _is_coordinator(chosen_id(row.get("position"), site.positions), site) else known.crew


def _is_coordinator(position: str, site: Site) -> bool:
    found = site.position(position)
    return found is not None and found.role == _COORDINATOR


def _bad_person(row: TableRow, site: Site) -> Iterable[BadCell]:
    """What is wrong with the id, the name and the language of a row."""
    hand, name, language = row.get("hand_id"), tidy(row.get("name")), row.get("language").casefold()
    if not hand:
        yield row.bad("hand_id", "hand-missing")
    elif hand.casefold() == ConsoleActor:
        yield row.bad("hand_id", "hand-taken")
    elif not _HAND_ID.fullmatch(hand):
        yield row.bad("hand_id", "hand-form")
    if not name:
        yield row.bad("name", "name-missing")
    elif len(name) > _LONGEST_NAME or not name.isprintable():
        yield row.bad("name", "name-form", longest=str(_LONGEST_NAME))
    if language and language not in site.languages:
        yield row.bad("language", "language-unknown", known=", ".join(site.languages))


def _bad_place(row: TableRow, known: Known, site: Site) -> Iterable[BadCell]:
    """What is wrong with the position and the crew of a row; what the person has already is never refused."""
    position, crew = chosen_id(row.get("position"), site.positions), chosen_id(row.get("crew"), site.crews)
    if not position:
        yield row.bad("position", "position-missing")
    elif position not in site.positions and position != known.position:
        yield row.bad("position", "position-unknown", known=", ".join(site.positions))
    if crew and _is_coordinator(position, site):
        yield row.bad("crew", "crew-coordinator")
    elif crew and crew not in site.crews and crew != known.crew:
        yield row.bad("crew", "crew-unknown", known=", ".join(site.crews))


def _stay_events(wanted: _Wanted, known: Known, today: date) -> tuple[StayEvent, ...] | BadCell:
    """What happens to the stay, or the cell that asks for what must be voided first."""
    row, joined = wanted.row, wanted.joined
    if known.joined is None:
        return row.bad("joined", "joined-missing") if joined is None else _arrival(wanted, joined)
    if joined is None or joined == known.joined:
        return _same_stay(wanted, known, known.joined, today)
    if known.left is not None and joined > known.left:
        return _arrival(wanted, joined)
    return row.bad("joined", "joined-changed", was=known.joined.isoformat())


def _arrival(wanted: _Wanted, joined: date) -> tuple[StayEvent, ...] | BadCell:
    """A ``joined``, and the ``left`` where the row says that too."""
    here = StayEvent("joined", joined, wanted.crew, wanted.position)
    if wanted.left is None:
        return (here,)
    if wanted.left < joined:
        return wanted.row.bad("left", "left-before-joined", joined=joined.isoformat())
    return (here, StayEvent("left", wanted.left))


def _same_stay(wanted: _Wanted, known: Known, joined: date, today: date) -> tuple[StayEvent, ...] | BadCell:
    """A move, a last day, both or nothing, within the stay that is known."""
    bad = _bad_left(wanted, known, joined)
    if bad is not None:
        return bad
    events: list[StayEvent] = []
    last = wanted.left or known.left
    if (wanted.crew, wanted.position) != (known.crew, known.position):
        if last is not None and last < today:
            column = "crew" if wanted.crew != known.crew else "position"
            return wanted.row.bad(column, "moved-after-left", left=last.isoformat())
        # Somebody who joins later is moved on that day: a move before it would be undone by the joining.
        events.append(StayEvent("moved", max(today, joined), wanted.crew, wanted.position))
    if wanted.left is not None and known.left is None:
        events.append(StayEvent("left", wanted.left))
    return tuple(events)


def _bad_left(wanted: _Wanted, known: Known, joined: date) -> BadCell | None:
    """The ``left`` cell when it contradicts the ledger: another last day, none any more, one before what happened."""
    row, left = wanted.row, wanted.left
    if known.left is not None:
        is_same = left == known.left or not row.has("left")
        return None if is_same else row.bad("left", "left-changed", was=known.left.isoformat())
    if left is not None and left < joined:
        return row.bad("left", "left-before-joined", joined=joined.isoformat())
    if left is not None and known.moved is not None and left < known.moved:
        return row.bad("left", "left-before-moved", moved=known.moved.isoformat())
    return None


def _twice(rows: Iterable[TableRow]) -> Iterable[BadCell]:
    """The rows whose hand has a row further up: one file says one thing about one hand."""
    first: dict[str, int] = {}
    for row in rows:
        hand = row.get("hand_id")
        if hand and first.setdefault(hand, row.number) != row.number:
            yield row.bad("hand_id", "hand-twice", first=str(first[hand]))


def _near_names(rows: Iterable[TableRow], changes: Sequence[Change], known: Mapping[str, Known]) -> tuple[BadCell, ...]:
    """A remark for each new or renamed person whose name, but for case and accents, somebody else has."""
    final = {hand: each.name for hand, each in known.items() if each.name}
    final.update((change.hand_id, change.name) for change in changes)
    holders: dict[str, list[str]] = {}
    for hand, name in final.items():
        holders.setdefault(comparable(name), []).append(hand)
    by_number = {row.number: row for row in rows}
    remarks: list[BadCell] = []
    for change in changes:
        others = [hand for hand in holders.get(comparable(change.name), ()) if hand != change.hand_id]
        if others and (change.is_new or change.is_renamed):
            remarks.append(by_number[change.row].bad("name", "name-near", other=others[0]))
    return tuple(remarks)
