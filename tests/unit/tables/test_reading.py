"""Tables come in from anywhere: encodings, delimiters, headers, guards."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.core.rows import ColumnSet, Table, guarded, tidy, unguarded
from trainer.errors import BadInput, BadTable
from trainer.tables import UPLOAD_LIMIT, read_table
from trainer.tables.decoding import as_utf8

COLUMNS = ColumnSet(("hand_id", "name", "left"), ("hand_id", "name"))
PLAIN = "hand_id,name\nr1,Ramón Peña\n"


def cells(table: Table) -> list[dict[str, str]]:
    return [dict(row.cells) for row in table.rows]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
def test_every_encoding_that_a_spreadsheet_writes_is_read(encoding: str) -> None:
    assert cells(read_table(PLAIN.encode(encoding), COLUMNS)) == [{"hand_id": "r1", "name": "Ramón Peña"}]


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
def test_every_delimiter_and_line_end_is_found(delimiter: str, line_end: str) -> None:
    text = PLAIN.replace(",", delimiter).replace("\n", line_end)
    assert cells(read_table(text.encode(), COLUMNS)) == [{"hand_id": "r1", "name": "Ramón Peña"}]


def test_the_delimiter_line_of_a_spreadsheet_is_obeyed_and_not_counted() -> None:
    table = read_table(b"sep=;\r\nhand_id;name\r\nr1;Ann, the tall one\r\n", COLUMNS)
    assert cells(table) == [{"hand_id": "r1", "name": "Ann, the tall one"}]
    assert table.rows[0].number == 2


def test_headers_are_found_in_any_order_case_and_spacing_and_others_are_named() -> None:
    table = read_table(b" Name ,Shoe size,HAND ID\nAnn,42,r1\n", COLUMNS)
    assert cells(table) == [{"hand_id": "r1", "name": "Ann"}]
    assert table.ignored == ("shoe_size",)


def test_an_absent_column_says_nothing_and_an_empty_cell_says_empty() -> None:
    without, with_empty = read_table(PLAIN.encode(), COLUMNS), read_table(b"hand_id,name,left\nr1,Ann\n", COLUMNS)
    assert not without.rows[0].has("left")
    assert with_empty.rows[0].has("left")
    assert with_empty.rows[0].get("left") == ""


def test_empty_rows_are_left_out_but_counted_as_a_spreadsheet_counts() -> None:
    table = read_table(b'hand_id,name\n\n,\nr1,"two\nlines"\nr2,Bo\n', COLUMNS)
    assert [(row.number, row.get("name")) for row in table.rows] == [(4, "two\nlines"), (5, "Bo")]


def test_every_problem_of_the_header_is_told_at_once() -> None:
    with pytest.raises(BadTable) as caught:
        read_table(b"left,left\n2026-01-01,\n", COLUMNS)
    told = [(cell.row, cell.column, cell.code) for cell in caught.value.cells]
    assert told == [(1, "hand_id", "column-missing"), (1, "name", "column-missing"), (1, "left", "column-twice")]


def test_text_beyond_the_last_column_is_a_flaw_of_its_row_only() -> None:
    first, second = read_table(b"hand_id,name\nr1,Webb, Ann\nr2,Bo,\n", COLUMNS).rows
    assert [(flaw.row, flaw.column, flaw.code) for flaw in first.flaws] == [(2, "3", "row-long")]
    assert second.flaws == ()


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "table-empty"),
        (b"\n \n", "table-empty"),
        (b"\xd0\xcf\x11\xe0rest", "table-spreadsheet"),
        (b"PK\x03\x04rest", "table-damaged"),
        (b"\x00\x01\x02\x00\x00\xff\x81", "table-not-text"),
        (b'hand_id,name\nr1,"never closed\n', "table-broken"),
        (b"x" * (UPLOAD_LIMIT + 1), "table-too-big"),
    ],
)
def test_what_is_no_table_is_refused_with_its_reason(data: bytes, code: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_table(data, COLUMNS, UPLOAD_LIMIT)
    assert caught.value.code == code


@given(st.text())
def test_the_guard_against_formulas_comes_off_exactly(text: str) -> None:
    assert unguarded(guarded(text)) == text
    assert not guarded(text).startswith(("=", "+", "-", "@", "\t", "\r", "\n"))


@given(st.text(st.characters(codec="utf-8", exclude_characters="\0")).map(tidy).filter(bool))
def test_a_name_survives_being_written_and_read_again(name: str) -> None:
    out = io.StringIO()
    csv.writer(out).writerows([["hand_id", "name"], ["r1", guarded(name)]])
    assert read_table(out.getvalue().encode(), COLUMNS).rows[0].get("name") == name


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "cp1252"])
def test_a_text_in_any_encoding_is_the_same_in_utf_8(encoding: str) -> None:
    assert as_utf8("crews: {día: 1}\n".encode(encoding)).decode() == "crews: {día: 1}\n"


def test_what_is_no_text_stays_as_it_is() -> None:
    assert as_utf8(b"\x81\x00\x8d") == b"\x81\x00\x8d"
