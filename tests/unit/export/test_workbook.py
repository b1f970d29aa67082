"""Workbooks are read back by two other libraries and compared as data."""

from __future__ import annotations

import io
import json
from datetime import date, datetime
from typing import Any

import openpyxl
import pytest
import python_calamine
from openpyxl.worksheet.worksheet import Worksheet

from tests.unit.export.reports import CELLS, ENGLISH, MATRIX, NOW, RECORDS, records
from trainer.core.standing import Standing
from trainer.export import MATRIX_COLUMNS, MATRIX_FORMATS, RECORD_COLUMNS, RECORD_FORMATS, STANDING_MARKS, MatrixReport
from trainer.export.reports import matrix_rows

EXPECTED = [list(MATRIX_COLUMNS), *(list(row) for row in matrix_rows(MATRIX, ENGLISH))]


@pytest.fixture(scope="module")
def matrix() -> bytes:
    return dict(MATRIX_FORMATS)["xlsx"](MATRIX, ENGLISH, NOW)


@pytest.fixture(scope="module")
def page(matrix: bytes) -> Worksheet:
    return openpyxl.load_workbook(io.BytesIO(matrix))["Matrix"]


def as_days(value: object) -> object:
    return value.date() if isinstance(value, datetime) else value


def by_openpyxl(page: Worksheet) -> list[list[object]]:
    return [["" if value is None else as_days(value) for value in row] for row in page.iter_rows(values_only=True)]


def by_calamine(data: bytes, sheet: str) -> list[list[Any]]:
    book = python_calamine.CalamineWorkbook.from_filelike(io.BytesIO(data))
    return book.get_sheet_by_name(sheet).to_python()


def blank(rows: list[list[Any]]) -> list[list[Any]]:
    return [["" if value is None else value for value in row] for row in rows]


def test_two_readers_find_the_matrix_as_data(matrix: bytes, page: Worksheet) -> None:
    assert by_openpyxl(page) == blank(EXPECTED)
    assert by_calamine(matrix, "Matrix") == blank(EXPECTED)


def test_days_are_days_and_nothing_is_computed(page: Worksheet) -> None:
    assert page["G2"].is_date
    assert page["G2"].number_format == "yyyy-mm-dd"
    assert {cell.data_type for row in page.iter_rows() for cell in row} <= {"s", "d", "n"}
    assert page["B3"].value == "=1+1"
    assert page["B3"].data_type == "s"
    assert page["B3"].quotePrefix
    assert page["B2"].hyperlink is None


def test_a_standing_is_word_shape_and_fill(page: Worksheet) -> None:
    marks = {mark.standing.value: mark for mark in STANDING_MARKS}
    for row, expected in enumerate(CELLS, start=2):
        cell, mark = page.cell(row, 6), marks[expected.standing.value]
        assert cell.value == expected.standing.value
        assert mark.shape in cell.number_format
        assert cell.fill.fgColor.rgb == f"FF{mark.fill[1:]}"


def test_a_name_that_is_a_standing_is_only_a_name(page: Worksheet) -> None:
    assert page["B6"].value == "due"
    assert page["B6"].fill.patternType is None


def test_every_standing_has_a_mark_of_its_own() -> None:
    assert {mark.standing for mark in STANDING_MARKS} == set(Standing)
    assert len({mark.shape for mark in STANDING_MARKS}) == len({mark.fill for mark in STANDING_MARKS}) == len(Standing)


def test_ink_is_readable_on_its_fill() -> None:
    for mark in STANDING_MARKS:
        light, dark = sorted((luminance(mark.fill), luminance(mark.ink)), reverse=True)
        assert (light + 0.05) / (dark + 0.05) >= 4.5, mark.standing


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_it_is_a_real_table_that_prints_on_a3(page: Worksheet) -> None:
    table = page.tables["matrix"]
    assert table.ref == f"A1:J{len(CELLS) + 1}"
    assert [column.name for column in table.tableColumns] == list(MATRIX_COLUMNS)
    assert page.freeze_panes == "A2"
    assert page.print_title_rows == "$1:$1"
    assert (page.page_setup.paperSize, page.page_setup.orientation) == (8, "landscape")
    assert page.sheet_properties.pageSetUpPr.fitToPage
    assert (page.page_setup.fitToWidth or 1, page.page_setup.fitToHeight) == (1, 0)


def test_a_second_sheet_says_what_it_was_made_from(matrix: bytes) -> None:
    about = dict(row[:2] for row in by_calamine(matrix, "About"))
    assert about == {
        "Site": "rig-7",
        "As of": date(2026, 3, 2),
        "Shown": "day-1",
        "Last record of rig-7": f"number 12, 2026-03-02T17:00:00.000Z, {'ab' * 32}",
        "Version": "0.1",
        "Written": "2026-03-02T18:00:00Z",
    }


def test_the_same_report_gives_the_same_bytes(matrix: bytes) -> None:
    assert dict(MATRIX_FORMATS)["xlsx"](MATRIX, ENGLISH, NOW) == matrix


def test_an_empty_matrix_is_a_table_with_its_header() -> None:
    empty = MatrixReport("rig-7", date(2026, 3, 2), (), {}, (), "0.1")
    data = dict(MATRIX_FORMATS)["xlsx"](empty, ENGLISH, NOW)
    assert by_calamine(data, "Matrix") == [list(MATRIX_COLUMNS)]


def test_records_hold_the_body_as_json() -> None:
    header, first, second = by_calamine(dict(RECORD_FORMATS)["xlsx"](records(), ENGLISH, NOW), "Records")
    assert header == list(RECORD_COLUMNS)
    assert json.loads(first[8]) == RECORDS[0]["body"]
    assert (first[2], first[6], second[6]) == (1, "", "-h")


def test_a_body_too_long_for_a_cell_says_where_it_is_whole() -> None:
    long = {**RECORDS[0], "body": {"text": "x" * 40_000}}
    report = records()
    data = dict(RECORD_FORMATS)["xlsx"](type(report)("rig-7", [long], (), "0.1"), ENGLISH, NOW)
    assert by_calamine(data, "Records")[1][8] == ENGLISH.say("export.too-long")
