"""Measures everything and prints one table: ``python -m tests.bench.table [--full]``.

Speed never fails a run: it ends with 1 only where a result was wrong.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence

from tests.bench import appends, crew_matrix, fold, imports, one_record, stop_waves
from tests.bench.lines import Line, Wrong

MEASURED: tuple[Callable[[bool], Sequence[Line]], ...] = (
    fold.measure,
    one_record.measure,
    appends.measure,
    crew_matrix.measure,
    imports.measure,
    stop_waves.measure,
)

_HEADS = ("what", "figure", "baseline", "ratio", "aim", "reached")


def main(arguments: Sequence[str]) -> int:
    """0, or 1 where a result was wrong; each measurement is told on stderr when it begins."""
    lines: list[Line] = []
    wrong: list[str] = []
    for measure in MEASURED:
        name = measure.__module__.rpartition(".")[2]
        print(f"{name} …", file=sys.stderr, flush=True)
        try:
            lines += measure("--full" in arguments)
        except Wrong as error:
            wrong.append(f"WRONG: {name}: {error}")
    print("\n".join([*_drawn(lines), *wrong]))
    return 1 if wrong else 0


def _drawn(lines: Sequence[Line]) -> list[str]:
    rows = [_HEADS, *(_cells(each) for each in lines)]
    widths = [max(len(row[place]) for row in rows) for place in range(len(_HEADS))]
    told = ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows]
    return [told[0], "  ".join("-" * width for width in widths), *told[1:]]


def _cells(line: Line) -> tuple[str, ...]:
    return (line.what, line.figure, line.baseline, line.ratio, line.aim, "yes" if line.is_reached else "NO")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
