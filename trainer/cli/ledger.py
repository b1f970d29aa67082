"""The ledger itself: ``void``, ``erase``, ``restrict``, ``bundle``, ``merge``, ``verify``, ``backup``, ``restore``."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterable
from contextlib import closing

from trainer.actions import erasing, keeping, voiding
from trainer.actions.opening import Head, open_site
from trainer.cli.console import Console, UsageError, read_file, write_out

__all__ = ["backup", "bundle", "erase", "merge", "restore", "restrict", "verify", "void"]

_SHORTEST_HASH = 8


def void(arguments: Namespace, console: Console) -> int:
    """Take a record out, on every date."""
    with console.desk() as desk:
        written = voiding.void(desk, arguments.record_id, arguments.reason)
    console.say("cli.void-done", record=arguments.record_id, void=written.record_id)
    return 0


def erase(arguments: Namespace, console: Console) -> int:
    """Take a person's name and texts out for good."""
    with console.desk() as desk:
        erasing.erase(desk, arguments.hand, arguments.reason)
    console.say("cli.erase-done", hand=arguments.hand)
    return 0


def restrict(arguments: Namespace, console: Console) -> int:
    """Show a person's name to the office only."""
    with console.desk() as desk:
        erasing.restrict(desk, arguments.hand, arguments.reason)
    console.say("cli.restrict-done", hand=arguments.hand)
    return 0


def bundle(arguments: Namespace, console: Console) -> int:
    """Write a bundle for another site."""
    with console.desk() as desk:
        data, heads = keeping.bundle(desk), desk.store.heads()
    write_out(console, str(arguments.out), data)
    console.say("cli.bundle-done", file=arguments.out, records=sum(head.seq for head in heads), sites=len(heads))
    return 0


def merge(arguments: Namespace, console: Console) -> int:
    """Take a bundle in; 1 where a chain in it was left out, each named on stderr."""
    data = read_file(console, arguments.given)
    with console.desk() as desk:
        merged = keeping.merge(desk, data)
    for site, count in merged.written.items():
        console.say("cli.merge-site", site=site, count=count)
    console.say("cli.merge-done", records=sum(merged.written.values()), names=merged.names, doubtful=merged.doubtful)
    told = (console.words.say(f"cli.merge-{left.why}", site=left.site, seq=left.seq) for left in merged.left)
    console.warn(told)
    return 1 if merged.left else 0


def verify(arguments: Namespace, console: Console) -> int:
    """Work chains and evidence out again; each thing that does not fit is one line on stderr, and exit code 1.

    Neither content nor site figures are read: a damaged record of either must be named, not stumbled over.
    """
    wanted = _head(arguments.head) if arguments.head else None
    with closing(open_site(console.settings)) as store:
        faults = store.verify()
        heads, doubted = store.heads(), len(store.doubtful())
        is_there = wanted is None or _holds(store.hashes(wanted[0], wanted[1]), wanted[2])
    for fault in faults:
        said = {"site": fault.site, "seq": fault.seq, "record_id": fault.record_id}
        what = console.words.say(f"verify.{fault.code}", **said)
        console.warn([console.words.say("cli.fault", what=what, record=fault.record_id) if fault.record_id else what])
    if wanted and not is_there:
        console.warn([console.words.say("verify.no-such-head", site=wanted[0], seq=wanted[1], hash=wanted[2])])
    if faults or not is_there:
        return 1
    _tell(console, heads)
    if doubted:
        console.say("cli.clocks-doubted", count=doubted)
    return 0


def _head(written: str) -> tuple[str, int, str]:
    """Site, number and the first letters of the hash. Raises ``UsageError``."""
    site, _, rest = written.partition(":")
    seq, _, letters = rest.partition(":")
    if not site or not seq.isdigit() or len(letters) < _SHORTEST_HASH:
        raise UsageError(f"--head: {written!r} is not SITE:NUMBER:HASH with {_SHORTEST_HASH} letters of it or more")
    return site, int(seq), letters.lower()


def _holds(hashes: Iterable[str], start: str) -> bool:
    return any(each.startswith(start) for each in hashes)


def _tell(console: Console, heads: Iterable[Head]) -> None:
    for head in heads:
        console.say("cli.verify-done", site=head.site, seq=head.seq, hash=head.hash)


def backup(arguments: Namespace, console: Console) -> int:
    """Write a backup."""
    with console.desk() as desk:
        keeping.back_up(desk, console.settings, arguments.out)
    console.say("cli.backup-done", file=arguments.out)
    return 0


def restore(arguments: Namespace, console: Console) -> int:
    """Make the site that a backup holds."""
    if not arguments.given.is_file():
        raise UsageError(f"{arguments.given}: there is no such file")
    keeping.restore(console.settings, arguments.given)
    console.say("cli.restore-done", folder=console.settings.data)
    return 0
