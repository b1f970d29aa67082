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
from trainer.core.holding import holds, is_practical_valid, is_stood_down
from trainer.core.latest import NO_ROW, days_of
from trainer.core.matrix import ARRANGE, RULES, STANDINGS, Cell, DoBy, Matrix, Reason, Reasons, Rule, Standing
from trainer.core.parts import Facts, facts
from trainer.core.records import Part
from trainer.core.roster import roster

__all__ = [
    "RULES",
    "STANDINGS",
    "Cell",
    "DoBy",
    "Matrix",
    "Reason",
    "Rule",
    "Standing",
    "fold",
    "fold_hand",
    "holds",
    "is_practical_valid",
    "is_stood_down",
]

_PARTS = (Part.NONE.value, Part.KNOWLEDGE.value, Part.PRACTICAL.value)
_NONE, _KNOWLEDGE, _PRACTICAL = range(3)

_STANDING = {
    Rule.STOOD_DOWN: Standing.STOOD_DOWN,
    Rule.NOTHING: Standing.NOT_STARTED,
    Rule.MORE: Standing.LEARNING,
    Rule.AGAIN: Standing.LEARNING,
    Rule.NEVER: Standing.LEARNING,
    Rule.AFTER: Standing.LEARNING,
    Rule.EXPIRED: Standing.OVERDUE,
    Rule.NO_HITCH: Standing.DUE,
    Rule.LAST_HITCH: Standing.DUE,
    Rule.NOTICE: Standing.DUE,
    Rule.HOLDS: Standing.CURRENT,
}
"""The standing that each rule gives; the rules are tried in this order."""

_STANDING_OF = np.array([STANDINGS.index(_STANDING[rule]) for rule in RULES], dtype=np.int8)

_Flags = npt.NDArray[np.bool_]
_Kind = TypeVar("_Kind", np.int8, np.int16, np.int32)


def fold(catalogue: Catalogue, evidence: EvidenceColumns, stays: StayColumns, as_of: date) -> Matrix:
    """The matrix on ``as_of``, past or future, from rows of records that are not voided.

    The catalogue must be one that ``check`` accepts: ``graphlib.CycleError`` for a cycle in ``after``, ``KeyError``
    for an ``after`` that is not there.
    """
    competencies = catalogue.competencies
    on = roster(catalogue.site, competencies, stays, as_of)
    found = facts(catalogue, competencies, evidence, on.hands, as_of)
    lacks, is_down, is_untried = shortfall(competencies, found), found.is_stood_down(), found.is_untried()
    start = np.maximum(on.start, days_of(evidence.day, found.up))
    when = due(catalogue.site, competencies, on, start, lacks, is_down, as_of)
    blocker = _blockers(competencies, is_down | is_untried | lacks.any())
    case = _Case(found, lacks, when, blocker, is_down, is_untried, blocker > NO_ROW)
    reasons = _reasons(case, competencies, evidence)
    matrix = Matrix(
        as_of=as_of,
        hands=on.hands,
        crews=on.crews,
        positions=on.positions,
        competencies=tuple(each.id for each in competencies),
        needed=on.needed,
        standing=_STANDING_OF[reasons.rule],
        due=when.day,
        do_by=when.do_by,
        late=when.is_late,
        reasons=reasons,
    )
    matrix.freeze()
    return matrix


def fold_hand(catalogue: Catalogue, evidence: EvidenceColumns, stays: StayColumns, hand: str, as_of: date) -> Matrix:
    """The matrix of one hand alone, the same cells as in the whole ``fold``; it reads that hand's rows only."""
    return fold(catalogue, evidence.of_hand(hand), stays.of_hand(hand), as_of)


@dataclass(frozen=True, slots=True)
class _Case:
    """Everything that decides, arrays (competencies, hands); ``blocker`` is the line of what must come first."""

    found: Facts
    lacks: Shortfall
    when: Due
    blocker: Codes
    is_down: _Flags
    is_untried: _Flags
    is_blocked: _Flags

    def rule(self) -> npt.NDArray[np.int8]:
        """Codes of ``RULES``: the first that applies."""
        return _first(
            np.int8,
            (self.is_down, RULES.index(Rule.STOOD_DOWN)),
            (self.is_untried, RULES.index(Rule.NOTHING)),
            (self.lacks_more(), RULES.index(Rule.MORE)),
            (self.lacks.any() & (self.found.up > NO_ROW), RULES.index(Rule.AGAIN)),
            (self.lacks.any(), RULES.index(Rule.NEVER)),
            (self.is_blocked, RULES.index(Rule.AFTER)),
            (self.when.is_late, RULES.index(Rule.EXPIRED)),
            (self.when.do_by == ARRANGE, RULES.index(Rule.NO_HITCH)),
            (self.when.is_last_hitch, RULES.index(Rule.LAST_HITCH)),
            (self.when.is_noticed, RULES.index(Rule.NOTICE)),
            otherwise=RULES.index(Rule.HOLDS),
        )

    def part(self) -> npt.NDArray[np.int16]:
        """Places in ``_PARTS``, and beyond its end the line of what must come first, of the part that decides."""
        return _first(
            np.int16,
            (self.is_down | self.is_untried, _NONE),
            (self.lacks.knowledge, _KNOWLEDGE),
            (self.lacks.practical, _PRACTICAL),
            (self.is_blocked, len(_PARTS) + self.blocker),
            (self.lacks.is_practical_first, _PRACTICAL),
            (self.lacks.earliest == NO_DAY, _NONE),
            otherwise=_KNOWLEDGE,
        )

    def row(self) -> Rows:
        """The evidence row that decides: the stand-down, or what the part that expires first rests on, or none."""
        return _first(
            np.int32,
            (self.is_down, self.found.down),
            (self.is_untried, NO_ROW),
            (self.lacks_more(), self.found.practical.toward),
            (self.lacks.any(), self.found.up),
            (self.is_blocked, NO_ROW),
            (self.lacks.is_practical_first, self.found.practical.row),
            otherwise=self.found.knowledge.row,
        )

    def lacks_more(self) -> _Flags:
        """Where clean assessments so far are on too few days or by too few people, and nothing else comes before."""
        return self.lacks.practical & ~self.lacks.knowledge & (self.found.practical.toward > NO_ROW)


def _first(kind: type[_Kind], *tried: tuple[_Flags, Rows | int], otherwise: Rows | int) -> npt.NDArray[_Kind]:
    """In each cell the value of the first whose flag is up."""
    chosen = np.full(tried[0][0].shape, otherwise, dtype=kind)
    for where, value in reversed(tried):
        chosen = np.where(where, np.asarray(value, dtype=kind), chosen)
    return chosen


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
