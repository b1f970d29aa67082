"""A site's beginning and running: ``init``, ``serve``, ``pin``, ``check``."""

from __future__ import annotations

import sys
from argparse import Namespace
from getpass import getpass

from trainer.actions import setup, signing_in
from trainer.actions.opening import new_id, open_site
from trainer.cli import check as content_check
from trainer.cli.console import Console, shown
from trainer.errors import BadInput, StoreExists, StoreMissing

__all__ = ["check", "init", "pin", "serve"]


def init(arguments: Namespace, console: Console) -> int:
    """Set up a new, empty site; nothing is left behind where that fails."""
    setup.require_site(arguments.site, arguments.tz)
    _require_none(console)
    content = console.content
    typed = _new_pin(console)
    setup.init(
        console.settings,
        arguments.site,
        arguments.tz,
        arguments.name,
        typed,
        console.now,
        new_id,
        content.site_data,
    )
    console.warn(shown(content.problems))
    console.say("cli.init-done", site=arguments.site, folder=console.settings.data, hand=setup.COORDINATOR_ID)
    return 0


def _require_none(console: Console) -> None:
    """Raise ``StoreExists`` before anybody is asked for a PIN."""
    try:
        open_site(console.settings).close()
    except StoreMissing:
        return
    raise StoreExists("store-exists", folder=str(console.settings.data))


def _new_pin(console: Console) -> str:
    """The PIN: typed twice on a terminal, else the first line of standard input."""
    if not sys.stdin.isatty():
        return sys.stdin.readline().strip()
    first = getpass(console.words.say("cli.pin-first"))
    if first != getpass(console.words.say("cli.pin-again")):
        raise BadInput("pin-not-same")
    return first


def serve(arguments: Namespace, console: Console) -> int:
    """Run the app until it is stopped; content that lacks anything keeps it from starting."""
    # Only here: the screens take a second to import, which no other command should wait for.
    from trainer.web.serving import serve as run

    return run(console.settings, arguments.port, arguments.address, arguments.host)


def pin(arguments: Namespace, console: Console) -> int:
    """Print a one-use code for a hand."""
    with console.desk() as desk:
        print(signing_in.new_code(desk, arguments.hand))
    return 0


def check(arguments: Namespace, console: Console) -> int:
    """Tell every problem in content, quizzes, words and drawings."""
    if arguments.schemas:
        return content_check.write_schemas(console.settings)
    return (content_check.keep_watching if arguments.watch else content_check.run)(arguments.path, console.settings)
