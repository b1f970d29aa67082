"""Through which day each part of a competency holds, for every competency and hand asked, by which row.

Only evidence later than the last stand-down counts. Failed quizzes, failed tailgates and a *not yet* change nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import repeat
from typing import Any

import numpy as np
import numpy.typing as npt

from trainer.core.catalogue import Catalogue, Competency, Knowledge, Needs, Practical
from trainer.core.columns import Codes, EvidenceColumns, Rows
from trainer.core.durations import NO_DAY, Days, Duration, after_each, by_line
from trainer.core.latest import NO_ROW, Cells, Grid, Latest, days_of, grid, latest
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
    needs = {each.id: each.needs for each in competencies}
    over = grid(evidence, as_of)
    last = latest(over)
    rule = _Rule(over, last, catalogue.site.outside_good_for)
    all_needs = [needs.get(each, Needs()) for each in evidence.competencies]
    asked = _Asked(_places(tuple(needs), evidence.competencies), _places(hands, evidence.hands))
    return Facts(
        down=asked.of(last.down.reshape(over.shape), NO_ROW),
        up=asked.of(last.up.reshape(over.shape), NO_ROW),
        ever=asked.of(last.ever().reshape(over.shape), NO_ROW),
        knowledge=asked.part(rule.knowledge([each.knowledge for each in all_needs])),
        practical=asked.part(rule.practical([each.practical for each in all_needs])),
    )


def _places(asked: tuple[str, ...], table: tuple[str, ...]) -> npt.NDArray[np.intp]:
    """For each id asked its place in ``table``, -1 where it is not there."""
    place = {each: number for number, each in enumerate(table)}
    return np.fromiter(map(place.get, asked, repeat(-1)), dtype=np.intp, count=len(asked))


@dataclass(frozen=True, slots=True)
class _Asked:
    """From the evidence's own competencies and hands to those asked."""

    lines: npt.NDArray[np.intp]
    columns: npt.NDArray[np.intp]

    def part(self, held: PartHeld) -> PartHeld:
        return PartHeld(self.of(held.through, NO_DAY), self.of(held.row, NO_ROW), self.of(held.toward, NO_ROW))

    def of(self, table: npt.NDArray[np.int32], nothing: int) -> npt.NDArray[np.int32]:
        """The table's cells of what is asked, ``nothing`` where there is no evidence at all."""
        if 0 in table.shape:
            return np.full((len(self.lines), len(self.columns)), nothing, dtype=np.int32)
        found: npt.NDArray[np.int32] = table.take(self.lines, axis=0, mode="clip").take(
            self.columns, axis=1, mode="clip"
        )
        found[self.lines < 0] = nothing
        found[:, self.columns < 0] = nothing
        return found


@dataclass(frozen=True, slots=True)
class _Rule:
    over: Grid
    last: Latest
    outside_good_for: Duration

    def knowledge(self, needs: Sequence[Knowledge | None]) -> PartHeld:
        quiz = self._passed(Part.KNOWLEDGE)
        day = self._days(quiz)
        expiry = by_line(after_each, day, [None if need is None else need.good_for for need in needs])
        extends = [None if need is None else need.tailgate_extends for need in needs]
        talk = self._tailgates(day, np.where(_each_line([each is not None for each in extends]), expiry, NO_DAY))
        extended = by_line(after_each, self._days(talk), extends)
        cap = by_line(after_each, day, [None if need is None else need.at_most for need in needs])
        extended = np.where(cap == NO_DAY, extended, np.minimum(extended, cap))
        held = PartHeld(np.maximum(expiry, extended), np.where(extended > expiry, talk, quiz), quiz)
        return self._or_outside(held, Part.OUTSIDE_KNOWLEDGE, [need is not None for need in needs])

    def practical(self, needs: Sequence[Practical | None]) -> PartHeld:
        clean = self._passed(Part.PRACTICAL)
        expiry = by_line(after_each, self._days(clean), [None if need is None else need.good_for for need in needs])
        held = PartHeld(np.where(self._is_enough(clean, needs), expiry, NO_DAY), clean, clean)
        return self._or_outside(held, Part.OUTSIDE_PRACTICAL, [need is not None for need in needs])

    def _or_outside(self, held: PartHeld, part: Part, is_needed: Sequence[bool]) -> PartHeld:
        outside = self._passed(part)
        allowed = [self.outside_good_for if each else None for each in is_needed]
        expiry = by_line(after_each, self._days(outside), allowed)
        through = np.maximum(held.through, expiry)
        row = np.where(expiry > held.through, outside, held.row)
        return PartHeld(through, np.where(through == NO_DAY, NO_ROW, row).astype(np.int32), held.toward)

    def _tailgates(self, first: Days, final: Days) -> Rows:
        """The last tailgate pass from ``first`` through ``final``: the day of the quiz and the one it runs out on."""
        talk = self._passed(Part.TAILGATE)
        day = self._days(talk)
        talk = np.where((first <= day) & (day <= final), talk, np.int32(NO_ROW))
        # Where the last one came too late, an earlier one may still count.
        rows, cells = self.over.passes(Part.TAILGATE, (day > final).ravel() & (final != NO_DAY).ravel())
        days = self.over.evidence.day[rows]
        counts = (first.ravel()[cells] <= days) & (days <= final.ravel()[cells]) & (rows > self.last.down[cells])
        np.maximum.at(talk.ravel(), cells[counts], rows[counts])
        return talk

    def _is_enough(self, clean: Rows, needs: Sequence[Practical | None]) -> npt.NDArray[np.bool_]:
        """Where there are clean ones on enough different days, and by enough different people."""
        days = [1 if need is None else need.first for need in needs]
        people = [1 if need is None else need.assessors for need in needs]
        is_open = (clean > NO_ROW) & (_each_line(np.maximum(days, people)) > 1)
        rows, cells = self.over.passes(Part.PRACTICAL, is_open.ravel())
        counts = rows > self.last.down[cells]
        rows, cells = rows[counts], cells[counts]
        evidence = self.over.evidence
        has_days = _reaches(clean, rows, cells, evidence.day, days)
        return has_days & _reaches(clean, rows, cells, evidence.by, people)

    def _passed(self, part: Part) -> Rows:
        return self.last.passed(part).reshape(self.over.shape)

    def _days(self, rows: Rows) -> Days:
        return days_of(self.over.evidence.day, rows)


def _reaches(last: Rows, rows: Rows, cells: Cells, values: Codes, wanted: Sequence[int]) -> npt.NDArray[np.bool_]:
    """Where ``rows`` have as many different values as wanted, a number a line.

    ``last`` is the last row of each cell; each round peels its value off the cell's rows and finds the next.
    """
    missing = _each_line(wanted) - (last > NO_ROW)
    for _ in range(max(wanted, default=1) - 1):
        is_other = values[rows] != values[last].ravel()[cells]
        rows, cells = rows[is_other], cells[is_other]
        last = np.full(last.shape, NO_ROW, dtype=np.int32)
        np.maximum.at(last.ravel(), cells, rows)
        missing -= last > NO_ROW
    is_reached: npt.NDArray[np.bool_] = missing <= 0
    return is_reached


def _each_line(values: npt.ArrayLike) -> npt.NDArray[Any]:
    """One value a competency, for every hand."""
    return np.asarray(values)[:, np.newaxis]
