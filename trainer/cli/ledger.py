"""The ledger itself: ``void`` and ``verify``."""

from __future__ import annotations

from argparse import Namespace

from trainer.actions import look, voiding
from trainer.cli.console import Console

__all__ = ["verify", "void"]


def void(arguments: Namespace, console: Console) -> int:
    """Take a record out, on every date."""
    with console.desk() as desk:
        written = voiding.void(desk, arguments.record_id, arguments.reason)
    console.say("cli.void-done", record=arguments.record_id, void=written.record_id)
    return 0


def verify(arguments: Namespace, console: Console) -> int:  # noqa: ARG001 - one signature a command
    """Work chains and evidence out again; each thing that does not fit is one line on stderr, and exit code 1."""
    with console.desk() as desk:
        faults = look.verify(desk)
        heads = look.heads(desk)
    for fault in faults:
        said = {"site": fault.site, "seq": fault.seq, "record_id": fault.record_id}
        what = console.words.say(f"verify.{fault.code}", **said)
        console.warn([console.words.say("cli.fault", what=what, record=fault.record_id)])
    if faults:
        return 1
    for head in heads:
        console.say("cli.verify-done", site=head.site, seq=head.seq, hash=head.hash)
    return 0
