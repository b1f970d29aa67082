"""Who holds what, as a real table: one tab stop, arrow keys, a shape and a word in every cell."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from trainer.web.look import SHAPES
from trainer.web.parts.mounting import mount, newest, said
from trainer.web.parts.shapes import Column, Level, Row
from trainer.words import Words

__all__ = ["matrix_table"]


def matrix_table(
    caption: str,
    columns: Sequence[Column],
    rows: Sequence[Row],
    *,
    levels: Sequence[Level],
    words: Words,
    key: str,
    picked: tuple[str, str] | None = None,
    first: str = "",
) -> tuple[str, str] | None:
    """(row id, column id) of the cell picked just now; ``None`` otherwise. ``first`` heads the column of names."""
    number = {level.id: place for place, level in enumerate(levels)}
    data = {
        "caption": caption,
        "first": first,
        "columns": [asdict(column) for column in columns],
        "rows": [_row(row, number) for row in rows],
        "levels": [{**asdict(level), "path": SHAPES[level.shape]} for level in levels],
        "picked": list(picked) if picked else None,
        "words": said(words, "not-needed"),
    }
    return checked(newest(key, mount("matrix_table", key, data)), columns, rows)


def checked(value: object, columns: Sequence[Column], rows: Sequence[Row]) -> tuple[str, str] | None:
    """``value`` as (row id, column id) when both are there."""
    if not isinstance(value, list) or len(value) != 2:
        return None
    row, column = value
    is_there = row in {each.id for each in rows} and column in {each.id for each in columns}
    return (row, column) if is_there else None


def _row(row: Row, number: dict[str, int]) -> list[Any]:
    """Short, because 200 rows travel at once: id, name, note, [level or -1, note] a cell."""
    cells = [[number.get(cell.level, -1), cell.note] for cell in row.cells]
    return [row.id, row.name, row.note, cells]
