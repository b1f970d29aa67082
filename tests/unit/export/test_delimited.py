"""CSV and JSON say the same, and nothing in them is computed by whoever opens them."""

from __future__ import annotations

import csv
import io
import json

import pytest

from tests.unit.export.reports import CELLS, ENGLISH, MATRIX, NAMES, NOW, RECORDS, records
from trainer.core.rows import ColumnSet, unguarded
from trainer.core.standing import RULES, Reason
from trainer.export import MATRIX_COLUMNS, MATRIX_FORMATS, RECORD_COLUMNS, RECORD_FORMATS, reason_text
from trainer.tables import read_table

MATRIX_AS, RECORDS_AS = dict(MATRIX_FORMATS), dict(RECORD_FORMATS)


def csv_rows(data: bytes) -> list[dict[str, str]]:
    assert data.startswith(b"\xef\xbb\xbf")
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline="")))


def test_the_matrix_has_exactly_its_columns_and_a_row_a_cell() -> None:
    data = MATRIX_AS["csv"](MATRIX, ENGLISH, NOW)
    assert data.decode("utf-8-sig").split("\r\n")[0] == (
        "hand_id,name,position,crew,competency,standing,due,do_by,late,reason"
    )
    assert data.count(b"\r\n") == len(CELLS) + 1 == data.count(b"\n")
    assert csv_rows(data)[1] == {
        "hand_id": "h2",
        "name": "'=1+1",
        "position": "floorhand",
        "crew": "day-1",
        "competency": "grip",
        "standing": "overdue",
        "due": "2025-12-02",
        "do_by": "arrange",
        "late": "yes",
        "reason": "Ran out: practical, last passed 2025-12-02.",
    }


def test_what_a_spreadsheet_would_compute_is_guarded_and_comes_back_as_it_was() -> None:
    data = MATRIX_AS["csv"](MATRIX, ENGLISH, NOW)
    shown = [row["name"] for row in csv_rows(data)]
    assert shown[1:4] == ["'=1+1", "'@SUM(A1)", "'+34 600"]
    back = read_table(data, ColumnSet(MATRIX_COLUMNS, MATRIX_COLUMNS)).rows
    assert [row.get("name") for row in back][:5] == list(NAMES.values())


def test_somebody_erased_has_a_row_without_a_name() -> None:
    assert csv_rows(MATRIX_AS["csv"](MATRIX, ENGLISH, NOW))[5]["name"] == "erased person"


def test_json_is_the_csv_with_null_for_what_is_empty() -> None:
    told = json.loads(MATRIX_AS["json"](MATRIX, ENGLISH, NOW))
    plain = [
        {name: unguarded(text) or None for name, text in row.items()}
        for row in csv_rows(MATRIX_AS["csv"](MATRIX, ENGLISH, NOW))
    ]
    assert told == plain
    assert list(told[0]) == list(MATRIX_COLUMNS)


def test_json_is_utf8_with_line_feeds_only() -> None:
    data = MATRIX_AS["json"](MATRIX, ENGLISH, NOW)
    assert "Ñandú".encode() in data
    assert b"\r" not in data
    assert data.endswith(b"\n")


def test_records_as_json_are_one_a_line_with_exactly_their_fields_and_values() -> None:
    lines = RECORDS_AS["json"](records(), ENGLISH, NOW).decode().splitlines()
    assert [json.loads(line) for line in lines] == list(RECORDS)
    assert list(json.loads(lines[0])) == list(RECORD_COLUMNS)


def test_records_as_csv_hold_the_body_as_json() -> None:
    first, second = csv_rows(RECORDS_AS["csv"](records(), ENGLISH, NOW))
    assert json.loads(first["body"]) == RECORDS[0]["body"]
    assert (first["seq"], first["hand"], second["hand"]) == ("1", "", "'-h")


@pytest.mark.parametrize("rule", RULES)
def test_every_rule_has_words(rule: str) -> None:
    assert reason_text(Reason(rule, "knowledge", None, None), ENGLISH)


def test_a_reason_names_another_competency_by_its_title_where_one_is_given() -> None:
    waiting = CELLS[3].reason
    assert reason_text(waiting, ENGLISH) == "First comes calls."
    assert reason_text(waiting, ENGLISH, {"calls": "Calls and signals"}) == "First comes Calls and signals."
