"""Tables in: ``roster`` and ``evidence``."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from trainer.actions import importing, people
from trainer.cli.console import Console, read_file
from trainer.cli.progress import bar
from trainer.core.crewlist import ROSTER_COLUMNS
from trainer.core.earlier import EVIDENCE_COLUMNS
from trainer.core.rows import ColumnSet, TableRow
from trainer.tables import read_table

__all__ = ["evidence", "roster"]


def roster(arguments: Namespace, console: Console) -> int:
    """People in: all of the file or nothing."""
    rows = _rows(console, arguments.file, ROSTER_COLUMNS)
    with console.desk() as desk:
        done = people.apply_roster(desk, people.preview_roster(desk, rows))
    console.remark(arguments.file, done.remarks)
    console.say("cli.roster-done", new=len(done.new), changed=len(done.changed), same=len(done.same))
    return 0


def evidence(arguments: Namespace, console: Console) -> int:
    """Earlier records in: all of the file or nothing."""
    rows = _rows(console, arguments.file, EVIDENCE_COLUMNS)
    with console.desk() as desk, bar() as told:
        done = importing.import_evidence(desk, rows, told)
    console.remark(arguments.file, done.remarks)
    console.say("cli.evidence-done", written=done.written, same=done.same)
    return 0


def _rows(console: Console, file: Path, columns: ColumnSet) -> tuple[TableRow, ...]:
    """The file's rows; columns that nobody asked for are named on stderr."""
    table = read_table(read_file(console, file), columns)
    known = ", ".join(columns.names)
    console.warn(
        console.words.say("import.ignored", file=file.name, column=name, known=known) for name in table.ignored
    )
    return table.rows
