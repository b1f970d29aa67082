"""The rows that one record gives."""

from __future__ import annotations

import pytest

from tests.contract import ledgers
from tests.contract.ledgers import DAY, observation, quiz, tailgate
from trainer.core.records import (
    Body,
    Effect,
    EvidenceRow,
    Gear,
    Joined,
    Left,
    Moved,
    Outside,
    Part,
    Record,
    Reinstated,
    StayRow,
    StoodDown,
    Talk,
    Void,
)
from trainer.store.coding import kind_of
from trainer.store.projection import rows_of, stay_of, voided_by


def record(body: Body, record_id: str = "r", hand: str | None = "h1") -> Record:
    return Record(record_id, "RIG-7", 4, ledgers.AT, DAY, "drl", hand, kind_of(body), body, "", "")


def told(body: Body) -> list[tuple[str, Part, Effect, str]]:
    return [(row.competency, row.part, row.effect, row.by) for row in rows_of(record(body))]


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        (quiz(), [("set-slips", Part.KNOWLEDGE, Effect.PASS, "h1")]),
        (quiz(passed=False), [("set-slips", Part.KNOWLEDGE, Effect.FAIL, "h1")]),
        (tailgate(), [("set-slips", Part.TAILGATE, Effect.PASS, "drl")]),
        (tailgate(passed=False), [("set-slips", Part.TAILGATE, Effect.FAIL, "drl")]),
        (
            observation({"b": "clean", "a": "not yet"}),
            [("a", Part.PRACTICAL, Effect.FAIL, "obs"), ("b", Part.PRACTICAL, Effect.PASS, "obs")],
        ),
        (observation({"a": "clean"}, purpose="practice"), []),
        (
            Outside("a", "outside-knowledge", "pass", "someone"),
            [("a", Part.OUTSIDE_KNOWLEDGE, Effect.PASS, "someone")],
        ),
        (Outside("a", "tailgate", "fail", "someone"), [("a", Part.TAILGATE, Effect.FAIL, "someone")]),
        (StoodDown("a"), [("a", Part.NONE, Effect.DOWN, "drl")]),
        (StoodDown("a", observer="obs"), [("a", Part.NONE, Effect.DOWN, "obs")]),
        (Reinstated("a"), [("a", Part.NONE, Effect.UP, "drl")]),
        (Reinstated("a", observer="obs"), [("a", Part.NONE, Effect.UP, "obs")]),
        (Talk("a", "r"), []),
        (Joined("day-1", "floorhand"), []),
    ],
)
def test_a_record_gives_the_evidence_of_its_kind(body: Body, expected: list[tuple[str, Part, Effect, str]]) -> None:
    assert told(body) == expected


def test_an_evidence_row_says_where_it_is_from_and_when_it_counts() -> None:
    (row,) = rows_of(record(quiz()), "2026-03-02T09:00:00.000Z")
    assert row == EvidenceRow(
        "h1", "set-slips", Part.KNOWLEDGE, Effect.PASS, DAY, "2026-03-02T09:00:00.000Z", "RIG-7", 4, "h1", "r"
    )
    assert rows_of(record(quiz()))[0].at == ledgers.AT


@pytest.mark.parametrize(
    ("body", "crew", "position"),
    [
        (Joined("day-1", "floorhand"), "day-1", "floorhand"),
        (Moved("", "coordinator"), "", "coordinator"),
        (Left(), "", ""),
    ],
)
def test_joined_moved_and_left_give_a_stay(body: Body, crew: str, position: str) -> None:
    kind = kind_of(body)
    assert stay_of(record(body)) == StayRow("h1", kind, DAY, crew, position, ledgers.AT, "RIG-7", 4, "r")


def test_nothing_else_gives_a_stay() -> None:
    assert stay_of(record(quiz())) is None
    assert rows_of(record(Gear("set-1", "check", "good"), hand=None)) == []


def test_a_void_takes_out_its_record_and_what_was_written_with_an_observation() -> None:
    known = [
        record(Void("seen", "why"), "v1"),
        record(observation({"a": "not yet"}), "seen"),
        record(StoodDown("a", None, "seen"), "down"),
        record(StoodDown("a", None, "other"), "else"),
        record(Void("down", "why"), "v2"),
        record(Void("seen", "why"), "v3"),
    ]
    assert voided_by(known) == {"seen": "v1", "down": "v2"}
