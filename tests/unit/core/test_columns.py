"""Columns in the one order, grown and voided without reading everything again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from uuid import UUID

import pytest

from tests.unit.core.rulebook import SLIPS, ann, day
from trainer.core import recordids
from trainer.core.columns import EvidenceColumns, added, evidence_columns, stay_columns, without
from trainer.core.records import Effect, EvidenceRow, Part


def uuid(number: int) -> str:
    return str(UUID(int=(0x0190_0000_0000_7000_8000 << 48) + number))


def row(number: int, on: str = "2026-01-01", hand: str = "ann", record_id: str = "") -> EvidenceRow:
    at = "2026-01-01T00:00:00.000Z"
    return EvidenceRow(
        hand, SLIPS, Part.KNOWLEDGE, Effect.PASS, day(on), at, "rig", number, hand, record_id or uuid(number)
    )


def records(columns: EvidenceColumns) -> list[str]:
    return [recordids.unpack(columns.record, place) for place in range(len(columns))]


def test_rows_stand_by_day_then_time_of_writing_then_site_then_place_in_the_chain() -> None:
    rows = [
        replace(row(1), record_id=uuid(6), day=day("2026-01-02")),
        replace(row(9), record_id=uuid(5), at="2026-01-01T00:00:00.001Z"),
        replace(row(2), record_id=uuid(4), site="vessel"),
        replace(row(10), record_id=uuid(3)),
        replace(row(2), record_id=uuid(2)),
        replace(row(99), record_id=uuid(1), day=day("2025-12-31")),
    ]
    assert records(evidence_columns(rows)) == [uuid(number) for number in range(1, 7)]


def test_rows_of_one_sheet_stand_by_competency_however_they_were_read() -> None:
    sheet = [replace(row(1), competency=name) for name in ("b", "c", "a")]
    columns = evidence_columns(sheet)
    assert [columns.competencies[code] for code in columns.competency] == ["a", "b", "c"]


def test_the_rows_of_one_hand_keep_their_order() -> None:
    columns = evidence_columns([row(number, hand="bob" if number % 2 else "ann") for number in range(1, 8)])
    assert records(columns.of_hand("bob")) == [uuid(number) for number in (1, 3, 5, 7)]
    assert len(columns.of_hand("zoe")) == 0
    assert len(evidence_columns([]).of_hand("ann")) == 0


def test_stays_of_one_hand_keep_their_order() -> None:
    ledger = ann().joined("2026-01-01", hand="bob").moved("2026-02-01", "motorhand")
    columns = stay_columns(ledger.stays).of_hand("ann")
    assert [recordids.unpack(columns.record, place) for place in range(len(columns))] == ["r1", "r3"]


def test_columns_cannot_be_written_to() -> None:
    columns = evidence_columns([row(1)])
    with pytest.raises(ValueError, match="read-only"):
        columns.day[0] = 1


def test_a_new_row_for_an_earlier_day_finds_its_place() -> None:
    old = evidence_columns([row(1, "2026-01-01"), row(2, "2026-03-01")])
    grown = added(old, evidence_columns([row(3, "2026-02-01"), row(4, "2026-02-01", hand="aaron")]))
    assert records(grown) == [uuid(4), uuid(1), uuid(3), uuid(2)]
    assert [grown.hands[code] for code in grown.hand] == ["aaron", "ann", "ann", "ann"]
    assert added(old, evidence_columns([])) is old


def test_ids_that_are_not_uuids_are_kept_as_they_are_beside_those_that_are() -> None:
    mixed: Sequence[str] = (uuid(1), "entered by hand", uuid(2).upper(), "")
    packed = recordids.pack(mixed)
    assert [recordids.unpack(packed, place) for place in range(4)] == list(mixed)
    grown = recordids.inserted(recordids.pack([uuid(1)]), [1], recordids.pack(["plain"]))
    assert [recordids.unpack(grown, place) for place in range(2)] == [uuid(1), "plain"]


def test_uuids_take_sixteen_bytes_each() -> None:
    packed = recordids.pack([uuid(number) for number in range(100)])
    assert packed.nbytes == 1600
    assert recordids.unpack(packed, 7) == uuid(7)


def test_voided_records_go_with_all_their_rows_and_unknown_ones_change_nothing() -> None:
    columns = evidence_columns([row(1), replace(row(1), competency="other"), row(2, hand="bob"), row(3)])
    left = without(columns, [uuid(1), uuid(2), uuid(77), "plain"])
    assert records(left) == [uuid(3)]
    assert (left.hands, left.competencies) == (("ann",), (SLIPS,))
    assert without(columns, [uuid(77)]) is columns
    assert records(without(evidence_columns([row(1, record_id="a"), row(2, record_id="b")]), ["a"])) == ["b"]


def test_ids_that_share_their_first_half_are_told_apart() -> None:
    one, other = (f"01900000-0000-7000-8000-00000000000{digit}" for digit in "12")
    assert recordids.among(recordids.pack([one, other]), [other]).tolist() == [False, True]


def test_an_index_by_hand_says_where_each_hands_rows_begin() -> None:
    columns = evidence_columns([row(number, hand=f"h{number % 3}") for number in range(1, 11)])
    assert columns.hand_starts.tolist() == [0, 3, 7, 10]
    assert records(columns.of_hand("h1")) == [uuid(number) for number in (1, 4, 7, 10)]


def test_the_rows_of_some_hands_are_those_from_the_first_to_the_last_of_them() -> None:
    columns = evidence_columns([row(number, hand=f"h{number % 5}") for number in range(1, 11)])
    some = columns.between("h1", "h3")
    assert some.hands == ("h1", "h2", "h3")
    assert [some.hands[code] for code in some.hand] == ["h1", "h1", "h2", "h2", "h3", "h3"]
    assert some.hand_starts.tolist() == [0, 2, 4, 6]
    assert records(columns.between("h30", "h39")) == []
    assert columns.between("h0", "h4").hand_starts.tolist() == columns.hand_starts.tolist()
