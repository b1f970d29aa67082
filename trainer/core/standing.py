"""The standing of every hand in every competency on a day: one pure function of catalogue, evidence, stays and date.

Start with ``fold``. ``roster`` says who is on the matrix, ``latest`` and ``parts`` what the evidence holds, ``due``
the dates; here the first standing that applies is chosen and given its reason.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from graphlib import TopologicalSorter
from typing import TypeVar

import numpy as np
import numpy.typing as npt

from trainer.core import recordids
from trainer.core.catalogue import Catalogue, Competency
from trainer.core.columns import Codes, EvidenceColumns, Rows, StayColumns
from trainer.core.due import Due, Shortfall, due, shortfall
from trainer.core.durations import NO_DAY
from trainer.core.holding import has_held_practical, holds, holds_practical, is_stood_down
from trainer.core.latest import NO_ROW, days_of
from trainer.core.matrix import ARRANGE, RULES, STANDINGS, Cell, DoBy, Matrix, Reason, Reasons, Rule, Standing
from trainer.core.parts import Facts, facts
from trainer.core.records import Part
from trainer.core.roster import roster

__all__ = [
    "Cell",
    "DoBy",
    "Matrix",
    "Reason",
    "Rule",
    "Standing",
    "fold",
    "fold_hand",
    "has_held_practical",
    "holds",
    "holds_practical",
    "is_stood_down",
]

_PARTS = (Part.NONE.value, Part.KNOWLEDGE.value, Part.PRACTICAL.value)
_NONE, _KNOWLEDGE, _PRACTICAL = range(3)

_Flags = npt.NDArray[np.bool_]
_Name = TypeVar("_Name", Standing, Rule)


def fold(catalogue: Catalogue, evidence: EvidenceColumns, stays: StayColumns, as_of: date) -> Matrix:
    """The matrix on ``as_of``, past or future, from rows of records that are not voided.

    The catalogue must be one that ``check`` accepts: ``graphlib.CycleError`` for a cycle in ``after``, ``KeyError``
    for an ``after`` that is not there.
    """
    competencies = catalogue.competencies
    on = roster(catalogue.site, competencies, stays, as_of)
    found = facts(catalogue, competencies, evidence, on.hands, as_of)
    lacks = shortfall(competencies, found)
    start = np.maximum(on.start, days_of(evidence.day, found.up))
    when = due(catalogue.site, competencies, on, start, lacks, found.is_stood_down(), as_of)
    case = _Case(found, lacks, when, _blockers(competencies, found.is_stood_down() | found.is_untried() | lacks.any()))
    matrix = Matrix(
        as_of=as_of,
        hands=on.hands,
        crews=on.crews,
        positions=on.positions,
        competencies=tuple(each.id for each in competencies),
        needed=on.needed,
        standing=case.standing(),
        due=when.day,
        do_by=when.do_by,
        late=when.is_late,
        reasons=_reasons(case, competencies, evidence),
    )
    matrix.freeze()
    return matrix


def fold_hand(
    catalogue: Catalogue, evidence: EvidenceColumns, stays: StayColumns, hand: str, as_of: date
) -> Matrix:
    """The matrix of one hand alone, the same cells as in the whole ``fold``; it reads that hand's rows only."""
    return fold(catalogue, evidence.of_hand(hand), stays.of_hand(hand), as_of)


