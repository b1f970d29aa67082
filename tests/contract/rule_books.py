"""Whole small sites drawn from a seed: the two YAML files, roster files, evidence files.

Nothing of the program is imported. Everything drawn is legal, so that each command must take it; what is odd is odd
on purpose: month ends, leap days, the due day itself, crew-change days, people of one name typed in two ways.
"""

from __future__ import annotations

import csv
import io
import random
import unicodedata
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import yaml

from tests.contract.oracle import add

__all__ = [
    "EVIDENCE_COLUMNS",
    "ROSTER_COLUMNS",
    "Phase",
    "RuleBook",
    "csv_text",
    "draw",
    "moment",
]

Row = dict[str, str]
_Tale = Callable[[str, dict[str, Any], date, list[date]], list[Row]]

ROSTER_COLUMNS = ("hand_id", "name", "position", "crew", "joined", "left", "language")
EVIDENCE_COLUMNS = ("hand_id", "competency", "part", "day", "outcome", "by", "note")
_POSITIONS: dict[str, dict[str, Any]] = {
    "floorhand": {"role": "hand"},
    "motorhand": {"role": "hand"},
    "derrickhand": {"role": "hand", "observes": True},
    "assistant-driller": {"role": "driller", "observes": True},
    "driller": {"role": "driller", "observes": True},
    "toolpusher": {"role": "driller", "observes": True, "dispenses": True},
    "coordinator": {"role": "coordinator"},
}
_TODAYS = (date(2026, 3, 31), date(2026, 7, 14), date(2027, 12, 31), date(2028, 2, 29), date(2028, 3, 30))
_ZONES = ("UTC", "America/Chicago", "Asia/Dubai", "Australia/Sydney", "America/St_Johns")
_GOOD = ("P12M", "P6M", "P1Y", "P90D", "P26W", "P1M", "P13M", "P1Y1M1W1D", "P11M2W", "P2Y", "P31D")
_LONGER = {
    "P12M": "P15M", "P6M": "P7M", "P1Y": "P1Y", "P90D": "P100D", "P26W": "P30W", "P1M": "P2M", "P13M": "P13M1D",
    "P1Y1M1W1D": "P1Y2M1W1D", "P11M2W": "P11M3W", "P2Y": "P2Y1W", "P31D": "P40D",
}  # fmt: skip
_EXTENDS = ("P3M", "P1M", "P2W", "P10D", "P0D", "P6M")
_NOTICES = ("P30D", "P0D", "P1M", "P2W", "P0D", "P1W3D")
_WITHINS = ("P0D", "P14D", "P30D", "P1M", "P8W", "P1M1D")
_OUTSIDE = ("Ana Núñez", unicodedata.normalize("NFD", "Ana Núñez"), "Old, Sam", "K. Outside", "=Sum Wan", "Ned Far")
_ODD = ("knowledge", "practical", "outside-knowledge", "outside-practical") * 2 + ("stood-down", "reinstated") * 3
_NOTES = ("", "", "seen on tour", "=1+1", 'ñ, "x"')
_LEAPS = (date(2024, 2, 29), date(2028, 2, 29))


@dataclass(frozen=True)
class Phase:
    """One sitting at the command line: the moment, and the files that are run then."""

    now: str
    today: date
    roster: list[Row]
    evidence: list[Row]


@dataclass(frozen=True)
class RuleBook:
    """One drawn site. ``competencies`` and ``site`` are what the YAML files hold."""

    seed: int
    zone: str
    competencies: list[dict[str, Any]]
    site: dict[str, Any]
    phases: list[Phase] = field(default_factory=list)

    @property
    def today(self) -> date:
        """The day of the last phase."""
        return self.phases[-1].today

    def write(self, root: Path) -> None:
        """Puts content/competencies.yaml and content/site.yaml under ``root``, and nothing else."""
        (root / "content").mkdir(parents=True)
        for name, data in (("competencies", self.competencies), ("site", self.site)):
            text = yaml.dump(data, Dumper=_Plain, allow_unicode=True, sort_keys=False)
            (root / "content" / f"{name}.yaml").write_text(text, encoding="utf-8")


class _Plain(yaml.SafeDumper):
    """Writes no anchors: the program's YAML has none."""

    def ignore_aliases(self, data: object) -> bool:  # noqa: ARG002
        return True


