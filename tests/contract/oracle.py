"""A second reading of the rules of standing, in plain Python over dictionaries and text, for the tests to compare with.

It imports nothing of the program. Everything is asked again for each cell and each day, the slow and obvious way:
competencies and site come as YAML gave them, evidence as the rows of an ``evidence`` file, stays as ``Roster`` makes
them from the rows of ``roster`` files. A row carries ``record_id`` once it is known, so that voids can name it.
"""

from __future__ import annotations

import calendar
import re
import unicodedata
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

__all__ = ["PARTS", "Book", "Event", "Roster", "Row", "add", "expected_rows", "is_working_day", "subtract"]

Row = dict[str, str]
Event = dict[str, str]

PARTS = (
    "knowledge", "practical", "tailgate", "outside-knowledge", "outside-practical", "stood-down", "reinstated",
)  # fmt: skip
PASSING = PARTS[:5]
_DURATION = re.compile(r"P(?:(\d+)Y)?(?:(\d+)M)?(?:(\d+)W)?(?:(\d+)D)?")


def _numbers(duration: str) -> tuple[int, int]:
    """Months and days of a duration such as ``P1Y2M3W4D``."""
    found = _DURATION.fullmatch(duration)
    if found is None:
        raise ValueError(duration)
    years, months, weeks, days = (int(each or 0) for each in found.groups())
    return 12 * years + months, 7 * weeks + days


def _shift(day: date, months: int, days: int) -> date:
    """``day`` moved by whole months first, clamped to the month's end, then by days."""
    count = 12 * day.year + (day.month - 1) + months
    year, month = count // 12, count % 12 + 1
    last = calendar.monthrange(year, month)[1]
    return date(year, month, min(day.day, last)) + timedelta(days=days)


def add(day: date, duration: str) -> date:
    """The day ``duration`` after ``day``."""
    months, days = _numbers(duration)
    return _shift(day, months, days)


def subtract(day: date, duration: str) -> date:
    """The day ``duration`` before ``day``; years and months are taken off first here too."""
    months, days = _numbers(duration)
    return _shift(day, -months, -days)


@dataclass
class Roster:
    """What the roster files run so far have made: each event a dictionary with hand, kind, day, crew, position."""

    events: list[Event] = field(default_factory=list)
    names: dict[str, str] = field(default_factory=dict)

    def take(self, rows: Iterable[Row], today: date) -> list[Event]:
        """The events that a legal roster file, run on ``today``, adds; they are kept too."""
        added: list[Event] = []
        for row in rows:
            added += self._of_row(row, today)
            self.names[row["hand_id"]] = row["name"]
        return added

    def _of_row(self, row: Row, today: date) -> list[Event]:
        mine = [each for each in self.events if each["hand"] == row["hand_id"]]
        turns = [each for each in mine if each["kind"] in ("joined", "left")]
        exits = [each["day"] for each in turns if each["kind"] == "left"]
        if not turns or (turns[-1]["kind"] == "left" and row["joined"] > exits[-1]):
            added = [_event(row, "joined", row["joined"])]
            exits = []
        elif (row["crew"], row["position"]) != _place(mine):
            added = [_event(row, "moved", today.isoformat())]
        else:
            added = []
        if row["left"] and row["left"] not in exits:
            added.append(_event(row, "left", row["left"]))
        self.events += added
        return added


def _event(row: Row, kind: str, day: str) -> Event:
    place = {"crew": "", "position": ""} if kind == "left" else {"crew": row["crew"], "position": row["position"]}
    return {"hand": row["hand_id"], "kind": kind, "day": day, **place}


def _place(events: Sequence[Event]) -> tuple[str, str]:
    """Crew and position after the last joined or moved, in the order (day, written)."""
    last = [each for each in _in_order(events) if each["kind"] != "left"][-1]
    return last["crew"], last["position"]


def _in_order(rows: Iterable[dict[str, str]]) -> list[dict[str, str]]:
    # One site and a stamp that never runs back: (day, at, site, seq) is the day, then the order of writing.
    return sorted(rows, key=lambda row: row["day"])


