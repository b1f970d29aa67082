"""How far a hand is with each part: through which day, and how many clean watches by how many people."""

from __future__ import annotations

from datetime import date

from trainer.core.catalogue import Catalogue, Competency, Knowledge, Needs, Practical, Site
from trainer.core.durations import Duration
from trainer.core.progress import PartProgress, progress
from trainer.core.records import Effect, EvidenceRow, Part

YEAR = Duration(years=1)
NEEDS = Needs(Knowledge("q", YEAR), Practical("sheet", YEAR, first=2, assessors=2))
CATALOGUE = Catalogue((Competency("c", {"en": "C"}, ("floorhand",), NEEDS),), Site({}, {}), {}, {}, {}, "x")


def row(seq: int, part: Part, day: date, by: str = "o1", effect: Effect = Effect.PASS) -> EvidenceRow:
    return EvidenceRow("h", "c", part, effect, day, f"2026-01-01T00:00:00.{seq:03}Z", "s", seq, by, _id(seq))


def _id(seq: int) -> str:
    return f"00000000-0000-7000-8000-{seq:012}"


def parts(*rows: EvidenceRow, on: date = date(2026, 3, 1)) -> tuple[PartProgress, PartProgress]:
    knowledge, practical = progress(CATALOGUE, rows, "h", on)["c"]
    return knowledge, practical


def test_nothing_yet() -> None:
    knowledge, practical = parts()
    assert (knowledge.through, knowledge.holds) == (None, False)
    assert (practical.watches, practical.of_watches, practical.of_watchers) == (0, 2, 2)


def test_two_watches_on_one_day_are_one_and_one_observer_twice_is_one() -> None:
    _, practical = parts(row(1, Part.PRACTICAL, date(2026, 1, 1)), row(2, Part.PRACTICAL, date(2026, 1, 1), "o2"))
    assert (practical.watches, practical.watchers, practical.through) == (1, 2, None)

    _, practical = parts(row(1, Part.PRACTICAL, date(2026, 1, 1)), row(2, Part.PRACTICAL, date(2026, 1, 5)))
    assert (practical.watches, practical.watchers, practical.through) == (2, 1, None)


def test_enough_of_both_holds_through_a_year_after_the_last_and_then_no_more() -> None:
    rows = (row(1, Part.PRACTICAL, date(2026, 1, 1)), row(2, Part.PRACTICAL, date(2026, 1, 5), "o2"))
    _, practical = parts(*rows)
    assert (practical.through, practical.holds) == (date(2027, 1, 5), True)
    _, practical = parts(*rows, on=date(2027, 1, 6))
    assert (practical.through, practical.holds) == (date(2027, 1, 5), False)


def test_a_failed_watch_and_one_after_the_day_asked_do_not_count() -> None:
    failed = row(1, Part.PRACTICAL, date(2026, 1, 1), effect=Effect.FAIL)
    _, practical = parts(failed, row(2, Part.PRACTICAL, date(2026, 4, 1)))
    assert practical.watches == 0


def test_a_stand_down_starts_the_count_anew() -> None:
    down = row(2, Part.NONE, date(2026, 1, 2), effect=Effect.DOWN)
    up = row(3, Part.NONE, date(2026, 1, 3), effect=Effect.UP)
    _, practical = parts(row(1, Part.PRACTICAL, date(2026, 1, 1)), down, up, row(4, Part.PRACTICAL, date(2026, 1, 4)))
    assert (practical.watches, practical.through) == (1, None)
