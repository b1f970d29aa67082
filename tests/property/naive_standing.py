"""The standing rule cell by cell in plain Python, written from the text of the rule and from nothing else.

Slow and obvious on purpose: it shares no code with the product but durations and the frozen types it is given.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from trainer.core.catalogue import Catalogue, Competency, Rotation
from trainer.core.durations import after, before
from trainer.core.records import Effect, EvidenceRow, Part, StayRow

BLOCKING = ("not started", "learning", "stood down")


@dataclass(frozen=True)
class Expected:
    """What one cell must say."""

    standing: str
    due: date | None
    do_by: date | str | None
    late: bool
    position: str
    crew: str


@dataclass(frozen=True)
class Book:
    """Everything given to the rule."""

    catalogue: Catalogue
    evidence: Sequence[EvidenceRow]
    stays: Sequence[StayRow]
    as_of: date


def matrix(book: Book) -> dict[tuple[str, str], Expected]:
    """Each needed cell, by hand_id, then catalogue order."""
    cells = {}
    for hand in sorted({row.hand for row in book.stays}):
        place = place_of(book, hand)
        if place is None or is_coordinator(book, place.position):
            continue
        for competency in book.catalogue.competencies:
            if place.position in competency.positions:
                cells[hand, competency.id] = cell(book, hand, competency, place)
    return cells


def in_order(rows: Sequence[EvidenceRow]) -> list[EvidenceRow]:
    return sorted(rows, key=lambda row: (row.day, row.at, row.site, row.seq))


def stays_of(book: Book, hand: str) -> list[StayRow]:
    rows = [row for row in book.stays if row.hand == hand and row.day <= book.as_of]
    return sorted(rows, key=lambda row: (row.day, row.at, row.site, row.seq))


def place_of(book: Book, hand: str) -> StayRow | None:
    """The last joined or moved of a hand on the matrix, ``None`` for one who is not on it."""
    place, is_on = None, True
    for row in stays_of(book, hand):
        if row.kind == "left":
            is_on = is_on and row.day >= book.as_of
        else:
            place = row
            is_on = is_on or row.kind == "joined"
    return place if is_on else None


def is_coordinator(book: Book, position: str) -> bool:
    positions = book.catalogue.site.positions
    return position in positions and positions[position].role == "coordinator"


def evidence_of(book: Book, hand: str, competency: str) -> list[EvidenceRow]:
    return in_order(
        [row for row in book.evidence if row.hand == hand and row.competency == competency and row.day <= book.as_of]
    )


def split(rows: list[EvidenceRow]) -> tuple[bool, list[EvidenceRow], date | None]:
    """Whether stood down, the rows after the last stand-down, the day of the last reinstatement that counts."""
    is_down, since, back = False, rows, None
    was_ever_down = False
    for place, row in enumerate(rows):
        if row.effect is Effect.DOWN:
            is_down, was_ever_down, since = True, True, rows[place + 1 :]
        if row.effect is Effect.UP and was_ever_down:
            is_down, back = False, row.day
    return is_down, since, back


def passes(rows: list[EvidenceRow], part: Part) -> list[EvidenceRow]:
    return [row for row in rows if row.part is part and row.effect is Effect.PASS]


def knowledge_through(book: Book, competency: Competency, since: list[EvidenceRow]) -> date | None:
    """The last day on which knowledge holds or held, ``None`` if it has not held."""
    need = competency.needs.knowledge
    assert need is not None
    through = []
    quizzes = passes(since, Part.KNOWLEDGE)
    if quizzes:
        q = quizzes[-1].day
        through.append(after(q, need.good_for))
        talks = [row.day for row in passes(since, Part.TAILGATE) if q <= row.day <= after(q, need.good_for)]
        if talks and need.tailgate_extends is not None:
            extended = after(talks[-1], need.tailgate_extends)
            through.append(extended if need.at_most is None else min(extended, after(q, need.at_most)))
    outside = passes(since, Part.OUTSIDE_KNOWLEDGE)
    if outside:
        through.append(after(outside[-1].day, book.catalogue.site.outside_good_for))
    return max(through) if through else None


def practical_through(book: Book, competency: Competency, since: list[EvidenceRow]) -> date | None:
    """The last day on which practical holds or held, ``None`` if it has not held."""
    need = competency.needs.practical
    assert need is not None
    through = []
    clean = passes(since, Part.PRACTICAL)
    days, people = {row.day for row in clean}, {row.by for row in clean}
    if clean and len(days) >= need.first and len(people) >= need.assessors:
        through.append(after(clean[-1].day, need.good_for))
    outside = passes(since, Part.OUTSIDE_PRACTICAL)
    if outside:
        through.append(after(outside[-1].day, book.catalogue.site.outside_good_for))
    return max(through) if through else None


def needed_through(book: Book, competency: Competency, since: list[EvidenceRow]) -> list[date | None]:
    found = []
    if competency.needs.knowledge is not None:
        found.append(knowledge_through(book, competency, since))
    if competency.needs.practical is not None:
        found.append(practical_through(book, competency, since))
    return found


def start_of(book: Book, hand: str, competency: Competency, back: date | None) -> date:
    """From when ``within`` counts."""
    days, position = [back] if back else [], None
    joined = moved = None
    for row in stays_of(book, hand):
        if row.kind == "left":
            continue
        if row.kind == "joined":
            joined = row.day
        elif row.position != position and row.position in competency.positions:
            moved = row.day
        position = row.position
    return max(day for day in (*days, joined, moved) if day is not None)


def standing_without_dates(book: Book, hand: str, competency: Competency) -> str | None:
    """Stood down, not started or learning; ``None`` where the dates must decide."""
    rows = evidence_of(book, hand, competency.id)
    is_down, since, _ = split(rows)
    if is_down:
        return "stood down"
    if not any(row.effect is Effect.PASS for row in rows):
        return "not started"
    if None in needed_through(book, competency, since):
        return "learning"
    for name in competency.after:
        first = book.catalogue.competency(name)
        assert first is not None
        if standing_without_dates(book, hand, first) in BLOCKING:
            return "learning"
    return None


def due_of(book: Book, hand: str, competency: Competency) -> date | None:
    is_down, since, back = split(evidence_of(book, hand, competency.id))
    if is_down:
        return None
    through = needed_through(book, competency, since)
    if None not in through:
        return min((day for day in through if day is not None), default=None)
    if competency.within is None:
        return None
    return after(start_of(book, hand, competency, back), competency.within)


def is_working(rotation: Rotation | None, day: date) -> bool:
    if rotation is None or rotation.start is None:
        return True
    return (day - rotation.start).days % (rotation.on + rotation.off) < rotation.on - 1


def do_by_of(rotation: Rotation | None, as_of: date, due: date | None) -> date | str | None:
    if due is None:
        return None
    day = due
    while day >= as_of:
        if is_working(rotation, day):
            return day
        day -= timedelta(days=1)
    return "arrange"


def is_same_cycle(rotation: Rotation | None, one: date, other: date) -> bool:
    if rotation is None or rotation.start is None:
        return False
    period = rotation.on + rotation.off
    return (one - rotation.start).days // period == (other - rotation.start).days // period


def cell(book: Book, hand: str, competency: Competency, place: StayRow) -> Expected:
    due = due_of(book, hand, competency)
    rotation = book.catalogue.site.crews.get(place.crew)
    do_by = do_by_of(rotation, book.as_of, due)
    standing = standing_without_dates(book, hand, competency)
    if standing is None:
        standing = standing_by_dates(book, competency, rotation, due, do_by)
    late = due is not None and due < book.as_of
    return Expected(standing, due, do_by, late, place.position, place.crew)


def standing_by_dates(
    book: Book, competency: Competency, rotation: Rotation | None, due: date | None, do_by: date | str | None
) -> str:
    if due is None:
        return "current"
    if book.as_of > due:
        return "overdue"
    if book.as_of >= before(due, competency.notice) or do_by == "arrange":
        return "due"
    assert isinstance(do_by, date)
    return "due" if is_same_cycle(rotation, do_by, book.as_of) else "current"