@dataclass(frozen=True)
class Book:
    """One site's rules and everything written on it, voided records already out."""

    competencies: Sequence[Mapping[str, Any]]
    site: Mapping[str, Any]
    events: Sequence[Event]
    evidence: Sequence[Row]
    names: Mapping[str, str]

    @classmethod
    def of(
        cls,
        competencies: Sequence[Mapping[str, Any]],
        site: Mapping[str, Any],
        roster: Roster,
        evidence: Sequence[Row],
        voided: Collection[str] = (),
    ) -> Book:
        """The book without the records whose id is in ``voided``; evidence rows stay in file order."""
        events = [each for each in roster.events if each.get("record_id") not in voided]
        rows = [each for each in evidence if each.get("record_id") not in voided]
        return cls(competencies, site, events, rows, roster.names)


def expected_rows(book: Book, as_of: date) -> list[Row]:
    """The rows of ``matrix`` on ``as_of``, without the reason: by hand_id, then in the catalogue's order."""
    rows: list[Row] = []
    for hand in sorted({each["hand"] for each in book.events}):
        stays = _in_order(each for each in book.events if each["hand"] == hand and each["day"] <= as_of.isoformat())
        if not _is_on_the_matrix(stays, as_of):
            continue
        crew, position = _place(stays)
        if book.site["positions"][position]["role"] == "coordinator":
            continue
        asked = _Asked(book, hand, crew, stays, as_of)
        for rule in book.competencies:
            if position in rule["for"]:
                about = {"hand_id": hand, "name": book.names[hand], "position": position, "crew": crew}
                rows.append(about | asked.cell(rule))
    return rows


def _is_on_the_matrix(stays: Sequence[Event], as_of: date) -> bool:
    turns = [each for each in stays if each["kind"] in ("joined", "left")]
    if not turns:
        return False
    return turns[-1]["kind"] == "joined" or turns[-1]["day"] == as_of.isoformat()


