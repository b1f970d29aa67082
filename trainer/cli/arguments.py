"""The commands and their arguments as one table, and the parser made from it; standard library only."""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import NoReturn

__all__ = ["COMMANDS", "Argument", "Command", "parser"]

PROGRAM = "python3 -m trainer"


@dataclass(frozen=True, slots=True)
class Argument:
    """One argument as ``argparse`` takes it: its name or flag, and the rest."""

    name: str
    options: Mapping[str, object]


@dataclass(frozen=True, slots=True)
class Command:
    """One command: ``run`` is ``module:function`` below ``trainer.cli``, called with (arguments, console)."""

    name: str
    run: str
    help: str
    arguments: tuple[Argument, ...] = ()


def _day(text: str) -> date:
    if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
        raise ValueError
    return date.fromisoformat(text)


# argparse names a type by its function when a value does not fit it.
_day.__name__ = "day, written YYYY-MM-DD,"


def _argument(name: str, help: str, **options: object) -> Argument:
    return Argument(name, {"help": help, **options})


def _out(*formats: str) -> tuple[Argument, ...]:
    return (
        _argument("--format", "what to write", choices=formats, required=True),
        _argument("--out", "where to; - is standard output", required=True, metavar="FILE"),
    )


_TABLE = _argument("file", "CSV or XLSX", type=Path)

COMMANDS: tuple[Command, ...] = (
    Command(
        "demo",
        "demo:demo",
        "run the app on a made-up rig, PINs shown",
        (
            _argument("--port", "where to listen (8501)", type=int, default=8501),
            _argument("--build-only", "lay the rig out and stop", action="store_true"),
        ),
    ),
    Command(
        "init",
        "site:init",
        "set up a new, empty site in the data folder",
        (
            _argument("--site", "the site's id: letters, digits, - and _", required=True, metavar="ID"),
            _argument("--tz", "its time zone, e.g. America/Chicago", required=True, metavar="ZONE"),
            _argument("--name", "the coordinator's name", default="", metavar="NAME"),
        ),
    ),
    Command(
        "serve",
        "site:serve",
        "run the app on this site's own data",
        (
            _argument("--port", "where to listen (8501)", type=int, default=8501),
            _argument("--address", "whom to listen to; this computer only unless you say so", default="127.0.0.1"),
            _argument("--host", "a name that browsers ask for: a proxy's", action="append", default=[], metavar="NAME"),
        ),
    ),
    Command(
        "site",
        "siting:site",
        "write the site's own figures to a file, or take changed ones in",
        (
            _argument("--export", "write the figures in force; - is standard output", metavar="FILE", dest="out"),
            _argument("--import", "take these in: in force for every date", type=Path, metavar="FILE", dest="given"),
            _argument("--try", "with --import: only say what would change", action="store_true", dest="try_only"),
        ),
    ),
    Command("pin", "site:pin", "print a one-use code with which a hand sets a PIN", (_argument("hand", "hand_id"),)),
    Command("roster", "importing:roster", "take people in from a file", (_TABLE,)),
    Command("evidence", "importing:evidence", "take earlier records in", (_TABLE,)),
    Command(
        "matrix",
        "exporting:matrix",
        "write who stands how in what",
        (
            _argument("--as-of", "on which day (today)", type=_day, metavar="DAY"),
            *_out("csv", "json", "xlsx", "pdf"),
        ),
    ),
    Command("records", "exporting:records", "write every record", _out("csv", "json", "xlsx")),
    Command(
        "void",
        "ledger:void",
        "take a record out, on every date",
        (
            _argument("record_id", "the record's id", metavar="RECORD_ID"),
            _argument("--reason", "why", required=True),
        ),
    ),
    Command(
        "erase",
        "ledger:erase",
        "take a person's name and texts out for good; the records stay",
        (
            _argument("hand", "hand_id"),
            _argument("--reason", "why, without any name: it stays in the records", required=True),
        ),
    ),
    Command(
        "restrict",
        "ledger:restrict",
        "keep a person's records, but show the name to the office only",
        (
            _argument("hand", "hand_id"),
            _argument("--reason", "why, without any name: it stays in the records", required=True),
        ),
    ),
    Command(
        "bundle",
        "ledger:bundle",
        "write all records, heads and names to one signed file for another site",
        (_argument("out", "where to", type=Path, metavar="OUT"),),
    ),
    Command(
        "merge",
        "ledger:merge",
        "take another site's bundle in",
        (_argument("given", "a bundle", type=Path, metavar="IN"),),
    ),
    Command(
        "verify",
        "ledger:verify",
        "work chains and evidence out again",
        (_argument("--head", "the end of the records as an export printed it", metavar="SITE:NUMBER:HASH"),),
    ),
    Command(
        "backup",
        "ledger:backup",
        "write everything, keys too, to one file, while the app runs or not",
        (_argument("out", "where to, on another disk", type=Path, metavar="OUT"),),
    ),
    Command(
        "restore",
        "ledger:restore",
        "make the site that a backup holds, where none is yet",
        (_argument("given", "a backup", type=Path, metavar="IN"),),
    ),
    Command(
        "check",
        "site:check",
        "find every problem in content and quizzes",
        (
            _argument("path", "a content folder or a file of it", nargs="?", type=Path),
            _argument("--watch", "again at every change, until you stop it", action="store_true"),
            _argument("--schemas", "write the schemas by which editors know the files", action="store_true"),
        ),
    ),
    Command("test", "testing:test", "everything that a change must pass"),
    Command(
        "bench",
        "bench:bench",
        "how quick it is, against a baseline of the same run",
        (_argument("--full", "at full size, and every fault that the store must get over", action="store_true"),),
    ),
)
"""Every command, in the order of the help."""


class _Parser(argparse.ArgumentParser):
    """A parser that says what is wrong in one line."""

    def error(self, message: str) -> NoReturn:
        """Exit with 2 after one line on stderr."""
        print(f"{self.prog}: {message} - see {self.prog} --help", file=sys.stderr)
        sys.exit(2)


def parser() -> argparse.ArgumentParser:
    """The parser of the whole command line; ``command`` in its result is the ``Command``."""
    whole = _Parser(
        prog=PROGRAM, allow_abbrev=False, description="Trains a crew to work rotary slips by hand, and keeps the proof."
    )
    _add_data(whole)
    below = whole.add_subparsers(metavar="COMMAND", required=True)
    for command in COMMANDS:
        one = below.add_parser(command.name, allow_abbrev=False, help=command.help, description=command.help)
        _add_data(one)
        for argument in command.arguments:
            one.add_argument(argument.name, **argument.options)  # type: ignore[arg-type]
        one.set_defaults(command=command)
    return whole


def _add_data(one: argparse.ArgumentParser) -> None:
    # Suppressed, because a default of the command's own parser would undo what stood before the command.
    where = "the site's data folder (TRAINER_DATA, else the user's data folder)"
    one.add_argument("--data", type=Path, metavar="DIR", help=where, default=argparse.SUPPRESS)
