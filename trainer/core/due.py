"""When a refresher is due, by when to do it, and whether it is late; arrays are (competencies, hands)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
import numpy.typing as npt

from trainer.core.catalogue import Competency, Rotation, Site
from trainer.core.durations import NO_DAY, Days, after_each, before_each, by_line
from trainer.core.hitch import cycle, cycle_each, last_working_each
from trainer.core.matrix import ARRANGE
from trainer.core.parts import Facts
from trainer.core.roster import Roster

__all__ = ["Due", "Shortfall", "due", "shortfall"]

Flags = npt.NDArray[np.bool_]

_FAR = np.int32(date.max.toordinal())
_NO_ROTATION = Rotation()


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


def shortfall(competencies: Sequence[Competency], found: Facts) -> Shortfall:
    """What is missing of the parts that each competency needs, for each hand."""
    needs_knowledge = _each_line([each.needs.knowledge is not None for each in competencies])
    needs_practical = _each_line([each.needs.practical is not None for each in competencies])
    knowledge, practical = found.knowledge.through, found.practical.through
    first_knowledge = np.where(needs_knowledge, knowledge, _FAR)
    first_practical = np.where(needs_practical, practical, _FAR)
    earliest = np.where(needs_knowledge | needs_practical, np.minimum(first_knowledge, first_practical), NO_DAY)
    return Shortfall(
        knowledge=needs_knowledge & (knowledge == NO_DAY),
        practical=needs_practical & (practical == NO_DAY),
        earliest=earliest.astype(np.int32),
        is_practical_first=needs_practical & (~needs_knowledge | (first_practical < first_knowledge)),
    )


def due(
    site: Site, competencies: Sequence[Competency], on: Roster, start: Days, lacks: Shortfall, down: Flags, as_of: date
) -> Due:
    """The due dates on ``as_of``; ``start`` is the day from which ``within`` counts, ``down`` where stood down."""
    first = by_line(after_each, start, [each.within for each in competencies])
    day = np.where(down, NO_DAY, np.where(lacks.any(), first, lacks.earliest)).astype(np.int32)
    notice = by_line(before_each, day, [each.notice for each in competencies])
    today, is_dated = as_of.toordinal(), day != NO_DAY
    do_by, is_this_cycle = _do_by(site, on, day, as_of)
    return Due(
        day=day,
        do_by=do_by,
        is_late=is_dated & (day < today),
        is_noticed=is_dated & (notice <= today),
        is_last_hitch=is_this_cycle,
    )


def _each_line(flags: Sequence[bool]) -> Flags:
    return np.array(flags, dtype=np.bool_)[:, np.newaxis]


def _do_by(site: Site, on: Roster, day: Days, as_of: date) -> tuple[Days, Flags]:
    """The days to do it by, and whether they lie in the cycle of ``as_of``, crew by crew."""
    do_by = np.full(day.shape, NO_DAY, dtype=np.int32)
    is_this_cycle = np.zeros(day.shape, dtype=np.bool_)
    crews, crew_of = np.unique(np.array(on.crews, dtype=np.str_), return_inverse=True)
    for number, crew in enumerate(crews.tolist()):
        rotation, own = site.crews.get(crew, _NO_ROTATION), np.flatnonzero(crew_of == number)
        do_by[:, own] = _crew_do_by(rotation, day[:, own], as_of)
        is_this_cycle[:, own] = _is_cycle_of(rotation, do_by[:, own], as_of)
    return do_by, is_this_cycle


def _crew_do_by(rotation: Rotation, day: Days, as_of: date) -> Days:
    last = last_working_each(rotation, as_of, day)
    return np.where(day == NO_DAY, NO_DAY, np.where(last == NO_DAY, ARRANGE, last)).astype(np.int32)


def _is_cycle_of(rotation: Rotation, do_by: Days, as_of: date) -> Flags:
    cycles = cycle_each(rotation, do_by)
    if cycles is None:
        return np.zeros(do_by.shape, dtype=np.bool_)
    is_same: Flags = (do_by != NO_DAY) & (do_by != ARRANGE) & (cycles == cycle(rotation, as_of))
    return is_same
