"""When a refresher is due, by when to do it, and whether it is late; arrays are (competencies, hands)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
import numpy.typing as npt

from trainer.core.calendars import Calendar, Moves
from trainer.core.catalogue import Competency
from trainer.core.durations import NO_DAY, Days, Duration, after, before
from trainer.core.hitch import Hitches
from trainer.core.matrix import ARRANGE
from trainer.core.parts import Facts
from trainer.core.roster import Roster

__all__ = ["Due", "DueRules", "Shortfall", "due", "due_rules", "shortfall"]

Flags = npt.NDArray[np.bool_]

_FAR = np.int32(date.max.toordinal())
_ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Shortfall:
    """Which needed parts have not held since the last stand-down, and which of the others expires first.

    ``earliest`` is ``NO_DAY`` where no part is needed, and means nothing where one is missing.
    """

    knowledge: Flags
    practical: Flags
    earliest: Days
    is_practical_first: Flags

    def any(self) -> Flags:
        """Where at least one needed part has not held."""
        return self.knowledge | self.practical


@dataclass(frozen=True, slots=True)
class Due:
    """Due dates and what follows; ``do_by`` is ``ARRANGE`` where no working day is left.

    ``is_noticed`` says within the notice, ``is_last_hitch`` that the day to do it by lies in the as-of day's own cycle.
    """

    day: Days
    do_by: Days
    is_late: Flags
    is_noticed: Flags
    is_last_hitch: Flags


@dataclass(frozen=True, slots=True)
class DueRules:
    """What decides due dates, worked out once for however many hands; one line a competency.

    ``noticed`` is the last due date that lies within the notice on the as-of day.
    """

    as_of: date
    calendar: Calendar
    within: Moves
    noticed: Days
    needs_knowledge: Flags
    needs_practical: Flags


def due_rules(competencies: Sequence[Competency], days: Calendar, as_of: date) -> DueRules:
    """The rules of these competencies on ``as_of``; ``days`` must hold every day of evidence and stays."""
    noticed = {each: _last_noticed(each, as_of) for each in {each.notice for each in competencies}}
    return DueRules(
        as_of=as_of,
        calendar=days,
        within=days.after([each.within for each in competencies]),
        noticed=np.array([noticed[each.notice] for each in competencies], dtype=np.int32).reshape(-1, 1),
        needs_knowledge=_each_line([each.needs.knowledge is not None for each in competencies]),
        needs_practical=_each_line([each.needs.practical is not None for each in competencies]),
    )


def _last_noticed(notice: Duration, as_of: date) -> int:
    """The last day that less ``notice`` is ``as_of`` or earlier; a later day less ``notice`` is never earlier."""
    found = after(as_of, notice)
    # Months of 28 to 31 days: the 31st less a month is also the last of a shorter one.
    while found < date.max and before(found + _ONE_DAY, notice) <= as_of:
        found += _ONE_DAY
    while before(found, notice) > as_of:
        found -= _ONE_DAY
    return found.toordinal()


def shortfall(rules: DueRules, found: Facts) -> Shortfall:
    """What is missing of the parts that each competency needs, for each hand."""
    knowledge, practical = found.knowledge.through, found.practical.through
    # A part that is not needed holds through no day; nothing missing, it must not come first.
    first_knowledge = np.where(rules.needs_knowledge, knowledge, _FAR)
    first_practical = np.where(rules.needs_practical, practical, _FAR)
    earliest = np.minimum(first_knowledge, first_practical)
    earliest *= rules.needs_knowledge | rules.needs_practical
    return Shortfall(
        knowledge=first_knowledge == NO_DAY,
        practical=first_practical == NO_DAY,
        earliest=earliest,
        is_practical_first=rules.needs_practical & (~rules.needs_knowledge | (first_practical < first_knowledge)),
    )


def due(rules: DueRules, on: Roster, start: Days, lacks: Shortfall, down: Flags) -> Due:
    """The due dates; ``start`` is the day from which ``within`` counts, ``down`` where stood down."""
    day = np.where(lacks.any(), rules.within.of(rules.calendar.places(start)), lacks.earliest)
    day *= ~down
    is_dated = day != NO_DAY
    do_by, is_this_cycle = _do_by(on.rotations, day, rules.as_of)
    do_by *= is_dated
    return Due(
        day=day,
        do_by=do_by,
        is_late=is_dated & (day < rules.as_of.toordinal()),
        is_noticed=is_dated & (day <= rules.noticed),
        is_last_hitch=is_this_cycle & is_dated,
    )


def _each_line(flags: Sequence[bool]) -> Flags:
    return np.array(flags, dtype=np.bool_)[:, np.newaxis]


def _do_by(hitches: Hitches, day: Days, as_of: date) -> tuple[Days, Flags]:
    """The days to do it by, and whether they lie in the cycle of ``as_of``; means nothing where there is no day."""
    do_by = hitches.last_working(day)
    is_left = do_by >= as_of.toordinal()
    is_left &= hitches.has_working_days
    return np.where(is_left, do_by, np.int32(ARRANGE)), is_left & (do_by < hitches.next_cycle(as_of))
