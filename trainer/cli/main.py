"""One command: parsed, run, and every error told in one line each, with an exit code."""

from __future__ import annotations

import io
import sys
from collections.abc import Sequence
from importlib import import_module

from trainer.cli.arguments import parser

__all__ = ["main"]


def main(arguments: Sequence[str]) -> int:
    """The exit code: 0, 1 for a problem in data, content or site, 2 for wrong usage."""
    _speak_utf8()
    try:
        parsed = parser().parse_args(arguments)
    except SystemExit as left:
        return int(left.code or 0)
    # Only now: help and a wrong argument are told without anything installed.
    from trainer.cli.console import run

    module, _, function = parsed.command.run.partition(":")
    return run(getattr(import_module(f"trainer.cli.{module}"), function), parsed)


def _speak_utf8() -> None:
    """Windows consoles and pipes would else refuse half of a crew's names."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")