@dataclass(frozen=True)
class _Asked:
    """One hand on one day."""

    book: Book
    hand: str
    crew: str
    stays: Sequence[Event]
    as_of: date

    def cell(self, rule: Mapping[str, Any]) -> Row:
        due = self.due(rule)
        by = self.do_by(due)
        return {
            "competency": rule["id"],
            "standing": self.standing(rule),
            "due": due.isoformat() if due else "",
            "do_by": by if isinstance(by, str) else by.isoformat(),
            "late": "yes" if due and self.as_of > due else "",
        }

    def rows(self, rule: Mapping[str, Any]) -> list[Row]:
        """Every row about this hand and competency up to the day, in order."""
        mine = [
            each for each in self.book.evidence if each["hand_id"] == self.hand and each["competency"] == rule["id"]
        ]
        return _in_order(each for each in mine if each["day"] <= self.as_of.isoformat())

    def counting(self, rule: Mapping[str, Any]) -> list[Row]:
        """The rows after the last stand-down."""
        rows = self.rows(rule)
        downs = [place for place, each in enumerate(rows) if each["part"] == "stood-down"]
        return rows[downs[-1] + 1 :] if downs else rows

    def is_down(self, rule: Mapping[str, Any]) -> bool:
        turns = [each["part"] for each in self.rows(rule) if each["part"] in ("stood-down", "reinstated")]
        return bool(turns) and turns[-1] == "stood-down"

    def standing(self, rule: Mapping[str, Any]) -> str:
        if self.is_down(rule):
            return "stood down"
        if not any(_passed(each) for each in self.rows(rule)):
            return "not started"
        if None in self.expiries(rule) or self.waits(rule):
            return "learning"
        due = self.due(rule)
        if due is None:
            return "current"
        if self.as_of > due:
            return "overdue"
        soon = self.as_of >= subtract(due, rule.get("notice", "P30D"))
        return "due" if soon or self.is_last_hitch(due) else "current"

    def waits(self, rule: Mapping[str, Any]) -> bool:
        """Whether a competency that must come before is itself not there yet."""
        before = [each for each in self.book.competencies if each["id"] in rule.get("after", ())]
        return any(self.standing(each) in ("not started", "learning", "stood down") for each in before)

    def expiries(self, rule: Mapping[str, Any]) -> list[date | None]:
        """The last day of each needed part; ``None`` for one that has not held since the last stand-down."""
        needs = rule["needs"]
        found: list[date | None] = []
        if "knowledge" in needs:
            found.append(self.knowledge(rule, needs["knowledge"]))
        if "practical" in needs:
            found.append(self.practical(rule, needs["practical"]))
        return found

    def passes(self, rule: Mapping[str, Any], part: str) -> list[Row]:
        return [each for each in self.counting(rule) if each["part"] == part and _passed(each)]

    def outside(self, rule: Mapping[str, Any], part: str) -> list[date]:
        days = [_day(each) for each in self.passes(rule, part)]
        return [add(days[-1], self.book.site["outside_good_for"])] if days else []

    def knowledge(self, rule: Mapping[str, Any], need: Mapping[str, Any]) -> date | None:
        ends = self.outside(rule, "outside-knowledge")
        quizzes = [_day(each) for each in self.passes(rule, "knowledge")]
        if quizzes:
            q = quizzes[-1]
            plain = add(q, need["good_for"])
            ends.append(plain)
            talks = [_day(each) for each in self.passes(rule, "tailgate")]
            inside = [t for t in talks if q <= t <= plain]
            if inside and "tailgate_extends" in need:
                longer = add(inside[-1], need["tailgate_extends"])
                ends.append(min(longer, add(q, need["at_most"])) if "at_most" in need else longer)
        return max(ends, default=None)

    def practical(self, rule: Mapping[str, Any], need: Mapping[str, Any]) -> date | None:
        ends = self.outside(rule, "outside-practical")
        clean = self.passes(rule, "practical")
        days = {each["day"] for each in clean}
        people = {unicodedata.normalize("NFC", each["by"]) for each in clean}
        if clean and len(days) >= need.get("first", 1) and len(people) >= need.get("assessors", 1):
            ends.append(add(_day(clean[-1]), need["good_for"]))
        return max(ends, default=None)

    def due(self, rule: Mapping[str, Any]) -> date | None:
        if self.is_down(rule):
            return None
        ends = self.expiries(rule)
        held = [each for each in ends if each is not None]
        if len(held) == len(ends):
            return min(held, default=None)
        return add(self.start(rule), rule["within"]) if "within" in rule else None

    def start(self, rule: Mapping[str, Any]) -> date:
        starts = [_day(each) for each in self.stays if each["kind"] == "joined"]
        position = ""
        for each in self.stays:
            if each["kind"] == "moved" and each["position"] != position and each["position"] in rule["for"]:
                starts.append(_day(each))
            position = each["position"] or position
        seen_down = False
        for row in self.rows(rule):
            seen_down = seen_down or row["part"] == "stood-down"
            if row["part"] == "reinstated" and seen_down:
                starts.append(_day(row))
        return max(starts)

    def do_by(self, due: date | None) -> date | str:
        if due is None:
            return ""
        crew = self.book.site["crews"].get(self.crew, {})
        day = due
        while day >= self.as_of:
            if is_working_day(crew, day):
                return day
            day -= timedelta(days=1)
        return "arrange"

    def is_last_hitch(self, due: date) -> bool:
        by = self.do_by(due)
        if isinstance(by, str):
            return by == "arrange"
        crew = self.book.site["crews"].get(self.crew, {})
        return "start" in crew and _cycle(crew, by) == _cycle(crew, self.as_of)


def _day(row: Mapping[str, str]) -> date:
    return date.fromisoformat(row["day"])


def _passed(row: Row) -> bool:
    return row["part"] in PASSING and row["outcome"] == "pass"


def _cycle(crew: Mapping[str, Any], day: date) -> int:
    return (day - date.fromisoformat(str(crew["start"]))).days // (int(crew["on"]) + int(crew["off"]))


def is_working_day(crew: Mapping[str, Any], day: date) -> bool:
    """Whether the crew works on ``day``; its crew-change day does not count, and without a rotation every day does."""
    if "start" not in crew:
        return True
    since = (day - date.fromisoformat(str(crew["start"]))).days
    return since % (int(crew["on"]) + int(crew["off"])) < int(crew["on"]) - 1