def csv_text(rows: Sequence[Row], columns: Sequence[str]) -> str:
    """The rows as a CSV file."""
    out = io.StringIO()
    writer = csv.DictWriter(out, columns)
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def moment(day: date, clock: str, zone: str) -> str:
    """``clock`` on the civil ``day`` in ``zone``, as ``TRAINER_NOW`` wants it."""
    local = datetime.combine(day, time.fromisoformat(clock), ZoneInfo(zone))
    return local.astimezone(UTC).isoformat().replace("+00:00", "Z")


def draw(seed: int) -> RuleBook:
    """The site of this seed, with three phases: an early one, today, and today again with the clock run back."""
    luck = random.Random(seed)
    zone, today = luck.choice(_ZONES), luck.choice(_TODAYS)
    site = _site(luck, today)
    book = RuleBook(seed, zone, _competencies(luck), site)
    early = today - timedelta(days=luck.choice([20, 61, 150, 366]))
    first = _first_roster(luck, site, early)
    second = _second_roster(luck, site, first, early, today)
    third = _third_roster(luck, site, second, today)
    story = _Story(luck, book, sorted({row["hand_id"] for row in first} | {row["hand_id"] for row in second}))
    known = {row["hand_id"] for row in first}
    rows = story.rows(today, [date.fromisoformat(row["joined"]) for row in first] + [early, today])
    old = [row for row in rows if row["day"] <= early.isoformat() and row["hand_id"] in known]
    sooner = [row for row in old if luck.random() < 0.75]
    later = [row for row in rows if row not in sooner] + story.rows_on(today, 6)
    book.phases.append(Phase(moment(early, "23:30", zone), early, first, sooner))
    # Equal rows again, some more often than before: only what is over the number already there is new.
    book.phases.append(Phase(moment(today, "10:00", zone), today, second, later + sooner[:5] + sooner[:2]))
    book.phases.append(Phase(moment(today, "06:00", zone), today, third, story.rows_on(today, 8)))
    return book


def _site(luck: random.Random, today: date) -> dict[str, Any]:
    crews: dict[str, Any] = {"relief": {"tour": "06:00-18:00"}}
    for name in ("day-1", "night-1", "swing")[: luck.randint(2, 3)]:
        start = today - timedelta(days=luck.randint(-40, 400))
        on, off = luck.choice([2, 7, 14, 21, 28]), luck.choice([1, 7, 14, 28])
        crews[name] = {"start": start, "on": on, "off": off, "tour": "18:00-06:00"}
    positions = {name: dict(row) for name, row in _POSITIONS.items()}
    outside = luck.choice(["P90D", "P1M", "P6M", "P0D", "P13W"])
    return {"positions": positions, "crews": crews, "outside_good_for": outside}


def _competencies(luck: random.Random) -> list[dict[str, Any]]:
    workers = [name for name, row in _POSITIONS.items() if row["role"] != "coordinator"]
    made: list[dict[str, Any]] = []
    for number in range(luck.randint(4, 6)):
        rule: dict[str, Any] = {"id": f"skill-{number}", "title": {"en": f"Skill {number}", "es": f"Tarea {number}"}}
        rule["for"] = luck.sample(workers, luck.randint(4, len(workers)))
        rule["needs"] = _needs(luck, number)
        fitting = [each["id"] for each in made if set(rule["for"]) <= set(each["for"])]
        if not fitting and made and luck.random() < 0.7:
            rule["for"] = luck.sample(made[0]["for"], luck.randint(2, len(made[0]["for"])))
            fitting = [made[0]["id"]]
        if fitting and luck.random() < 0.8:
            rule["after"] = luck.sample(fitting, luck.randint(1, min(2, len(fitting))))
        if luck.random() < 0.7:
            rule["within"] = luck.choice(_WITHINS)
        if luck.random() < 0.8:
            rule["notice"] = luck.choice(_NOTICES)
        made.append(rule)
    luck.shuffle(made)
    return made


