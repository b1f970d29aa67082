"""Through which day each part of a competency holds, for every competency and hand asked, by which row.

Only evidence later than the last stand-down counts. Failed quizzes, failed tailgates and a *not yet* change nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
import numpy.typing as npt

from trainer.core.catalogue import Catalogue, Competency, Knowledge, Practical
from trainer.core.columns import EvidenceColumns, Rows
from trainer.core.durations import NO_DAY, Days, Duration, after_each, by_line
from trainer.core.latest import NO_ROW, Grid, Latest, days_of, grid, latest
from trainer.core.records import Part

__all__ = ["Facts", "PartHeld", "facts"]


@dataclass(frozen=True, slots=True)
class PartHeld:
    """One part, arrays (competencies, hands).

    ``through`` is the last day on which it holds, or held, ``NO_DAY`` where it has not held since the last
    stand-down or is not needed; ``row`` the evidence that gives that day; ``toward`` the last pass of the part itself,
    enough or not.
    """

    through: Days
    row: Rows
    toward: Rows


@dataclass(frozen=True, slots=True)
class Facts:
    """What the evidence says of each competency and hand, arrays (competencies, hands).

    ``down`` is the last stand-down, ``up`` the last reinstatement after it, ``ever`` the last pass of any part.
    """

    down: Rows
    up: Rows
    ever: Rows
    knowledge: PartHeld
    practical: PartHeld

    def is_stood_down(self) -> npt.NDArray[np.bool_]:
        """Where the last of stood-down and reinstated is stood-down."""
        is_down: npt.NDArray[np.bool_] = (self.down > NO_ROW) & (self.up == NO_ROW)
        return is_down

    def is_untried(self) -> npt.NDArray[np.bool_]:
        """Where no part, needed or not, was ever passed."""
        is_untried: npt.NDArray[np.bool_] = self.ever == NO_ROW
        return is_untried


def facts(
    catalogue: Catalogue,
    competencies: Sequence[Competency],
    evidence: EvidenceColumns,
    hands: tuple[str, ...],
    as_of: date,
) -> Facts:
    """The facts on ``as_of`` for these competencies and hands, in that order."""
    over = grid(evidence, tuple(each.id for each in competencies), hands, as_of)
    last = latest(over)
    rule = _Rule(over, last, catalogue.site.outside_good_for)
    return Facts(
        down=_inside(over, last.down),
        up=_inside(over, last.up),
        ever=_inside(over, last.ever()),
        knowledge=rule.knowledge([each.needs.knowledge for each in competencies]),
        practical=rule.practical([each.needs.practical for each in competencies]),
    )


def _inside(over: Grid, table: npt.NDArray[np.int32]) -> npt.NDArray[np.int32]:
    """A flat table of the grid without the line and column of what is not asked."""
    return table.reshape(over.shape)[:-1, :-1]


@dataclass(frozen=True, slots=True)
class _Rule:
    over: Grid
    last: Latest
    outside_good_for: Duration

    def knowledge(self, needs: Sequence[Knowledge | None]) -> PartHeld:
        quiz = self._passed(Part.KNOWLEDGE)
        day = self._days(quiz)
        expiry = by_line(after_each, day, [None if need is None else need.good_for for need in needs])
        talk = self._tailgates(day, expiry)
        extended = by_line(after_each, self._days(talk), [None if need is None else need.tailgate_extends for need in needs])
        cap = by_line(after_each, day, [None if need is None else need.at_most for need in needs])
        extended = np.where(cap == NO_DAY, extended, np.minimum(extended, cap))
        held = PartHeld(np.maximum(expiry, extended), np.where(extended > expiry, talk, quiz), quiz)
        return self._or_outside(held, Part.OUTSIDE_KNOWLEDGE, [need is not None for need in needs])

    def practical(self, needs: Sequence[Practical | None]) -> PartHeld:
        clean = self._passed(Part.PRACTICAL)
        expiry = by_line(after_each, self._days(clean), [None if need is None else need.good_for for need in needs])
        held = PartHeld(np.where(self._is_enough(needs), expiry, NO_DAY), clean, clean)
        return self._or_outside(held, Part.OUTSIDE_PRACTICAL, [need is not None for need in needs])

    def _or_outside(self, held: PartHeld, part: Part, is_needed: Sequence[bool]) -> PartHeld:
        outside = self._passed(part)
        allowed = [self.outside_good_for if each else None for each in is_needed]
        expiry = by_line(after_each, self._days(outside), allowed)
        through = np.maximum(held.through, expiry)
        row = np.where(expiry > held.through, outside, held.row)
        return PartHeld(through, np.where(through == NO_DAY, NO_ROW, row).astype(np.int32), held.toward)

    def _tailgates(self, quiz: Days, expiry: Days) -> Rows:
        """The last tailgate pass from the day of the quiz through the day on which that would expire."""
        rows = self.over.passes(Part.TAILGATE)
        cells = self.over.cells(rows)
        day = self.over.evidence.day[rows]
        counts = (_flat(quiz)[cells] <= day) & (day <= _flat(expiry)[cells]) & (rows > self.last.down[cells])
        talk = np.full(self.over.size, NO_ROW, dtype=np.int32)
        np.maximum.at(talk, cells[counts], rows[counts])
        return _inside(self.over, talk)

    def _is_enough(self, needs: Sequence[Practical | None]) -> npt.NDArray[np.bool_]:
        """Where there are clean ones on enough different days, and by enough different people."""
        rows = self.over.passes(Part.PRACTICAL)
        rows = rows[rows > self.last.down[self.over.cells(rows)]]
        evidence = self.over.evidence
        days = [0 if need is None else need.first for need in needs]
        people = [0 if need is None else need.assessors for need in needs]
        return self._reaches(rows, evidence.day, days) & self._reaches(rows, evidence.by, people)

    def _reaches(self, rows: Rows, values: npt.NDArray[np.int32], wanted: Sequence[int]) -> npt.NDArray[np.bool_]:
        """Where ``rows`` have as many different values as wanted; each round peels one value off every cell."""
        missing = np.repeat(np.array([*wanted, 0], dtype=np.int32), self.over.shape[1])
        while len(rows):
            cells = self.over.cells(rows)
            is_open = missing[cells] > 0
            rows, cells = rows[is_open], cells[is_open]
            found = np.full(self.over.size, NO_ROW, dtype=np.int32)
            np.maximum.at(found, cells, rows)
            missing -= found > NO_ROW
            rows = rows[values[rows] != values[found[cells]]]
        return _inside(self.over, missing) <= 0

    def _passed(self, part: Part) -> Rows:
        return _inside(self.over, self.last.passed(part))

    def _days(self, rows: Rows) -> Days:
        return days_of(self.over.evidence.day, rows)


def _flat(lines: Days) -> Days:
    """The lines as a flat table of the grid, no day for what is not asked."""
    return np.pad(lines, ((0, 1), (0, 1))).ravel()
