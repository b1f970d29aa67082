"""Rows out of an XLSX file that nobody vouches for: its zip is looked over before anything in it is read."""

from __future__ import annotations

import io
import warnings
import zipfile
from collections.abc import Iterator
from datetime import date, datetime, time

import openpyxl

from trainer.errors import BadInput

__all__ = ["is_workbook", "records"]

_SIGN = b"PK\x03\x04"
_MOST_PARTS = 200
_MOST_UNPACKED = 50_000_000
_MOST_RATIO = 200


def is_workbook(data: bytes) -> bool:
    """Whether ``data`` begins as an XLSX file does; an old or locked spreadsheet file begins otherwise."""
    return data.startswith(_SIGN)


def records(data: bytes) -> Iterator[tuple[int, list[str]]]:
    """Each row of the first sheet that holds any text, with its number; days as ``YYYY-MM-DD``, values for formulas.

    Raises ``BadInput``: ``table-unsafe`` for a zip beyond reason or with macros, ``table-damaged`` when it cannot be
    read.
    """
    _look_over(data)
    for number, row in enumerate(_rows(data), start=1):
        cells = [_text(value) for value in row]
        if any(cell.strip() for cell in cells):
            yield number, cells


def _look_over(data: bytes) -> None:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            parts = packed.infolist()
    except (zipfile.BadZipFile, ValueError):
        raise BadInput("table-damaged") from None
    unpacked = sum(part.file_size for part in parts)
    if len(parts) > _MOST_PARTS or unpacked > _MOST_UNPACKED or any(_is_unsafe(part) for part in parts):
        raise BadInput("table-unsafe")


def _is_unsafe(part: zipfile.ZipInfo) -> bool:
    name = part.filename.replace("\\", "/")
    is_elsewhere = name.startswith("/") or ":" in name or ".." in name.split("/")
    has_macros = name.lower().endswith(("vbaproject.bin", ".xlm"))
    return is_elsewhere or has_macros or part.file_size > _MOST_RATIO * max(part.compress_size, 1)


def _rows(data: bytes) -> list[tuple[object, ...]]:
    """Every row of the first sheet; openpyxl reads its XML through defusedxml."""
    try:
        with warnings.catch_warnings():
            # It warns of what it leaves out (drop-down lists, drawings): none of that is in a cell.
            warnings.simplefilter("ignore")
            book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True, keep_links=False)
            page = book.worksheets[0]
            page.reset_dimensions()
            return list(page.iter_rows(values_only=True))
    except Exception:  # noqa: BLE001 - a damaged file fails in whatever way its damage has it
        raise BadInput("table-damaged") from None


def _text(value: object) -> str:
    match value:
        case None:
            return ""
        case datetime():
            return value.date().isoformat() if value.time() == time() else value.isoformat(" ")
        case date():
            return value.isoformat()
        case float() if value.is_integer():
            return str(int(value))
    return str(value)
