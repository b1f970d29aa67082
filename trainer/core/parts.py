"""Through which day each part of a competency holds, for every competency and hand asked, by which row.

Only evidence later than the last stand-down counts. Failed quizzes, failed tailgates and a *not yet* change nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

import numpy as np
import numpy.typing as npt

from trainer.core.calendars import Calendar, Moves, calendar
from trainer.core.catalogue import Catalogue, Competency
from trainer.core.columns import Codes, EvidenceColumns, Rows
from trainer.core.durations import Days
from trainer.core.latest import NO_ROW, Cells, Grid, Latest, days_of, grid, latest, put_last, with_no_day
from trainer.core.records import Part

__all__ = ["Facts", "PartHeld", "PartRules", "facts", "facts_by", "part_rules"]

_NEVER = np.int32(np.iinfo(np.int32).max)
"""Beyond every row."""


@dataclass(frozen=True, slots=True)
class PartHeld:
    """One part, arrays (competencies, hands).

    ``through`` is the last day on which it holds, or held, ``NO_DAY`` where it has not held since the last
    stand-down or is not needed; ``row`` the evidence that gives that day, where there is one; ``toward`` the last pass
    of the part itself, enough or not.
    """

    through: Days
    row: Rows
    toward: Rows


@dataclass(frozen=True, slots=True)
class Facts:
    """What the evidence says of each competency and hand, arrays (competencies, hands).

    ``down`` is the last stand-down, ``up`` the last reinstatement after it, ``is_untried`` says where no part, needed
    or not, was ever passed. ``days`` holds the day of every evidence row, and no day after them for "no row".
    """

    days: Days
    down: Rows
    up: Rows
    is_untried: npt.NDArray[np.bool_]
    knowledge: PartHeld
    practical: PartHeld

    def is_stood_down(self) -> npt.NDArray[np.bool_]:
        """Where the last of stood-down and reinstated is stood-down."""
        is_down: npt.NDArray[np.bool_] = (self.down > NO_ROW) & (self.up == NO_ROW)
        return is_down

    def days_of(self, rows: Rows) -> Days:
        """The day of each row, ``NO_DAY`` where there is no row."""
        return days_of(self.days, rows)


def facts(
    catalogue: Catalogue,
    competencies: Sequence[Competency],
    evidence: EvidenceColumns,
    hands: tuple[str, ...],
    as_of: date,
) -> Facts:
    """The facts on ``as_of`` for these competencies and hands, in that order."""
    rules = part_rules(catalogue, competencies, calendar([evidence.day]))
    return facts_by(rules, evidence, hands, as_of)


def facts_by(rules: PartRules, evidence: EvidenceColumns, hands: Sequence[str], as_of: date) -> Facts:
    """The facts on ``as_of`` for the competencies of ``rules`` and these hands."""
    over = grid(evidence, rules.competencies, hands, as_of)
    last = latest(over)
    days = with_no_day(evidence.day)
    rule = _Rule(rules, days, evidence.by, over, last)
    return Facts(days, last.down, last.up, last.is_untried, rule.knowledge(), rule.practical())


@dataclass(frozen=True, slots=True)
class PartRules:
    """What the catalogue says of the parts, worked out once for however many hands; one line a competency."""

    competencies: tuple[str, ...]
    calendar: Calendar
    quiz: Moves
    tailgate: Moves
    at_most: Moves
    outside_knowledge: Moves
    practical: Moves
    outside_practical: Moves
    extends: bool
    days: tuple[int, ...]
    people: tuple[int, ...]


def part_rules(catalogue: Catalogue, competencies: Sequence[Competency], days: Calendar) -> PartRules:
    """The rules of these competencies; ``days`` must hold every day of the evidence that they are put to."""
    knowledge = [each.needs.knowledge for each in competencies]
    practical = [each.needs.practical for each in competencies]
    outside = catalogue.site.outside_good_for
    extends = [need.tailgate_extends if need else None for need in knowledge]
    return PartRules(
        competencies=tuple(each.id for each in competencies),
        calendar=days,
        quiz=days.after([need.good_for if need else None for need in knowledge]),
        tailgate=days.after(extends),
        at_most=days.after([need.at_most if need else None for need in knowledge], nothing=date.max.toordinal()),
        outside_knowledge=days.after([outside if need else None for need in knowledge]),
        practical=days.after([need.good_for if need else None for need in practical]),
        outside_practical=days.after([outside if need else None for need in practical]),
        extends=any(extends),
        days=tuple(need.first if need else 1 for need in practical),
        people=tuple(need.assessors if need else 1 for need in practical),
    )


@dataclass(frozen=True, slots=True)
class _Rule:
    rules: PartRules
    days: Days
    by: Codes
    over: Grid
    last: Latest

    def knowledge(self) -> PartHeld:
        rules = self.rules
        quiz = self.last.passed(Part.KNOWLEDGE)
        day = self._days(quiz)
        places = rules.calendar.places(day)
        through, row = rules.quiz.of(places), quiz
        if rules.extends:
            talk = self._tailgates(day, through)
            extended = rules.tailgate.of(rules.calendar.places(self._days(talk)))
            np.minimum(extended, rules.at_most.of(places), out=extended)
            row = np.where(extended > through, talk, row)
            through = np.maximum(through, extended)
        held = PartHeld(through, row, quiz)
        return self._or_outside(held, Part.OUTSIDE_KNOWLEDGE, rules.outside_knowledge)

    def practical(self) -> PartHeld:
        rules = self.rules
        clean = self.last.passed(Part.PRACTICAL)
        through = rules.practical.of(rules.calendar.places(self._days(clean)))
        through *= ~self._is_short(clean)
        return self._or_outside(PartHeld(through, clean, clean), Part.OUTSIDE_PRACTICAL, rules.outside_practical)

    def _or_outside(self, held: PartHeld, part: Part, good_for: Moves) -> PartHeld:
        outside = self.last.passed(part)
        if not (outside > NO_ROW).any():
            return held
        expiry = good_for.of(self.rules.calendar.places(self._days(outside)))
        through = np.maximum(held.through, expiry)
        return PartHeld(through, np.where(expiry > held.through, outside, held.row), held.toward)

    def _tailgates(self, first: Days, final: Days) -> Rows:
        """The last tailgate pass from ``first`` through ``final``: the day of the quiz and the one it runs out on."""
        rows, cells = self.over.passes(Part.TAILGATE)
        days = self.days.take(rows)
        counts = days <= final.take(cells)
        counts &= days >= first.take(cells)
        counts &= rows > self.last.down.take(cells)
        return _last(first.shape, *_picked(counts, cells, rows))

    def _is_short(self, clean: Rows) -> npt.NDArray[np.bool_]:
        """Where the clean ones are on too few different days, or by too few different people."""
        rules, wanted = self.rules, np.maximum(self.rules.days, self.rules.people)
        is_open = (clean > NO_ROW) & (_each_line(wanted) > 1)
        if not is_open.any():
            return is_open
        rows, cells = self.over.passes(Part.PRACTICAL)
        cells, rows = _picked(rows > np.where(is_open, self.last.down, _NEVER).take(cells), cells, rows)
        is_enough = _reaches(clean, cells, rows, self.days, rules.days)
        is_enough &= _reaches(clean, cells, rows, self.by, rules.people)
        return is_open & ~is_enough

    def _days(self, rows: Rows) -> Days:
        return days_of(self.days, rows)


def _reaches(last: Rows, cells: Cells, rows: Rows, values: Codes, wanted: Sequence[int]) -> npt.NDArray[np.bool_]:
    """Where ``rows``, in order, have as many different values as wanted, a number a line.

    ``last`` is the last row of each cell; each round peels its value off the cell's rows and finds the next.
    """
    missing = _each_line(wanted) - (last > NO_ROW)
    for _ in range(max(wanted, default=1) - 1):
        is_other = values.take(rows) != values.take(last, mode="clip").take(cells)
        cells, rows = _picked(is_other, cells, rows)
        last = _last(last.shape, cells, rows)
        missing -= last > NO_ROW
    is_reached: npt.NDArray[np.bool_] = missing <= 0
    return is_reached


def _picked(which: npt.NDArray[np.bool_], cells: Cells, rows: Rows) -> tuple[Cells, Rows]:
    """The cells and rows of those that count."""
    # Quicker than by ``which`` itself, in which a processor could foresee no pattern.
    places = which.nonzero()[0]
    return cells.take(places), rows.take(places)


def _last(shape: tuple[int, ...], cells: Cells, rows: Rows) -> Rows:
    """The last of ``rows``, in order, in each cell."""
    table = np.full(shape, NO_ROW, dtype=np.int32)
    put_last(table.reshape(-1), cells, rows)
    return table


def _each_line(values: npt.ArrayLike) -> npt.NDArray[Any]:
    """One value a competency, for every hand."""
    return np.asarray(values)[:, np.newaxis]
