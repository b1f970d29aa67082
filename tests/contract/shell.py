"""The real command line as a subprocess, on content and data of a test's own."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from tests.contract.rule_books import RuleBook

__all__ = ["RECORDS", "Said", "Shell", "start"]

APP = Path(__file__).resolve().parents[2]
RECORDS = ("records", "--format", "json", "--out", "-")
"""The command that prints the whole ledger."""

# The app's own entry behind ``python -m trainer``, which would first set up packages of its own.
ONE = "import sys; from trainer.cli import main; sys.exit(main(sys.argv[1:]))"
# Many command lines in one process, each with its own clock, because starting Python is what takes the time.
MANY = """
import contextlib, io, json, os, sys, traceback
from trainer.cli import main
said = []
for now, words in json.load(sys.stdin):
    os.environ["TRAINER_NOW"] = now
    out, err = (io.TextIOWrapper(io.BytesIO(), "utf-8", newline="") for _ in range(2))
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            code = main(words)
        except SystemExit as left:
            code = left.code
        except Exception:
            traceback.print_exc()
            code = 70
    for each in (out, err):
        each.flush()
    said.append([code or 0, out.buffer.getvalue().decode(), err.buffer.getvalue().decode()])
json.dump(said, sys.stdout)
"""


@dataclass(frozen=True)
class Said:
    """What a command said: exit code, standard output, standard error."""

    code: int
    out: str
    err: str


@dataclass(frozen=True)
class Shell:
    """Runs the command line on one root of content and one data folder."""

    root: Path
    data: Path

    def run(self, now: str, *words: str, typed: str = "") -> Said:
        """What one command line said."""
        return Said(*_process(self.root, [sys.executable, "-c", ONE, "--data", str(self.data), *words], now, typed))

    def run_all(self, commands: Sequence[tuple[str, Sequence[str]]]) -> list[Said]:
        """What each of many command lines said; one that names a data folder of its own keeps it."""
        lines = [(now, [*(() if "--data" in words else ("--data", str(self.data))), *words]) for now, words in commands]
        code, out, err = _process(self.root, [sys.executable, "-c", MANY], "", json.dumps(lines))
        assert code == 0, err
        return [Said(*each) for each in json.loads(out)]

    def copy(self, to: Path) -> Shell:
        """The same on a copy of the data folder."""
        shutil.copytree(self.data, to)
        return Shell(self.root, to)


def _process(root: Path, words: list[str], now: str, typed: str) -> tuple[int, str, str]:
    kept = {name: text for name, text in os.environ.items() if not name.startswith("TRAINER_")}
    surroundings = {**kept, "TRAINER_ROOT": str(root), "TRAINER_NOW": now, "PYTHONPATH": str(APP)}
    done = subprocess.run(
        words, input=typed.encode(), capture_output=True, env=surroundings, cwd=root, timeout=300, check=False
    )
    return done.returncode, done.stdout.decode("utf-8"), done.stderr.decode("utf-8")


def start(folder: Path, book: RuleBook, now: str) -> Shell:
    """A new, empty site made from the book, after its content was checked."""
    shell = Shell(folder / "root", folder / "data")
    book.write(shell.root)
    checked = shell.run(now, "check")
    assert checked.code == 0, checked.err
    made = shell.run(now, "init", "--site", "rig-9", "--tz", book.zone, typed="493817\n")
    assert made.code == 0, made.err
    return shell
