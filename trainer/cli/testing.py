"""``test``: everything that a change must pass, all of it even after a failure, and one summary."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from argparse import Namespace
from collections.abc import Sequence

from trainer.cli.browsers import can_install, find_browser, find_nginx, find_pdftotext, has_postgresql, install, lacking
from trainer.cli.console import Console

__all__ = ["test"]

_LINT_IMPORTS = "import sys; from importlinter.cli import lint_imports_command; sys.exit(lint_imports_command())"

# Each file of tests runs in one of several processes: a file's tests share a server or a made-up rig.
_AT_ONCE = ("-n", "auto", "--maxprocesses", "4", "--dist", "loadfile")

STEPS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("ruff", ("-m", "ruff", "check", ".")),
    ("mypy", ("-m", "mypy", "--strict", "trainer")),
    ("imports", ("-c", _LINT_IMPORTS)),
    ("check", ("-m", "trainer", "check")),
    ("pytest", ("-m", "pytest", *_AT_ONCE, "--durations=20")),
)
"""Each step with what this Python is started with; in this order, all of them."""


def test(arguments: Namespace, console: Console) -> int:  # noqa: ARG001 - one signature a command
    """Run every step; 0 only when each of them passed."""
    browser = _browser(console)
    environment = {name: value for name, value in os.environ.items() if not name.startswith("TRAINER_")}
    if browser:
        environment["TRAINER_BROWSER"] = browser
    lines, failed = [], not browser
    for step, command in STEPS:
        without_browser = ("-m", "not browser") if step == "pytest" and not browser else ()
        began = time.monotonic()
        is_good = _run(step, (*command, *without_browser), console, environment)
        verdict = "cli.step-passed" if is_good else "cli.step-failed"
        lines.append(console.words.say(verdict, step=step, seconds=f"{time.monotonic() - began:.1f}"))
        failed = failed or not is_good
    print("", *lines, sep="\n", flush=True)
    if not browser:
        console.warn([console.words.say("cli.no-browser")])
    if find_pdftotext() is None:
        console.warn([console.words.say("cli.no-pdftotext")])
    if not has_postgresql():
        console.warn([console.words.say("cli.no-postgresql")])
    if find_nginx() is None:
        console.warn([console.words.say("cli.no-nginx")])
    return 1 if failed else 0


def _browser(console: Console) -> str:
    """The browser for the browser tests, it and all else installed where that can be done; empty without any."""
    packages = lacking()
    if packages and can_install():
        console.say("cli.tools-install", packages=", ".join(packages))
        sys.stdout.flush()
        install(packages)
    return str(find_browser() or "")


def _run(step: str, command: Sequence[str], console: Console, environment: dict[str, str]) -> bool:
    console.say("cli.step", step=step)
    sys.stdout.flush()
    done = subprocess.run([sys.executable, *command], cwd=console.settings.app_root, env=environment, check=False)
    return done.returncode == 0
