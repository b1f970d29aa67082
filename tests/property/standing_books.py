"""Random rule books, rosters and evidence with the calendar's edges in them.

A book is grown from one whole number by a seeded generator: days are set against each other by the book's own
durations, a day more or less, so that windows, caps and due days are met on the day itself far more often than
independent draws would meet them. A failing book is named by its number.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from random import Random
from typing import TypeVar

from hypothesis import strategies as st

from tests.property.naive_standing import Book
from trainer.core.catalogue import Catalogue, Competency, Knowledge, Needs, Position, Practical, Rotation, Site
from trainer.core.durations import Duration, after, before
from trainer.core.records import Effect, EvidenceRow, Part, StayRow

HANDS = ("h1", "h2")
POSITIONS = ("floorhand", "derrickhand", "driller", "coordinator", "stranger")
CREWS = ("day", "night", "day", "night", "", "unknown")

EDGES = (
    date(2023, 2, 28),
    date(2023, 12, 31),
    date(2024, 1, 31),
    date(2024, 2, 29),
    date(2024, 3, 1),
    date(2024, 3, 31),
    date(2024, 4, 30),
    date(2025, 2, 28),
)

DURATIONS = (
    Duration(),
    Duration(days=1),
    Duration(days=30),
    Duration(weeks=2),
    Duration(months=1),
    Duration(months=2),
    Duration(months=1, weeks=1),
    Duration(months=11, days=29),
    Duration(years=1),
    Duration(months=12),
)

PASSES = tuple(each for each in Part if each is not Part.NONE)

_T = TypeVar("_T")


def grown(number: int) -> Book:
    """The book of that number."""
    return _Grower(Random(number)).book()


books = st.integers(0, 2**32).map(grown)
"""Books, with their as-of day."""


def stamp(minute: int) -> str:
    """A time of writing; few different ones, so that ties are broken by site and place in the chain."""
    return f"2024-01-01T00:{minute:02d}:00.000Z"


class _Grower:
    def __init__(self, random: Random) -> None:
        self.random = random
        self.days = [self.one_of(EDGES)]

    def one_of(self, choices: Sequence[_T]) -> _T:
        return self.random.choice(choices)

    def is_lucky(self, chance: float) -> bool:
        return self.random.random() < chance

    def maybe(self, value: _T, chance: float) -> _T | None:
        return value if self.is_lucky(chance) else None

    def duration(self) -> Duration:
        return self.one_of(DURATIONS)

    def day(self) -> date:
        """A day near another of the book: the same, a duration before or after it, a day more or less."""
        if self.is_lucky(0.1):
            day = self.one_of(EDGES)
        else:
            move = self.one_of((after, after, before))
            day = move(self.one_of(self.days), self.one_of((Duration(), self.duration())))
            day += timedelta(days=self.one_of((0, 0, 0, -1, 1)))
        self.days.append(day)
        return day

    def competency(self, number: int) -> Competency:
        knowledge = Knowledge(
            "quiz", self.duration(), self.maybe(self.duration(), 0.8), self.maybe(self.duration(), 0.4)
        )
        few = (1, 1, 2, 2, 3)
        practical = Practical("sheet", self.duration(), first=self.one_of(few), assessors=self.one_of(few))
        needs = self.one_of(
            (Needs(knowledge, practical), Needs(knowledge), Needs(knowledge), Needs(None, practical), Needs())
            if self.is_lucky(0.3)
            else (Needs(knowledge, practical), Needs(knowledge), Needs(None, practical))
        )
        return Competency(
            id=f"c{number}",
            title={"en": "A competency"},
            positions=tuple(each for each in POSITIONS if self.is_lucky(0.7)),
            needs=needs,
            after=tuple(f"c{each}" for each in range(number) if self.is_lucky(0.4)),
            within=self.maybe(self.duration(), 0.8),
            notice=self.duration(),
        )

    def rotation(self) -> Rotation:
        if self.is_lucky(0.2):
            return Rotation()
        return Rotation(self.day(), self.one_of((2, 3, 14, 28)), self.one_of((0, 1, 14, 28)))

    def catalogue(self) -> Catalogue:
        roles = {"floorhand": "hand", "derrickhand": "hand", "driller": "driller", "coordinator": "coordinator"}
        site = Site(
            positions={name: Position(role) for name, role in roles.items()},
            crews={"day": self.rotation(), "night": self.rotation()},
            outside_good_for=self.duration(),
        )
        competencies = [self.competency(number) for number in range(self.one_of((1, 2, 3)))]
        # What comes first need not stand first in the list.
        self.random.shuffle(competencies)
        return Catalogue(tuple(competencies), site, {}, {}, {}, "")

    def evidence(self, names: Sequence[str], seq: int) -> EvidenceRow:
        effect = self.one_of([Effect.PASS] * 12 + [Effect.FAIL, Effect.DOWN, Effect.UP])
        return EvidenceRow(
            hand=self.one_of(HANDS),
            competency=self.one_of(names),
            part=Part.NONE if effect in (Effect.DOWN, Effect.UP) else self.one_of(PASSES),
            effect=effect,
            day=self.day(),
            at=stamp(self.one_of((0, 1))),
            site=self.one_of(("a", "b")),
            seq=seq,
            by=self.one_of(("x", "y", "z")),
            record_id=f"e{seq}",
        )

    def stay(self, hand: str, kind: str, seq: int) -> StayRow:
        return StayRow(
            hand=hand,
            kind=kind,
            day=self.day(),
            crew="" if kind == "left" else self.one_of(CREWS),
            position="" if kind == "left" else self.one_of(POSITIONS),
            at=stamp(self.one_of((0, 1))),
            site=self.one_of(("a", "b")),
            seq=seq,
            record_id=f"s{seq}",
        )

    def stays(self, hand: str, seq: int) -> list[StayRow]:
        kinds = ["joined", *self.random.choices(("joined", "moved", "moved", "left"), k=self.one_of((0, 1, 2, 3)))]
        return [self.stay(hand, kind, seq + number) for number, kind in enumerate(kinds)]

    def book(self) -> Book:
        catalogue = self.catalogue()
        names = [*(each.id for each in catalogue.competencies)] * 4 + ["not-in-the-catalogue"]
        evidence = [self.evidence(names, seq) for seq in range(self.one_of((0, 6, 12, 24)))]
        stays = [row for place, hand in enumerate(HANDS, start=1) for row in self.stays(hand, 100 * place)]
        return Book(catalogue, evidence, stays, self.day())
