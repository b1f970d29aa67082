"""A long file of earlier evidence taken in, as CSV and as XLSX, by the clock on the wall; then the same file again."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter

from tests.bench import import_files
from tests.bench.lines import Line, Wrong, text
from trainer.actions import importing
from trainer.core.earlier import EVIDENCE_COLUMNS
from trainer.tables import UPLOAD_LIMIT, read_table

__all__ = ["measure"]

_AIM = 60.0


def measure(full: bool) -> Sequence[Line]:
    """Fifty thousand rows, three thousand when not ``full``: there the aim is the same share of a minute."""
    rows, hands = (50_000, 1_000) if full else (3_000, 150)
    files = {"CSV": import_files.csv_file(rows, hands), "XLSX": import_files.xlsx_file(rows, hands)}
    lines = []
    for name, data in files.items():
        with TemporaryDirectory() as folder:
            lines.append(_line(f"{rows:,} rows of evidence from {name}", data, Path(folder) / "data", rows, hands))
    return lines


def _line(what: str, data: bytes, folder: Path, rows: int, hands: int) -> Line:
    with import_files.new_desk(folder, hands) as desk:
        began = perf_counter()
        table = read_table(data, EVIDENCE_COLUMNS, UPLOAD_LIMIT).rows
        read = perf_counter()
        first = importing.import_evidence(desk, table)
        ended = perf_counter()
        again = importing.import_evidence(desk, table)
        repeated = perf_counter() - ended
        if (first.written, first.same, again.written, again.same) != (rows, 0, 0, rows):
            raise Wrong(f"{what}: {first.written} were written, then {again.written}")
    aim = _AIM * rows / 50_000
    told = f"{text(read - began)} to read it; the same again {text(repeated)}"
    return Line(what, text(ended - began), told, "", f"under {text(aim)}", ended - began < aim)
