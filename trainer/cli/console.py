"""What every command is given, and how its errors become lines on stderr."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from pathlib import Path

from trainer import clock, curriculum, settings, words
from trainer.actions.desk import Desk, console
from trainer.actions.opening import new_id, open_desk
from trainer.core.catalogue import Catalogue
from trainer.core.records import SiteFigures
from trainer.errors import BadCell, BadContent, BadInput, BadTable, Problem, TrainerError

__all__ = ["Console", "UsageError", "read_file", "run", "write_out"]

_WRONG_USAGE = ("site-id", "time-zone", "bad-now")
"""Errors of input that stood on the command line or in the environment."""


class UsageError(Exception):
    """An argument that cannot be used, in one line: exit code 2."""


@dataclass(frozen=True)
class Console:
    """One run of a command: where things are and the moment, read once."""

    settings: settings.Settings
    now: datetime

    @cached_property
    def words(self) -> words.Words:
        """The English words: what the command line says is English."""
        return words.load(self.settings.root, self.settings.app_root)["en"]

    @cached_property
    def content(self) -> curriculum.Loaded:
        """Everything in content/ and quizzes/. Raises ``BadContent`` when no standing can be decided from it."""
        loaded = curriculum.load(self.settings.root, self.settings.app_root)
        curriculum.refuse_problems(loaded, serving=False)
        return loaded

    @contextmanager
    def desk(self) -> Iterator[Desk]:
        """The desk of the console on this site's store, closed at the end."""

        def catalogue(figures: SiteFigures) -> Catalogue:
            return curriculum.catalogue(self.content, curriculum.site_from(figures.site))

        desk = open_desk(self.settings, catalogue, console(), self.now, new_id)
        try:
            yield desk
        finally:
            desk.store.close()

    def say(self, key: str, **values: object) -> None:
        """Print the sentence under ``key`` as a result."""
        print(self.words.say(key, **values))

    def warn(self, lines: Iterable[str]) -> None:
        """Print ``lines`` on stderr."""
        for line in lines:
            print(line, file=sys.stderr)

    def remark(self, file: Path, cells: Iterable[BadCell]) -> None:
        """Print what to look at again in ``file``; it stops nothing."""
        self.warn(self.words.say("import.remark", line=self._cell(file, cell)) for cell in cells)

    def tell(self, error: TrainerError, file: Path | None) -> None:
        """Print ``error`` on stderr, one line a problem; ``file`` is the table that was read, if any."""
        match error:
            case BadTable(cells=cells):
                self.warn(self._cell(file or Path("-"), cell) for cell in cells)
                self.warn([self.words.error(error)])
            case BadContent(problems=problems):
                self.warn(shown(problems))
            case _:
                self.warn([self.words.error(error)])

    def _cell(self, file: Path, cell: BadCell) -> str:
        why = self.words.say(f"import.{cell.code}", **{"value": cell.value, **dict(cell.values)})
        return self.words.say("import.cell", file=file.name, row=cell.row, column=cell.column, why=why)


def run(command: Callable[[Namespace, Console], int], arguments: Namespace) -> int:
    """The exit code of ``command``, every error told."""
    here = settings.read(getattr(arguments, "data", None))
    try:
        console = Console(here, clock.now())
    except TrainerError as error:
        Console(here, datetime.min).tell(error, None)  # noqa: DTZ901 - no moment is known
        return 2
    try:
        return command(arguments, console)
    except UsageError as error:
        console.warn([str(error)])
        return 2
    except TrainerError as error:
        console.tell(error, getattr(arguments, "file", None))
        return 2 if isinstance(error, BadInput) and error.code in _WRONG_USAGE else 1
    except BrokenPipeError:
        # Whoever read the result has seen enough of it; nothing more can be said to them.
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123, SIM115
        return 1
    except KeyboardInterrupt:
        return 130


def shown(problems: Iterable[Problem]) -> Iterator[str]:
    """Content problems as lines."""
    return (f"warning: {each}" if each.is_warning else str(each) for each in problems)


def read_file(console: Console, path: Path) -> bytes:
    """What ``path`` holds; raises ``UsageError`` when it cannot be read."""
    try:
        return path.read_bytes()
    except OSError as error:
        raise UsageError(console.words.say("cli.no-file", file=path, why=error.strerror)) from None


def write_out(console: Console, out: str, data: bytes) -> None:
    """Write ``data`` to the file ``out``, whole or not at all, or to stdout for ``-``; raises ``UsageError``."""
    if out == "-":
        sys.stdout.flush()
        sys.stdout.buffer.write(data)
        sys.stdout.buffer.flush()
        return
    path = Path(out).resolve()
    # Only a plain file is put in place whole: a device or a pipe is written to, never replaced.
    part = path.with_name(f"{path.name}.part") if path.is_file() or not path.exists() else path
    try:
        part.write_bytes(data)
        if part != path:
            part.replace(path)
    except OSError as error:
        if part != path:
            part.unlink(missing_ok=True)
        raise UsageError(console.words.say("cli.no-out", file=out, why=error.strerror)) from None
