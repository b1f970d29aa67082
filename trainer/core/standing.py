"""The standing of every hand in every competency on a day: one pure function of catalogue, evidence, stays and date.

Start with ``fold``. ``roster`` says who is on the matrix, ``latest`` and ``parts`` what the evidence holds, ``due``
the dates; here the first standing that applies is chosen and given its reason.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from graphlib import TopologicalSorter
from typing import Generic, TypeVar

import numpy as np
import numpy.typing as npt

from trainer.core import recordids
from trainer.core.calendars import Calendar, calendar
from trainer.core.catalogue import Catalogue, Competency
from trainer.core.columns import EvidenceColumns, StayColumns
from trainer.core.deciding import PART_NAMES, Flags, decide
from trainer.core.due import DueRules, due, due_rules, shortfall
from trainer.core.durations import Days
from trainer.core.holding import holds, is_practical_valid, is_stood_down
from trainer.core.latest import NO_ROW
from trainer.core.matrix import RULES, STANDINGS, Cell, DoBy, Matrix, Reason, Reasons, Rule, Standing
from trainer.core.parts import PartRules, facts_by, part_rules
from trainer.core.roster import Roster, roster

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
    "refold",
]

_It = TypeVar("_It")
_Lines = npt.NDArray[np.int16]


def fold(catalogue: Catalogue, evidence: EvidenceColumns, stays: StayColumns, as_of: date) -> Matrix:
    """The matrix on ``as_of``, past or future, from rows of records that are not voided.

    The catalogue must be one that ``check`` accepts: ``graphlib.CycleError`` for a cycle in ``after``, ``KeyError``
    for an ``after`` that is not there.
    """
    return _folded(catalogue, evidence, roster(catalogue.site, catalogue.competencies, stays, as_of), stays.day, as_of)


def _folded(catalogue: Catalogue, evidence: EvidenceColumns, on: Roster, starts: Days, as_of: date) -> Matrix:
    """The matrix of the hands in ``on``; ``starts`` holds every day from which ``within`` counts for one of them."""
    rules = _rules(catalogue, calendar([evidence.day, starts]), as_of)
    matrix = _blank(rules, on, evidence)
    _each_shard(len(on.hands), lambda columns: _fill(matrix, rules, evidence, on, columns))
    matrix.freeze()
    return matrix


_TOGETHER = 2048
"""Hands worked out at once: few enough that all their cells stay in the processor's cache."""

_FEW = 4 * _TOGETHER
"""So many hands are done before a second thread would have begun."""

_THREADS = 2
"""A rig PC has two cores at least; on one the second thread costs next to nothing."""


def _each_shard(count: int, fill: Callable[[slice], None]) -> None:
    """``fill`` for every ``_TOGETHER`` of ``count`` hands; of many, some at a time, as they share nothing."""
    shards = [slice(start, min(start + _TOGETHER, count)) for start in range(0, count, _TOGETHER)]
    if count <= _FEW:
        for each in shards:
            fill(each)
        return
    with ThreadPoolExecutor(_THREADS) as threads:
        for _ in threads.map(fill, shards):
            pass


@dataclass(frozen=True, slots=True)
class _Rules:
    competencies: tuple[Competency, ...]
    after: _After
    parts: PartRules
    due: DueRules


class _This(Generic[_It]):
    """One object as a key: equal to itself alone, so that a large one need not be looked through to be found again."""

    __slots__ = ("it",)

    def __init__(self, it: _It) -> None:
        self.it = it

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _This) and other.it is self.it

    def __hash__(self) -> int:
        return id(self.it)


def _rules(catalogue: Catalogue, days: Calendar, as_of: date) -> _Rules:
    if days.listed is not None:
        return _rules_of(catalogue, days, as_of)
    return _kept_rules(_This(catalogue), days.first, days.count, as_of)


@lru_cache(maxsize=16)
def _kept_rules(this: _This[Catalogue], first: int, count: int, as_of: date) -> _Rules:
    return _rules_of(this.it, Calendar(first, count), as_of)


def _rules_of(catalogue: Catalogue, days: Calendar, as_of: date) -> _Rules:
    competencies = catalogue.competencies
    return _Rules(
        competencies,
        _after(competencies),
        part_rules(catalogue, competencies, days),
        due_rules(competencies, days, as_of),
    )


