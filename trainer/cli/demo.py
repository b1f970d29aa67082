"""``demo``: the app on a made-up rig, from the same state every time, on loopback."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from dataclasses import replace

from trainer.cli.console import Console
from trainer.errors import BadContent

__all__ = ["demo"]

FOLDER = "demo"
"""The made-up rig's own folder inside the data folder, so that a site of yours is never touched."""


def demo(arguments: Namespace, console: Console) -> int:
    """Lay a fresh made-up rig and run the app on it; ``--build-only`` stops before the app."""
    from trainer.demo import fresh, load

    # Never a shared database: what is done on the made-up rig is thrown away.
    settings = replace(console.settings, data=console.settings.data / FOLDER, database_url=None)
    settings.data.mkdir(parents=True, exist_ok=True)
    console.say("cli.demo-begin")
    sys.stdout.flush()
    try:
        fresh(settings, console.now, _Progress(console).tell)
    except BadContent as error:
        console.tell(error, None)
        console.warn(["Nothing was started: mend these lines first."])
        return 1
    pin = load().pin
    console.say("cli.demo-ready", folder=settings.data, pin=pin)
    if arguments.build_only:
        return 0
    from trainer.web.serving import serve

    os.environ.pop("TRAINER_DATABASE_URL", None)
    os.environ["TRAINER_DEMO_PIN"] = pin
    return serve(settings, arguments.port, "127.0.0.1")


class _Progress:
    """Says how far the building is, a line for each tenth: a log reads as well as a terminal."""

    def __init__(self, console: Console) -> None:
        self._console = console
        self._said = 0

    def tell(self, done: int, of: int) -> None:
        """Say so when another tenth is done."""
        tenths = done * 10 // of
        if tenths > self._said:
            self._said = tenths
            self._console.say("cli.demo-progress", percent=tenths * 10)
            sys.stdout.flush()
