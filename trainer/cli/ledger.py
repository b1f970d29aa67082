"""The ledger itself: ``void`` and ``verify``."""

from __future__ import annotations

from argparse import Namespace
from contextlib import closing

from trainer.actions import voiding
from trainer.actions.opening import open_site
from trainer.cli.console import Console

__all__ = ["verify", "void"]


def void(arguments: Namespace, console: Console) -> int:
    """Take a record out, on every date."""
    with console.desk() as desk:
        written = voiding.void(desk, arguments.record_id, arguments.reason)
    console.say("cli.void-done", record=arguments.record_id, void=written.record_id)
    return 0


def verify(arguments: Namespace, console: Console) -> int:  # noqa: ARG001 - one signature a command
    """Work chains and evidence out again; each thing that does not fit is one line on stderr, and exit code 1.

    Neither content nor site figures are read: a damaged record of either must be named, not stumbled over.
    """
    with closing(open_site(console.settings)) as store:
        faults = store.verify()
        heads = store.heads()
    for fault in faults:
        said = {"site": fault.site, "seq": fault.seq, "record_id": fault.record_id}
        what = console.words.say(f"verify.{fault.code}", **said)
        console.warn([console.words.say("cli.fault", what=what, record=fault.record_id)])
    if faults:
        return 1
    for head in heads:
        console.say("cli.verify-done", site=head.site, seq=head.seq, hash=head.hash)
    return 0
