"""Workbooks come in as they are typed, and only when their zip is what it says."""

from __future__ import annotations

import io
import zipfile
from datetime import UTC, date, datetime

import openpyxl
import pytest
import xlsxwriter

from trainer.core.rows import ColumnSet
from trainer.errors import BadInput
from trainer.tables import read_table

COLUMNS = ColumnSet(("hand_id", "name", "joined"), ("hand_id", "name"))
ROWS = ((), ("hand_id", "name", "joined"), (17, "José", date(2026, 3, 4)), (), ("h2", "=1+1", "04/03/2026"))


def by_openpyxl(*rows: tuple[object, ...]) -> bytes:
    book, out = openpyxl.Workbook(), io.BytesIO()
    for row in rows:
        book.worksheets[0].append(row)
    for cells in book.worksheets[0].iter_rows():
        for cell in cells:
            cell.data_type = "s" if cell.data_type == "f" else cell.data_type
    book.save(out)
    return out.getvalue()


def by_xlsxwriter(*rows: tuple[object, ...]) -> bytes:
    out = io.BytesIO()
    options = {"strings_to_formulas": False, "default_date_format": "yyyy-mm-dd"}
    with xlsxwriter.Workbook(out, options) as book:
        page = book.add_worksheet()
        for number, row in enumerate(rows):
            page.write_row(number, 0, row)
    return out.getvalue()


def repacked(data: bytes, name: str, part: bytes) -> bytes:
    out = io.BytesIO(data)
    with zipfile.ZipFile(out, "a", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr(name, part)
    return out.getvalue()


@pytest.mark.parametrize("write", [by_openpyxl, by_xlsxwriter])
def test_cells_are_text_days_are_days_and_rows_are_counted_as_shown(write: object) -> None:
    assert callable(write)
    table = read_table(write(*ROWS), COLUMNS)
    assert [(row.number, dict(row.cells)) for row in table.rows] == [
        (3, {"hand_id": "17", "name": "José", "joined": "2026-03-04"}),
        (5, {"hand_id": "h2", "name": "=1+1", "joined": "04/03/2026"}),
    ]


def test_text_is_taken_as_it_stands_because_nothing_guards_it() -> None:
    table = read_table(by_openpyxl(("hand_id", "name"), ("h1", "'=x")), COLUMNS)
    assert table.rows[0].get("name") == "'=x"


def test_a_time_of_day_is_not_lost() -> None:
    morning = datetime(2026, 3, 4, 6, 30, tzinfo=UTC).replace(tzinfo=None)
    table = read_table(by_openpyxl(("hand_id", "name", "joined"), ("h1", "A", morning)), COLUMNS)
    assert table.rows[0].get("joined") == "2026-03-04 06:30:00"


@pytest.mark.parametrize(
    ("name", "part"),
    [
        ("xl/vbaProject.bin", b"macro"),
        ("../outside.xml", b"<a/>"),
        ("/outside.xml", b"<a/>"),
        ("xl/media/flat.bin", bytes(2_000_000)),
    ],
)
def test_macros_other_places_and_bombs_are_refused(name: str, part: bytes) -> None:
    with pytest.raises(BadInput, match="table-unsafe"):
        read_table(repacked(by_openpyxl(*ROWS), name, part), COLUMNS)


def test_too_many_parts_are_refused() -> None:
    out = io.BytesIO(by_openpyxl(*ROWS))
    with zipfile.ZipFile(out, "a") as packed:
        for number in range(200):
            packed.writestr(f"xl/more/{number}.xml", "<a/>")
    with pytest.raises(BadInput, match="table-unsafe"):
        read_table(out.getvalue(), COLUMNS)


def test_an_entity_bomb_is_refused() -> None:
    bomb = b'<!DOCTYPE a [<!ENTITY x "xxxxxxxxxx"><!ENTITY y "&x;&x;&x;&x;">]><sst>&y;</sst>'
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(by_openpyxl(*ROWS))) as old, zipfile.ZipFile(out, "w") as new:
        for part in old.infolist():
            new.writestr(part.filename, bomb if part.filename == "xl/worksheets/sheet1.xml" else old.read(part))
    with pytest.raises(BadInput, match="table-damaged"):
        read_table(out.getvalue(), COLUMNS)


def test_a_file_cut_short_is_damaged() -> None:
    with pytest.raises(BadInput, match="table-damaged"):
        read_table(by_openpyxl(*ROWS)[:-200], COLUMNS)


def test_a_zip_that_is_no_workbook_is_damaged() -> None:
    with pytest.raises(BadInput, match="table-damaged"):
        read_table(repacked(b"", "a.txt", b"text"), COLUMNS)
