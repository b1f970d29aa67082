"""Every error that a person may see, as one small tree.

::

    TrainerError                 code + values; the sentence stands in content/words under ``error.<code>``
    ├── Refused                  a rule or a role says no
    ├── BadInput                 what was typed, chosen or sent cannot be used
    ├── NotFound                 no such person, record, lesson, quiz ...
    ├── BadTable                 an import with bad rows; carries each bad cell
    ├── BadContent               content or quizzes with problems; carries each problem
    ├── StoreError               the data folder or database
    │   ├── StoreMissing         no site there yet
    │   ├── StoreExists          a site is there already
    │   ├── StoreNewer           written by a newer version of this program
    │   ├── StoreDamaged         chain, evidence or file does not verify
    │   └── StoreUnavailable     full, read-only, locked or out of reach; nothing was lost
    └── MechanicsRangeError      an argument outside a formula's validity

An error carries its data as attributes; the words that a person reads, and what to do next, are put to it at
the edge from ``content/words``, so that each language has its own.
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = [
    "BadCell",
    "BadContent",
    "BadInput",
    "BadTable",
    "MechanicsRangeError",
    "NotFound",
    "Problem",
    "Refused",
    "StoreDamaged",
    "StoreError",
    "StoreExists",
    "StoreMissing",
    "StoreNewer",
    "StoreUnavailable",
    "TrainerError",
]


class TrainerError(Exception):
    """Base of the tree: ``code`` names the sentence in content/words, ``values`` fill its places."""

    def __init__(self, code: str, **values: object) -> None:
        self.code = code
        self.values = values
        shown = ", ".join(f"{name}={value}" for name, value in values.items())
        super().__init__(f"{code} ({shown})" if shown else code)


class Refused(TrainerError):
    """A rule or a role says no; the person can do something else, or ask somebody who may."""


class BadInput(TrainerError):
    """What was typed, chosen or sent cannot be used."""


class NotFound(TrainerError):
    """There is no such person, record, lesson, quiz or form."""


@dataclass(frozen=True, slots=True)
class BadCell:
    """One cell of an imported table that cannot be used.

    ``row`` counts as a spreadsheet does: the header is row 1. ``code`` names the sentence in content/words under
    ``import.<code>``, which says why and what to do; ``values`` fill its places.
    """

    row: int
    column: str
    value: str
    code: str
    values: tuple[tuple[str, str], ...] = ()


class BadTable(TrainerError):
    """An import with bad rows: nothing was written. ``cells`` holds every bad cell in row order."""

    def __init__(self, cells: tuple[BadCell, ...]) -> None:
        self.cells = cells
        super().__init__("bad-table", count=len(cells))


@dataclass(frozen=True, slots=True)
class Problem:
    """One problem in content or quizzes, for the author: ``file:line: where: what - what to do``."""

    file: str
    line: int
    where: str
    what: str
    todo: str
    is_warning: bool = False

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.where}: {self.what} - {self.todo}"


class BadContent(TrainerError):
    """Content or quizzes that cannot be used. ``problems`` holds all of them."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        self.problems = problems
        super().__init__("bad-content", count=len(problems))


class StoreError(TrainerError):
    """Something about the data folder or the database."""


class StoreMissing(StoreError):
    """No site has been set up here yet."""


class StoreExists(StoreError):
    """A site is here already; it is left as it is."""


class StoreNewer(StoreError):
    """The data was written by a newer version of this program."""


class StoreDamaged(StoreError):
    """A chain, an evidence row or a file does not verify."""


class StoreUnavailable(StoreError):
    """The disk is full, the folder read-only, or the database locked or out of reach; nothing was lost."""


class MechanicsRangeError(TrainerError):
    """An argument outside the range in which a formula holds."""

    def __init__(self, argument: str, value: object, allowed: str) -> None:
        self.argument = argument
        self.value = value
        self.allowed = allowed
        super().__init__("mechanics-range", argument=argument, value=value, allowed=allowed)
