"""The fold of a whole fleet from columns in memory, against one sum of the same columns and a pandas groupby."""

from __future__ import annotations

import tracemalloc
from collections.abc import Sequence
from time import perf_counter

import numpy as np

from tests.bench import fold_by_pandas, rigs
from tests.bench.lines import Line, Wrong, alternating, at_least, at_most, seconds_of
from trainer.core.columns import EvidenceColumns
from trainer.core.matrix import Matrix
from trainer.core.standing import fold

__all__ = ["measure"]

COLUMNS = ("hand", "competency", "part", "effect", "day", "by")
REPEATS = 15
MOST_MEGABYTES = 300


def measure(full: bool) -> Sequence[Line]:
    """Five million rows of fifty thousand hands, a tenth of both when not ``full``."""
    hands = 50_000 if full else 5_000
    rows = hands * 100
    known = rigs.catalogue()
    evidence, stays = rigs.evidence(rows, hands, known), rigs.stays(hands)

    def folded() -> Matrix:
        return fold(known, evidence, stays, rigs.AS_OF)

    def grouped() -> Matrix:
        return fold_by_pandas.fold(known, evidence, stays, rigs.AS_OF)

    _compare(folded(), grouped())
    # By the clock on the wall, for a whole fleet is worked out in two threads.
    own, one_sum = alternating([folded, lambda: _sums(evidence)], REPEATS, perf_counter)
    pandas = seconds_of(grouped, 3)
    size = f"fold of {rows / 1e6:g} million rows, {hands:,} hands x {len(known.competencies)}"
    return [
        at_most(size, own, one_sum, "one sum of the six columns", 15),
        at_least(size, own, pandas, "pandas groupby, same result", 7),
        _memory(size, folded),
    ]


def _sums(evidence: EvidenceColumns) -> int:
    return sum(int(getattr(evidence, name).sum()) for name in COLUMNS)


def _memory(size: str, folded: object) -> Line:
    tracemalloc.start()
    folded()  # type: ignore[operator]
    peak = tracemalloc.get_traced_memory()[1] / 1e6
    tracemalloc.stop()
    return Line(f"{size}: memory", f"{peak:.0f} MB", "", "", f"under {MOST_MEGABYTES} MB", peak < MOST_MEGABYTES)


def _compare(one: Matrix, other: Matrix) -> None:
    """Every needed cell in every field."""
    if (one.hands, one.crews, one.positions) != (other.hands, other.crews, other.positions):
        raise Wrong("the two folds have other hands")
    needed = one.needed
    reasons, others = one.reasons, other.reasons
    has_record = reasons.day[needed] != 0
    pairs = {
        "needed": (one.needed, other.needed),
        "standing": (one.standing[needed], other.standing[needed]),
        "due": (one.due[needed], other.due[needed]),
        "do by": (one.do_by[needed], other.do_by[needed]),
        "late": (one.late[needed], other.late[needed]),
        "rule": (reasons.rule[needed], others.rule[needed]),
        "part": (reasons.part[needed], others.part[needed]),
        "day of reason": (reasons.day[needed], others.day[needed]),
        "record": (reasons.record[needed][has_record], others.record[needed][has_record]),
    }
    for name, (own, theirs) in pairs.items():
        if not np.array_equal(own, theirs):
            raise Wrong(f"the two folds differ in {name} in {int((own != theirs).sum())} cells")
