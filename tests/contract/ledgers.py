"""Records and stores for the store's tests: ids, days and times that are the same on every run."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import count
from pathlib import Path

from trainer.core.records import (
    Body,
    Joined,
    Key,
    Moved,
    Observation,
    Outside,
    QuizTaken,
    Reinstated,
    Signature,
    SiteFigures,
    StepSeen,
    StoodDown,
    Tailgate,
    Void,
)
from trainer.settings import Settings
from trainer.store import NewRecord, Store, Transaction, create
from trainer.store.coding import kind_of

SITE = "RIG-7"
DAY = date(2026, 3, 2)
AT = "2026-03-02T06:00:00.000Z"
FIGURES = SiteFigures({"crews": {"day-1": {"on": 14, "off": 14}}, "outside_good_for": "P90D"}, "America/Chicago")


def new_ids(start: int = 1) -> Iterator[str]:
    """UUIDv7s that count up from ``start``."""
    return (f"00000000-0000-7000-8000-{number:012x}" for number in count(start))


IDS = new_ids(1_000_000)


def new(
    body: Body, hand: str | None = None, *, record_id: str = "", day: date = DAY, by: str = "console", at: str = AT
) -> NewRecord:
    """A record to be written, under a fresh id where none is given."""
    return NewRecord(record_id or next(IDS), kind_of(body), body, day, by, hand, at)


def settings_in(folder: Path, database_url: str | None = None) -> Settings:
    """Settings for a store in ``folder``, or on the database that the URL names."""
    return Settings(folder, database_url, folder, folder)


def fill(writing: Transaction) -> None:
    """The two records that every site begins with."""
    writing.append(new(FIGURES))
    writing.append(new(Key(writing.keys.public())))


def empty(folder: Path) -> Store:
    """A new store in ``folder``."""
    return empty_at(settings_in(folder))


def empty_at(place: Settings) -> Store:
    """A new store where ``place`` says."""
    return create(place, SITE, fill)


def quiz(*, passed: bool = True, competency: str = "set-slips") -> QuizTaken:
    """A quiz result with one item."""
    return QuizTaken(
        quiz=competency,
        competency=competency,
        seed="s",
        items=("a:1",),
        options={"a": ("x", "y")},
        parameters={"a": {"depth": "12.5"}},
        answers={"a": ["x", "y"], "b": {"spot": ["t1"]}, "c": None},
        right=("a",) if passed else (),
        points=1 if passed else 0,
        cut=1,
        critical_missed=(),
        passed=passed,
        language="es",
        started=AT,
        content="c0ffee",
    )


def observation(outcomes: dict[str, str], purpose: str = "assessment") -> Observation:
    """A signed sheet with these outcomes, watched by ``obs``."""
    return Observation(
        checklist="connections",
        content="c0ffee",
        purpose=purpose,
        steps=(StepSeen("see-hold", "met"), StepSeen("clear", "not met", own_act=False, note="aa")),
        conditions={"light": "night"},
        overall="yes",
        observer="obs",
        brake="drl",
        hand_present="signed",
        signatures=(Signature("obs", "observer", AT, "watched"),),
        outcomes=outcomes,
        held="2026-03-01",
        tour="18:00-06:00",
        entered="2026-03-02",
    )


def tailgate(*, passed: bool = True) -> Tailgate:
    """One person at one talk."""
    return Tailgate("tg-1", "set-slips", "where", {"q1": "x"}, "throughout", passed, "drl")


def lively(store: Store) -> None:
    """Write a little of everything that gives rows, and voids of some of it."""
    with store.transaction() as writing:
        writing.append(new(Joined("day-1", "floorhand"), "h1"))
        writing.append(new(Moved("day-1", "derrickhand"), "h1"))
        writing.append(new(quiz(), "h1"))
        seen = writing.append(new(observation({"set-slips": "clean", "pull-slips": "not yet"}), "h1"))
        writing.append(new(StoodDown("pull-slips", "aa", seen.record_id, "obs"), "h1"))
        writing.append(new(tailgate(), "h2"))
        writing.append(new(Outside("set-slips", "outside-practical", "pass", "bb"), "h2"))
        writing.append(new(StoodDown("set-slips", "cc"), "h2"))
        writing.append(new(Reinstated("set-slips", "dd"), "h2"))
        gone = writing.append(new(observation({"set-slips": "clean"}), "h3"))
        writing.append(new(StoodDown("set-slips", None, gone.record_id), "h3"))
        writing.append(new(Void(gone.record_id, "ee"), "h3"))
