"""A whole fleet is worked out some hands at a time, in threads where they are many: the same cells as all at once."""

from __future__ import annotations

import numpy as np
import pytest

from tests.bench import rigs
from trainer.core import standing
from trainer.core.matrix import Matrix

HANDS = 300


def folded() -> Matrix:
    known = rigs.catalogue()
    return standing.fold(known, rigs.evidence(HANDS * 40, HANDS, known), rigs.stays(HANDS), rigs.AS_OF)


@pytest.mark.parametrize("threads", [1, 3])
def test_hands_worked_out_some_at_a_time_have_the_same_cells(threads: int, monkeypatch: pytest.MonkeyPatch) -> None:
    at_once = folded()
    monkeypatch.setattr(standing, "_TOGETHER", 7)
    monkeypatch.setattr(standing, "_FEW", 0)
    monkeypatch.setattr(standing, "_THREADS", threads)
    in_shards = folded()
    assert in_shards.cells() == at_once.cells()
    for name in ("standing", "due", "do_by", "late"):
        assert np.array_equal(getattr(in_shards, name), getattr(at_once, name)), name


def test_what_goes_wrong_in_a_thread_is_raised(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_given: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(standing, "_fill", fail)
    monkeypatch.setattr(standing, "_FEW", 0)
    monkeypatch.setattr(standing, "_THREADS", 2)
    with pytest.raises(ZeroDivisionError):
        folded()