@dataclass(frozen=True, slots=True)
class _Case:
    """Everything that decides, arrays (competencies, hands); ``blocker`` is the line of what must come first."""

    found: Facts
    lacks: Shortfall
    when: Due
    blocker: Codes

    def standing(self) -> npt.NDArray[np.int8]:
        """Codes of ``STANDINGS``: the first that applies."""
        tried = (
            (Standing.STOOD_DOWN, self.found.is_stood_down()),
            (Standing.NOT_STARTED, self.found.is_untried()),
            (Standing.LEARNING, self.lacks.any() | (self.blocker > NO_ROW)),
            (Standing.OVERDUE, self.when.is_late),
            (Standing.DUE, self.when.is_noticed | self.when.is_last_hitch),
        )
        return _first(STANDINGS, tried, Standing.CURRENT)

    def rule(self) -> npt.NDArray[np.int8]:
        """Codes of ``RULES``, in step with ``standing``."""
        lacks = self.lacks.any()
        has_some = ~self.lacks.knowledge & (self.found.practical.toward > NO_ROW)
        tried = (
            (Rule.STOOD_DOWN, self.found.is_stood_down()),
            (Rule.NOTHING, self.found.is_untried()),
            (Rule.MORE, lacks & has_some),
            (Rule.AGAIN, lacks & (self.found.up > NO_ROW)),
            (Rule.NEVER, lacks),
            (Rule.AFTER, self.blocker > NO_ROW),
            (Rule.EXPIRED, self.when.is_late),
            (Rule.NO_HITCH, self.when.do_by == ARRANGE),
            (Rule.LAST_HITCH, self.when.is_last_hitch),
            (Rule.NOTICE, self.when.is_noticed),
        )
        return _first(RULES, tried, Rule.HOLDS)

    def part(self) -> npt.NDArray[np.int16]:
        """Places in ``_PARTS``, and beyond its end the line of what must come first, of the part that decides."""
        first = np.where(self.lacks.is_practical_first, _PRACTICAL, _KNOWLEDGE)
        first = np.where(self.lacks.earliest > NO_DAY, first, _NONE)
        missing = np.where(self.lacks.knowledge, _KNOWLEDGE, _PRACTICAL)
        part = np.where(self.blocker > NO_ROW, len(_PARTS) + self.blocker, first)
        part = np.where(self.lacks.any(), missing, part)
        return np.where(self._is_plain(), _NONE, part).astype(np.int16)

    def row(self) -> Rows:
        """The evidence row that decides: what holds longest of the part that expires first, a stand-down ..."""
        found, lacks = self.found, self.lacks
        row = np.where(lacks.is_practical_first, found.practical.row, found.knowledge.row)
        row = np.where(self.blocker > NO_ROW, NO_ROW, row)
        toward = np.where(lacks.knowledge | (found.practical.toward == NO_ROW), found.up, found.practical.toward)
        row = np.where(lacks.any(), toward, row)
        row = np.where(found.is_untried(), NO_ROW, row)
        return np.where(found.is_stood_down(), found.down, row).astype(np.int32)

    def _is_plain(self) -> _Flags:
        """Stood down or not started: no part decides."""
        return self.found.is_stood_down() | self.found.is_untried()


def _first(names: Sequence[_Name], tried: Sequence[tuple[_Name, _Flags]], otherwise: _Name) -> npt.NDArray[np.int8]:
    """The place in ``names`` of the first whose flag is up."""
    codes = np.full(tried[0][1].shape, names.index(otherwise), dtype=np.int8)
    for name, where in reversed(tried):
        codes[where] = names.index(name)
    return codes


def _blockers(competencies: Sequence[Competency], stops: _Flags) -> Codes:
    """For each competency and hand the line of the first in ``after`` that is itself not there yet, else -1.

    ``stops`` says where a competency is stood down, not started or missing a part of its own.
    """
    line_of = {each.id: line for line, each in enumerate(competencies)}
    blocker = np.full(stops.shape, NO_ROW, dtype=np.int32)
    stops = stops.copy()
    for name in TopologicalSorter({each.id: each.after for each in competencies}).static_order():
        line = line_of[name]
        for before in reversed(competencies[line].after):
            blocker[line, stops[line_of[before]]] = line_of[before]
        stops[line] |= blocker[line] > NO_ROW
    return blocker


def _reasons(case: _Case, competencies: Sequence[Competency], evidence: EvidenceColumns) -> Reasons:
    row = case.row()
    return Reasons(
        rule=case.rule(),
        part=case.part(),
        parts=(*_PARTS, *(each.id for each in competencies)),
        record=recordids.taken(evidence.record, row),
        day=days_of(evidence.day, row),
    )
