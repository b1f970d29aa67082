"""Many records in one go: the chain, the rows and the refusals are those of one after the other."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.contract import ledgers
from tests.contract.ledgers import DAY, new, observation, quiz, tailgate
from trainer.core.records import Joined, Left, Outside, StoodDown, Void
from trainer.errors import BadInput, Refused
from trainer.store import NewRecord, Store


def some() -> list[NewRecord]:
    """Records of several kinds, one of them by a clock that ran back a month."""
    return [
        new(Joined("day-1", "floorhand"), "h1"),
        new(quiz(), "h1"),
        replace(new(tailgate(), "h1"), at="2026-01-30T06:00:00.000Z"),
        new(observation({"set-slips": "clean", "pull-slips": "clean"}), "h1"),
        new(Outside("set-slips", "outside-practical", "pass", "bb"), "h2", day=DAY),
        new(StoodDown("set-slips", "cc"), "h2"),
        new(Left(), "h1"),
    ]


def write(store: Store, given: list[NewRecord], *, together: bool) -> None:
    with store.transaction() as writing:
        if together:
            writing.append_all(given)
        else:
            for each in given:
                writing.append(each)


def test_together_they_are_what_they_are_one_after_the_other(store: Store, tmp_path: Path) -> None:
    other, given = ledgers.empty(tmp_path / "other"), some()
    write(store, given, together=True)
    write(other, given, together=False)
    assert store.verify() == []
    own, theirs = (
        [(each.record_id, each.seq, each.body, each.day) for each in side.records() if each.seq > 2]
        for side in (store, other)
    )
    assert own == theirs
    assert store.evidence_rows() == other.evidence_rows()
    assert store.stay_rows() == other.stay_rows()
    assert store.doubtful() == other.doubtful() != {}
    other.close()


def test_nothing_given_writes_nothing(store: Store) -> None:
    before = store.heads_digest()
    write(store, [], together=True)
    assert store.heads_digest() == before


def test_what_is_there_already_is_not_written_again(store: Store) -> None:
    given = some()
    write(store, given[:3], together=True)
    write(store, given, together=True)
    write(store, [given[0], given[0]], together=True)
    assert len([each for each in store.records() if each.seq > 2]) == len(given)
    assert store.verify() == []


def test_a_void_among_them_takes_out_what_was_written_before_it(store: Store) -> None:
    passed = new(quiz(), "h1")
    write(store, [passed, new(Void(passed.record_id, "ee"))], together=True)
    assert store.evidence_rows() == []
    assert store.verify() == []


def test_one_that_cannot_be_written_stops_them_all(store: Store) -> None:
    before, given = store.heads_digest(), some()
    with pytest.raises(BadInput, match="record-form"):
        write(store, [*given, replace(new(quiz(), "h1"), at="yesterday")], together=True)
    write(store, given[:1], together=True)
    with pytest.raises(Refused, match="record-differs"):
        write(store, [given[1], replace(given[2], record_id=given[0].record_id)], together=True)
    assert [each.record_id for each in store.records() if each.seq > 2] == [given[0].record_id]
    assert before != store.heads_digest()
