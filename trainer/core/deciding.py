"""Which standing applies and what it rests on, as one truth table over everything that decides.

The rules are tried in order for every combination of flags once, when this module is loaded; a cell then costs one
look-up, however many rules there are.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum
from typing import TypeVar

import numpy as np
import numpy.typing as npt

from trainer.core.columns import Rows
from trainer.core.due import Due, Shortfall
from trainer.core.durations import NO_DAY
from trainer.core.latest import NO_ROW
from trainer.core.matrix import ARRANGE, RULES, STANDINGS, Rule, Standing
from trainer.core.parts import Facts
from trainer.core.records import Part

__all__ = ["PART_NAMES", "Decided", "Flags", "decide"]

PART_NAMES = (Part.NONE.value, Part.KNOWLEDGE.value, Part.PRACTICAL.value)
"""The parts that a reason names, by their code; beyond its end the line of what must come first."""

_NONE, _KNOWLEDGE, _PRACTICAL, _BEFORE = range(4)

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

Flags = npt.NDArray[np.bool_]
_Kind = TypeVar("_Kind", np.int8, np.int16)


class _Rests(IntEnum):
    """The row that a standing rests on."""

    NONE = 0
    DOWN = 1
    UP = 2
    TOWARD = 3
    KNOWLEDGE = 4
    PRACTICAL = 5


@dataclass(frozen=True, slots=True)
class Decided:
    """Arrays (competencies, hands): codes of ``STANDINGS`` and ``RULES``, the part that decides as ``PART_NAMES`` has
    it, and the evidence row that it rests on."""

    standing: npt.NDArray[np.int8]
    rule: npt.NDArray[np.int8]
    part: npt.NDArray[np.int16]
    row: Rows


def decide(found: Facts, lacks: Shortfall, when: Due, is_down: Flags, blocker: npt.NDArray[np.int16]) -> Decided:
    """The first standing that applies in each cell; ``blocker`` is the line of what must come first, else -1."""
    case = _case(
        (
            is_down,
            found.is_untried,
            lacks.knowledge,
            lacks.practical,
            found.practical.toward > NO_ROW,
            found.up > NO_ROW,
            blocker > NO_ROW,
            when.is_late,
            when.do_by == ARRANGE,
            when.is_last_hitch,
            when.is_noticed,
            lacks.is_practical_first,
            lacks.earliest == NO_DAY,
        )
    )
    part = _PART.take(case)
    part += blocker * (part == _BEFORE)
    return Decided(_STANDING_OF.take(case), _RULE.take(case), part, _row(found, _RESTS.take(case)))


def _row(found: Facts, rests: npt.NDArray[np.int8]) -> Rows:
    """The row that each cell rests on, or none."""
    rows = {
        _Rests.DOWN: found.down,
        _Rests.UP: found.up,
        _Rests.TOWARD: found.practical.toward,
        _Rests.KNOWLEDGE: found.knowledge.row,
        _Rests.PRACTICAL: found.practical.row,
    }
    choices = np.full((len(_Rests), *rests.shape), NO_ROW, dtype=np.int32)
    for each, given in rows.items():
        choices[each] = given
    place = rests.astype(np.intp)
    place *= rests.size
    place += np.arange(rests.size).reshape(rests.shape)
    return choices.take(place)


def _case(flags: Sequence[Flags]) -> npt.NDArray[np.intp]:
    """Each cell's flags as one number, the first of them its lowest bit."""
    case = np.zeros(flags[0].shape, dtype=np.int16)
    for place, flag in enumerate(flags):
        case |= flag * np.int16(1 << place)
    return case.astype(np.intp)


_COUNT = 13
_EVERY = np.arange(1 << _COUNT)
(
    _IS_DOWN,
    _IS_UNTRIED,
    _LACKS_KNOWLEDGE,
    _LACKS_PRACTICAL,
    _HAS_TOWARD,
    _IS_UP,
    _IS_BLOCKED,
    _IS_LATE,
    _NO_HITCH,
    _LAST_HITCH,
    _NOTICED,
    _PRACTICAL_FIRST,
    _NO_PART,
) = ((_EVERY >> place) % 2 == 1 for place in range(_COUNT))
"""Every combination of flags, in the order in which ``decide`` gives them."""

_LACKS = _LACKS_KNOWLEDGE | _LACKS_PRACTICAL

# Clean assessments so far are on too few days or by too few people, and nothing else comes before.
_LACKS_MORE = _LACKS_PRACTICAL & ~_LACKS_KNOWLEDGE & _HAS_TOWARD


def _first(kind: type[_Kind], *tried: tuple[Flags, int], otherwise: int) -> npt.NDArray[_Kind]:
    """For each combination the value of the first whose flag is up."""
    flags, values = zip(*tried, strict=True)
    chosen: npt.NDArray[_Kind] = np.select(flags, values, otherwise).astype(kind)
    return chosen


_RULE = _first(
    np.int8,
    (_IS_DOWN, RULES.index(Rule.STOOD_DOWN)),
    (_IS_UNTRIED, RULES.index(Rule.NOTHING)),
    (_LACKS_MORE, RULES.index(Rule.MORE)),
    (_LACKS & _IS_UP, RULES.index(Rule.AGAIN)),
    (_LACKS, RULES.index(Rule.NEVER)),
    (_IS_BLOCKED, RULES.index(Rule.AFTER)),
    (_IS_LATE, RULES.index(Rule.EXPIRED)),
    (_NO_HITCH, RULES.index(Rule.NO_HITCH)),
    (_LAST_HITCH, RULES.index(Rule.LAST_HITCH)),
    (_NOTICED, RULES.index(Rule.NOTICE)),
    otherwise=RULES.index(Rule.HOLDS),
)
_STANDING_OF = np.array([STANDINGS.index(_STANDING[rule]) for rule in RULES], dtype=np.int8)[_RULE]
_PART = _first(
    np.int16,
    (_IS_DOWN | _IS_UNTRIED, _NONE),
    (_LACKS_KNOWLEDGE, _KNOWLEDGE),
    (_LACKS_PRACTICAL, _PRACTICAL),
    (_IS_BLOCKED, _BEFORE),
    (_PRACTICAL_FIRST, _PRACTICAL),
    (_NO_PART, _NONE),
    otherwise=_KNOWLEDGE,
)
_RESTS = _first(
    np.int8,
    (_IS_DOWN, _Rests.DOWN),
    (_IS_UNTRIED, _Rests.NONE),
    (_LACKS_MORE, _Rests.TOWARD),
    (_LACKS, _Rests.UP),
    (_IS_BLOCKED, _Rests.NONE),
    (_PRACTICAL_FIRST, _Rests.PRACTICAL),
    (_NO_PART, _Rests.NONE),
    otherwise=_Rests.KNOWLEDGE,
)
