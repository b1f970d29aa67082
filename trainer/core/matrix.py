"""The matrix: for every hand and every competency that the position needs, standing, due date and reason."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from typing import Literal

import numpy as np
import numpy.typing as npt

from trainer.core import recordids
from trainer.core.durations import NO_DAY, Days

__all__ = ["ARRANGE", "RULES", "STANDINGS", "Cell", "DoBy", "Matrix", "Reason", "Reasons", "Rule", "Standing"]

ARRANGE = -1
"""In a column of days to do by: there is a due date and no working day is left before it."""

DoBy = date | Literal["arrange"] | None


class Standing(StrEnum):
    """How a hand stands in a competency, in the order in which the rule is tried."""

    STOOD_DOWN = "stood down"
    NOT_STARTED = "not started"
    LEARNING = "learning"
    OVERDUE = "overdue"
    DUE = "due"
    CURRENT = "current"


class Rule(StrEnum):
    """Why a cell stands as it does; the words for each are at the edge, under the same name.

    ``AGAIN``: a part must be passed again after a stand-down. ``MORE``: clean assessments so far are on too few days
    or by too few people. ``NEVER``: nothing yet that holds. ``AFTER``: another competency comes first, ``part`` names
    it. ``NOTICE``, ``LAST_HITCH``, ``NO_HITCH``: due by notice, on the last hitch before the date, or with no working
    day left before it.
    """

    STOOD_DOWN = "stood-down"
    NOTHING = "nothing-yet"
    NEVER = "part-missing"
    MORE = "more-assessments"
    AGAIN = "again-after-stand-down"
    AFTER = "after"
    EXPIRED = "expired"
    NOTICE = "notice"
    LAST_HITCH = "last-hitch"
    NO_HITCH = "no-hitch-left"
    HOLDS = "holds"


STANDINGS: tuple[Standing, ...] = tuple(Standing)
"""A standing's code is its place here."""

RULES: tuple[Rule, ...] = tuple(Rule)
"""A rule's code is its place here."""


@dataclass(frozen=True, slots=True)
class Reason:
    """Why: the rule, the part (a competency's id for the rule ``after``, else knowledge, practical or empty), and the
    record with its day where one decides."""

    rule: str
    part: str
    record_id: str | None
    day: date | None


@dataclass(frozen=True, slots=True)
class Cell:
    """One hand and one competency on the matrix. ``late``: the due date is past, whatever the standing."""

    hand: str
    competency: str
    position: str
    crew: str
    standing: Standing
    due: date | None
    do_by: DoBy
    late: bool
    reason: Reason


@dataclass(frozen=True, slots=True)
class Reasons:
    """The reasons as arrays (competencies, hands): codes of ``RULES``, of ``parts``, record ids and days.

    A cell has a record where ``day`` is a day.
    """

    rule: npt.NDArray[np.int8]
    part: npt.NDArray[np.int16]
    parts: tuple[str, ...]
    record: recordids.Packed
    day: Days

    def at(self, line: int, column: int) -> Reason:
        """The reason of one cell."""
        day = _day(self.day[line, column])
        record_id = recordids.unpack(self.record, (line, column)) if day else None
        return Reason(RULES[self.rule[line, column]], self.parts[self.part[line, column]], record_id, day)


@dataclass(frozen=True, slots=True)
class Matrix:
    """Every hand on the matrix on ``as_of``, by hand_id, and all competencies in catalogue order.

    Arrays are (competencies, hands); only where ``needed`` is there a cell. They are read-only.
    """

    as_of: date
    hands: tuple[str, ...]
    crews: tuple[str, ...]
    positions: tuple[str, ...]
    competencies: tuple[str, ...]
    needed: npt.NDArray[np.bool_]
    standing: npt.NDArray[np.int8]
    due: Days
    do_by: Days
    late: npt.NDArray[np.bool_]
    reasons: Reasons

    def cells(self) -> list[Cell]:
        """All cells, by hand_id, then catalogue order."""
        return list(self._cells())

    def cell(self, hand: str, competency: str) -> Cell | None:
        """One cell; ``None`` where the hand is not on the matrix or the position does not need the competency."""
        column = bisect_left(self.hands, hand)
        if column == len(self.hands) or self.hands[column] != hand or competency not in self.competencies:
            return None
        line = self.competencies.index(competency)
        return self._cell(line, column) if self.needed[line, column] else None

    def of_crew(self, crew: str) -> Matrix:
        """The hands of that crew alone."""
        own = [column for column, each in enumerate(self.crews) if each == crew]
        reasons = self.reasons
        cut = Matrix(
            as_of=self.as_of,
            hands=tuple(self.hands[column] for column in own),
            crews=tuple(self.crews[column] for column in own),
            positions=tuple(self.positions[column] for column in own),
            competencies=self.competencies,
            needed=self.needed[:, own],
            standing=self.standing[:, own],
            due=self.due[:, own],
            do_by=self.do_by[:, own],
            late=self.late[:, own],
            reasons=Reasons(
                reasons.rule[:, own], reasons.part[:, own], reasons.parts, reasons.record[:, own], reasons.day[:, own]
            ),
        )
        cut.freeze()
        return cut

    def copy(self) -> Matrix:
        """The same with arrays of its own for what is worked out of evidence, which may be written to."""
        reasons = replace(self.reasons, **{name: getattr(self.reasons, name).copy() for name in _REASONED})
        return replace(self, **{name: getattr(self, name).copy() for name in _DECIDED}, reasons=reasons)

    def put(self, alone: Matrix) -> None:
        """Write the cells of the one hand that ``alone`` is about, who must be here, over those here."""
        column = bisect_left(self.hands, alone.hands[0])
        for names, here, there in ((_DECIDED, self, alone), (_REASONED, self.reasons, alone.reasons)):
            for name in names:
                getattr(here, name)[:, column] = getattr(there, name)[:, 0]

    def freeze(self) -> None:
        """Makes the arrays read-only, so that one matrix can be shared by everybody who looks."""
        reasons = (self.reasons.rule, self.reasons.part, self.reasons.record, self.reasons.day)
        for each in (self.needed, self.standing, self.due, self.do_by, self.late, *reasons):
            each.setflags(write=False)

    def _cells(self) -> Iterator[Cell]:
        for column, line in np.argwhere(self.needed.T).tolist():
            yield self._cell(line, column)

    def _cell(self, line: int, column: int) -> Cell:
        return Cell(
            hand=self.hands[column],
            competency=self.competencies[line],
            position=self.positions[column],
            crew=self.crews[column],
            standing=STANDINGS[self.standing[line, column]],
            due=_day(self.due[line, column]),
            do_by="arrange" if self.do_by[line, column] == ARRANGE else _day(self.do_by[line, column]),
            late=bool(self.late[line, column]),
            reason=self.reasons.at(line, column),
        )


_DECIDED = ("standing", "due", "do_by", "late")
_REASONED = ("rule", "part", "record", "day")
"""The arrays of a matrix and of its reasons that change with the evidence."""


def _day(ordinal: np.int32) -> date | None:
    return None if ordinal == NO_DAY else date.fromordinal(int(ordinal))
