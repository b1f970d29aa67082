"""Reports out: ``matrix`` and ``records``."""

from __future__ import annotations

from argparse import Namespace

import trainer
from trainer.actions import keeping, look
from trainer.actions.desk import Desk
from trainer.cli.console import Console, write_out
from trainer.export import MATRIX_FORMATS, RECORD_FORMATS, LedgerHead, MatrixReport, RecordsReport, titles_of

__all__ = ["matrix", "records"]


def matrix(arguments: Namespace, console: Console) -> int:
    """Write the matrix on a day."""
    with console.desk() as desk:
        found = look.matrix(desk, arguments.as_of)
        report = MatrixReport(
            site=desk.store.site,
            as_of=found.as_of,
            cells=tuple(found.cells()),
            names=look.names(desk),
            heads=_heads(desk),
            version=trainer.VERSION,
            titles=titles_of(desk.catalogue, console.words),
            zone=desk.store.tz,
        )
    render = dict(MATRIX_FORMATS)[arguments.format]
    write_out(console, arguments.out, render(report, console.words, console.now))
    return 0


def records(arguments: Namespace, console: Console) -> int:
    """Write every record."""
    with console.desk() as desk:
        report = RecordsReport(desk.store.site, look.records(desk), _heads(desk), trainer.VERSION)
        data = dict(RECORD_FORMATS)[arguments.format](report, console.words, console.now)
    write_out(console, arguments.out, data)
    return 0


def _heads(desk: Desk) -> tuple[LedgerHead, ...]:
    keeping.seal(desk)
    return tuple(LedgerHead(head.site, head.seq, head.hash, head.at) for head in look.heads(desk))
