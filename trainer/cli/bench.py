"""``bench``: what was measured against a baseline of the same run, as one table; speed alone never fails it."""

from __future__ import annotations

import os
import subprocess
import sys
from argparse import Namespace

from trainer.cli.console import Console

__all__ = ["bench"]

_FAULTS = ("-m", "pytest", "tests/faults", "--full", "-q")


def bench(arguments: Namespace, console: Console) -> int:
    """Measure; with ``--full`` at full size, and with every fault that the store must get over. 1 only for a wrong
    result."""
    sizes = ("--full",) if arguments.full else ()
    good = [_run(console, "-m", "tests.bench.table", *sizes)]
    if arguments.full and (console.settings.app_root / "tests" / "faults").is_dir():
        good.append(_run(console, *_FAULTS))
    return 0 if all(good) else 1


def _run(console: Console, *command: str) -> bool:
    environment = {name: value for name, value in os.environ.items() if not name.startswith("TRAINER_")}
    done = subprocess.run([sys.executable, *command], cwd=console.settings.app_root, env=environment, check=False)  # noqa: S603 - our own
    return done.returncode == 0
