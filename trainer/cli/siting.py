"""The site's own figures out to a file, and changed ones back in: ``site``."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from trainer import curriculum
from trainer.actions import siting
from trainer.actions.opening import new_id
from trainer.actions.siting import Preview
from trainer.cli.console import Console, UsageError, read_file, shown, write_out
from trainer.export import siteyaml
from trainer.tables.decoding import as_utf8

__all__ = ["site"]


def site(arguments: Namespace, console: Console) -> int:
    """Write the figures in force to a file, or take changed ones in: all of the file or nothing."""
    if (arguments.given is None) == (arguments.out is None):
        raise UsageError("site: write either --export FILE or --import FILE")
    if arguments.given is None:
        if arguments.try_only:
            raise UsageError("site: --try goes with --import")
        return _export(str(arguments.out), console)
    return _import(arguments.given, console, try_only=arguments.try_only)


def _export(out: str, console: Console) -> int:
    with console.desk() as desk:
        now = siting.figures(desk)
        data = siteyaml.render(now.data, console.words, console.now, site=desk.store.site, number=now.number)
    write_out(console, out, data)
    return 0


def _import(file: Path, console: Console, *, try_only: bool) -> int:
    text = curriculum.read_site(console.content, as_utf8(read_file(console, file)), file.name)
    console.warn(shown(text.remarks))
    with console.desk() as desk:
        found = siting.preview(desk, text.data, text.catalogue)
        if found.changes and not try_only:
            siting.write(desk, text.data, text.catalogue, based_on=found.based_on, record_id=new_id())
    _tell(found, console)
    console.say("cli.site-same" if not found.changes else "cli.site-tried" if try_only else "cli.site-done")
    return 0 if found.is_ready or not found.changes else 1


def _tell(found: Preview, console: Console) -> None:
    for each in found.changes:
        nothing = console.words.say("cli.site-nothing")
        console.say("cli.site-change", path=".".join(each.path), was=each.was or nothing, now=each.now or nothing)
    if found.changes:
        told = found.standings
        console.say("cli.site-standings", changed=told.changed, new=told.new, gone=told.gone, hands=told.hands)
    for lost in found.lost:
        console.warn([console.words.say(f"cli.site-lost-{lost.what}", name=lost.name, people=lost.people)])
    if not found.keeps_office:
        console.warn([console.words.say("error.site-no-office")])