def _blank(rules: _Rules, on: Roster, evidence: EvidenceColumns) -> Matrix:
    """The matrix with room for everything that ``_fill`` works out."""
    shape = len(rules.competencies), len(on.hands)
    names = tuple(each.id for each in rules.competencies)
    return Matrix(
        as_of=rules.due.as_of,
        hands=on.hands,
        crews=on.crews,
        positions=on.positions,
        competencies=names,
        needed=on.needed,
        standing=np.empty(shape, dtype=np.int8),
        due=np.empty(shape, dtype=np.int32),
        do_by=np.empty(shape, dtype=np.int32),
        late=np.empty(shape, dtype=np.bool_),
        reasons=Reasons(
            rule=np.empty(shape, dtype=np.int8),
            part=np.empty(shape, dtype=np.int16),
            parts=(*PART_NAMES, *names),
            record=recordids.blank(shape, like=evidence.record),
            day=np.empty(shape, dtype=np.int32),
        ),
    )


def _fill(matrix: Matrix, rules: _Rules, evidence: EvidenceColumns, on: Roster, columns: slice) -> None:
    """Work out the cells of the hands in ``columns``."""
    some = on.between(columns.start, columns.stop)
    own = evidence.between(some.hands[0], some.hands[-1])
    found = facts_by(rules.parts, own, some.hands, rules.due.as_of)
    lacks, is_down = shortfall(rules.due, found), found.is_stood_down()
    when = due(rules.due, some, np.maximum(some.start, found.days_of(found.up)), lacks, is_down)
    blocker = rules.after.blockers(is_down | found.is_untried | lacks.any())
    decided, reasons = decide(found, lacks, when, is_down, blocker), matrix.reasons
    matrix.standing[:, columns] = decided.standing
    matrix.due[:, columns] = when.day
    matrix.do_by[:, columns] = when.do_by
    matrix.late[:, columns] = when.is_late
    reasons.rule[:, columns] = decided.rule
    reasons.part[:, columns] = decided.part
    reasons.record[:, columns] = recordids.taken(own.record, decided.row)
    reasons.day[:, columns] = found.days_of(decided.row)


def fold_hand(catalogue: Catalogue, evidence: EvidenceColumns, stays: StayColumns, hand: str, as_of: date) -> Matrix:
    """The matrix of one hand alone, the same cells as in the whole ``fold``; it reads that hand's rows only."""
    on = _kept_roster(_This(catalogue), _This(stays), as_of).of_hand(hand)
    return _folded(catalogue, evidence.of_hand(hand), on, on.start, as_of)


def refold(
    before: Matrix, catalogue: Catalogue, evidence: EvidenceColumns, stays: StayColumns, hands: Collection[str]
) -> Matrix:
    """``before`` with the cells of ``hands`` worked out again: the whole ``fold`` where only their evidence changed.

    Catalogue, stays and day must be those of ``before``.
    """
    if evidence.record.dtype != before.reasons.record.dtype:
        # A first id that is no UUID: all of them are kept in another way.
        return fold(catalogue, evidence, stays, before.as_of)
    matrix = before.copy()
    for hand in hands:
        alone = fold_hand(catalogue, evidence, stays, hand, before.as_of)
        if alone.hands:
            matrix.put(alone)
    matrix.freeze()
    return matrix


@lru_cache(maxsize=2)
def _kept_roster(this: _This[Catalogue], stays: _This[StayColumns], as_of: date) -> Roster:
    """Who is on the matrix stays the same from one record of evidence to the next."""
    return roster(this.it.site, this.it.competencies, stays.it, as_of)


@dataclass(frozen=True, slots=True)
class _After:
    """Lines in an order in which whatever comes first stands before, each with the lines that must come first."""

    lines: tuple[tuple[int, tuple[int, ...]], ...]

    def blockers(self, stops: Flags) -> _Lines:
        """For each competency and hand the line of the first in ``after`` that is itself not there yet, else -1.

        ``stops`` says where a competency is stood down, not started or missing a part of its own.
        """
        blocker = np.full(stops.shape, NO_ROW, dtype=np.int16)
        for line, befores in self.lines:
            for before in reversed(befores):
                blocker[line, stops[before]] = before
            stops[line] |= blocker[line] > NO_ROW
        return blocker


def _after(competencies: tuple[Competency, ...]) -> _After:
    line_of = {each.id: line for line, each in enumerate(competencies)}
    order = TopologicalSorter({each.id: each.after for each in competencies}).static_order()
    lines = [(line_of[name], competencies[line_of[name]].after) for name in order]
    return _After(tuple((line, tuple(line_of[each] for each in befores)) for line, befores in lines if befores))