def _needs(luck: random.Random, number: int) -> dict[str, Any]:
    """The parts: the first competency of a site turns on its tailgates, the second on who assessed when."""
    needs: dict[str, Any] = {}
    parts = luck.choice([("knowledge",), ("practical",), ("knowledge", "practical"), ("knowledge", "practical")])
    if "knowledge" in parts or number == 0:
        good, longer = luck.choice(_GOOD), luck.choice(_EXTENDS)
        most = luck.choice(["", good, _LONGER[good]])
        if number == 0 or luck.random() < 0.4:
            # A talk on the very day of the quiz, or before it, can only matter where it adds more than the quiz.
            good, longer, most = (luck.choice(each) for each in (("P1M", "P31D", "P8W"), ("P6M", "P3M"), ("", "P4M")))
        needs["knowledge"] = {"quiz": f"skill-{number}", "good_for": good}
        needs["knowledge"] |= {"tailgate_extends": longer} if number == 0 or luck.random() < 0.8 else {}
        needs["knowledge"] |= {"at_most": most} if most else {}
    if ("practical" in parts and number) or number == 1:
        needs["practical"] = {"checklist": "watch", "good_for": luck.choice(_GOOD)}
        if number == 1 or luck.random() < 0.7:
            needs["practical"]["first"] = luck.choice([1, 2, 2, 3])
            needs["practical"]["assessors"] = luck.choice([1, 2, 2, needs["practical"]["first"]])
    return needs


def _first_roster(luck: random.Random, site: dict[str, Any], early: date) -> list[Row]:
    ids = ["r1", "R2", "-dash", "_under", "0", "h-10", "h-2", "Z9", "a" * 32, "m_4"]
    names = ["Ann Lee", "Ramón Peña", "=Sum One", "Bo, the tall", "+Plus", "Ágota Ő", "O'Neil", "Zoë", "Li 李", "@Al"]
    workers = [name for name, row in site["positions"].items() if row["role"] != "coordinator"]
    rows: list[Row] = []
    for hand, name in zip(luck.sample(ids, luck.randint(8, 10)), names, strict=False):
        joined = early - timedelta(days=luck.choice([0, 1, 13, 28, 90, 400, 800, -5, -30]))
        left = joined + timedelta(days=luck.choice([0, 30, 90, 200, 500])) if luck.random() < 0.35 else None
        place = {"position": luck.choice(workers), "crew": luck.choice(list(site["crews"]))}
        about = {"hand_id": hand, "name": name, **place, "joined": joined.isoformat()}
        rows.append(about | {"left": left.isoformat() if left else "", "language": luck.choice(["en", "es"])})
    about = {"hand_id": "shore", "name": "Cora", "position": "coordinator", "crew": "", "joined": early.isoformat()}
    return [*rows, about | {"left": "", "language": "en"}]


def _second_roster(luck: random.Random, site: dict[str, Any], first: list[Row], early: date, today: date) -> list[Row]:
    """Later rows: some the same, some renamed, moved, given a last day or back again; and two who are new."""
    rows: list[Row] = []
    for old in first:
        row = dict(old)
        chance = luck.random()
        gone = row["left"] and row["left"] < today.isoformat()
        if gone and chance < 0.8:
            back = date.fromisoformat(row["left"]) + timedelta(days=luck.choice([1, 2, 30]))
            row |= {"joined": back.isoformat(), "left": ""} | _place(luck, site)
        elif not gone and row["position"] != "coordinator" and row["joined"] <= today.isoformat():
            if chance < 0.7:
                row |= _move(luck, site, row)
            elif not row["left"] and chance < 0.85:
                row["left"] = (today + timedelta(days=luck.choice([1, 14, 60, 0]))).isoformat()
        if luck.random() < 0.2:
            row["name"] += " II"
        rows.append(row)
    new = {"hand_id": "new-1", "name": "New One", **_place(luck, site), "joined": today.isoformat()}
    soon = {"hand_id": "new-2", "name": "New Two", **_place(luck, site)}
    soon["joined"] = (today + timedelta(days=luck.randint(1, 60))).isoformat()
    return [*rows, *(each | {"left": "", "language": "es"} for each in (new, soon))]


def _third_roster(luck: random.Random, site: dict[str, Any], second: list[Row], today: date) -> list[Row]:
    """The same day again: some who are here are moved, a few of them for the second time or back to where they were."""
    rows: list[Row] = []
    for old in second:
        is_here = old["joined"] <= today.isoformat() and (not old["left"] or old["left"] > today.isoformat())
        moves = is_here and old["crew"] and luck.random() < 0.5
        rows.append(old | _move(luck, site, old) if moves else dict(old))
    return rows


def _move(luck: random.Random, site: dict[str, Any], row: Row) -> Row:
    """Another place: half the time another crew only."""
    return _place(luck, site) | ({"position": row["position"]} if luck.random() < 0.5 else {})


def _place(luck: random.Random, site: dict[str, Any]) -> Row:
    workers = [name for name, row in site["positions"].items() if row["role"] != "coordinator"]
    return {"position": luck.choice(workers), "crew": luck.choice(list(site["crews"]))}


@dataclass
class _Story:
    """Draws evidence: for each hand and competency a tale, most of them about one clause of the rules."""

    luck: random.Random
    book: RuleBook
    hands: list[str]

    def rows(self, today: date, pegs: list[date]) -> list[Row]:
        found: list[Row] = []
        for hand in self.hands:
            for rule in self.book.competencies:
                if self.luck.random() < 0.9:
                    tale = self.luck.choice([*self._fitting(rule), self._ramble, self._stand_down, self._plain])
                    start = today - timedelta(days=self.luck.choice([3, 30, 60, 150, 250, 365, 420, 500, 900]))
                    found += [row for row in tale(hand, rule, start, pegs) if row["day"] <= today.isoformat()]
        again = [dict(self.luck.choice(found)) for _ in range(4)]
        # Rows of one hand keep their order; those of others may stand between them.
        turns = [row["hand_id"] for row in found]
        self.luck.shuffle(turns)
        queues = {hand: [row for row in found if row["hand_id"] == hand] for hand in self.hands}
        return [queues[hand].pop(0) for hand in turns] + again

    def _fitting(self, rule: dict[str, Any]) -> list[_Tale]:
        talks = "tailgate_extends" in rule["needs"].get("knowledge", {})
        watches = rule["needs"].get("practical", {}).get("first", 1) > 1
        return [self._talks] * (3 if talks else 1) + [self._watches] * (3 if watches else 1)

    def rows_on(self, day: date, count: int) -> list[Row]:
        """Rows that all fall on one day, so that only the order of writing tells them apart."""
        pairs = [(self.luck.choice(self.hands), self.luck.choice(self.book.competencies)) for _ in range(count // 2)]
        return [self._any(hand, rule, day) for hand, rule in pairs for _ in range(2)]

    def _ramble(self, hand: str, rule: dict[str, Any], day: date, pegs: list[date]) -> list[Row]:
        rows: list[Row] = []
        for _ in range(self.luck.randint(1, 10)):
            rows.append(self._any(hand, rule, day))
            day = self._next(rule, day, pegs)
        return rows

    def _plain(self, hand: str, rule: dict[str, Any], day: date, pegs: list[date]) -> list[Row]:
        """Every needed part passed, three times, so that it holds whatever ``first`` and ``assessors`` ask."""
        rows: list[Row] = []
        for step in range(3):
            on = day + timedelta(days=step)
            rows += [self._row(hand, rule, part, on, by=_OUTSIDE[-1 - step]) for part in rule["needs"]]
        return rows + [self._any(hand, rule, self.luck.choice(pegs)) for _ in range(self.luck.randint(0, 2))]

    def _talks(self, hand: str, rule: dict[str, Any], day: date, pegs: list[date]) -> list[Row]:
        """A quiz, and tailgates before it, on its day, on its last day, and a day too late."""
        good = rule["needs"].get("knowledge", {"good_for": "P2M"})["good_for"]
        last = add(day, good)
        days = [day - timedelta(days=1), day, day + timedelta(days=self.luck.randint(1, 60)), last]
        rows = self._plain(hand, rule, day - timedelta(days=2), pegs) if self.luck.random() < 0.5 else []
        quiz = self._row(hand, rule, "knowledge", day)
        talks = [self._row(hand, rule, "tailgate", each) for each in self.luck.sample(days, self.luck.randint(1, 2))]
        late = [self._row(hand, rule, "tailgate", last + timedelta(days=1))] if self.luck.random() < 0.4 else []
        both = [quiz, *talks, *late]
        self.luck.shuffle(both)
        if self.luck.random() < 0.3:
            both.append(self._row(hand, rule, "outside-knowledge", self.luck.choice([day, last, *days])))
        return rows + both

    def _watches(self, hand: str, rule: dict[str, Any], day: date, pegs: list[date]) -> list[Row]:
        """The knowledge, then assessments that share their day or their assessor, until one at last does not."""
        rows = [self._row(hand, rule, "knowledge", day)] if self.luck.random() < 0.8 else []
        shares_day = self.luck.random() < 0.5
        names = self.luck.choice([_OUTSIDE[:2], _OUTSIDE[2:], _OUTSIDE])
        for number in range(self.luck.randint(1, 4)):
            on = day if shares_day else day + timedelta(days=7 * number)
            by = names[0] if self.luck.random() < 0.3 else names[number % len(names)]
            rows.append(self._row(hand, rule, "practical", on, by=by))
        if self.luck.random() < 0.3:
            part = self.luck.choice(["outside-practical", "outside-knowledge"])
            rows.append(self._row(hand, rule, part, day + timedelta(days=self.luck.choice([0, 300, 400]))))
        if self.luck.random() < 0.5:
            rows.append(self._row(hand, rule, "practical", self._next(rule, day, pegs), by=_OUTSIDE[3]))
        return rows

    def _stand_down(self, hand: str, rule: dict[str, Any], day: date, pegs: list[date]) -> list[Row]:
        """Parts passed, stood down, passed or not before being reinstated once or twice, some passed after."""
        rows = self._plain(hand, rule, day, pegs) if self.luck.random() < 0.7 else []
        if self.luck.random() < 0.3:
            rows = [*rows[:1], self._row(hand, rule, "reinstated", day + timedelta(days=self.luck.choice([0, 9, 90])))]
            if self.luck.random() < 0.5:
                return rows
        on = day + timedelta(days=self.luck.choice([2, 2, 20, 100]))
        rows.append(self._row(hand, rule, "stood-down", on))
        for _ in range(self.luck.randint(0, 3)):
            on += timedelta(days=self.luck.choice([0, 0, 3, 12]))
            rows.append(self._row(hand, rule, self.luck.choice([*rule["needs"], "reinstated", "tailgate"]), on))
        if self.luck.random() < 0.8:
            rows.append(self._row(hand, rule, "reinstated", on))
            later = on + timedelta(days=self.luck.choice([0, 1, 25]))
            rows += self._plain(hand, rule, later, pegs)[: self.luck.choice([0, 0, 1, 6])]
        return rows

    def _any(self, hand: str, rule: dict[str, Any], day: date) -> Row:
        wanted = [*rule["needs"]] * 3 + ["tailgate"] * 2
        return self._row(hand, rule, self.luck.choice(wanted if self.luck.random() < 0.8 else _ODD), day)

    def _row(self, hand: str, rule: dict[str, Any], part: str, day: date, by: str = "") -> Row:
        outcome = "pass" if by or self.luck.random() < 0.9 else "fail"
        by = by or self.luck.choice([each for each in self.hands if each != hand][:3] + list(_OUTSIDE))
        by = hand if part == "knowledge" and self.luck.random() < 0.5 else by
        row = {"hand_id": hand, "competency": rule["id"], "part": part, "day": day.isoformat()}
        return row | {"outcome": outcome, "by": by, "note": self.luck.choice(_NOTES)}

    def _next(self, rule: dict[str, Any], day: date, pegs: list[date]) -> date:
        """A day that leans on the last: the expiry itself, a day beside it, a month end, a leap day, a peg, or any."""
        good = self.luck.choice([need["good_for"] for need in rule["needs"].values()])
        month_end = (day.replace(day=28) + timedelta(days=4)).replace(day=1) - timedelta(days=1)
        choices = [
            day, day + timedelta(days=1), add(day, good), add(day, good) + timedelta(days=1), month_end,
            add(day, self.book.site["outside_good_for"]), self.luck.choice(_LEAPS), self.luck.choice(pegs),
            day + timedelta(days=self.luck.randint(1, 120)), day + timedelta(days=self.luck.randint(1, 30)),
        ]  # fmt: skip
        return self.luck.choice(choices)
