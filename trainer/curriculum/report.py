"""Collects the problems of one file while it is read."""

from __future__ import annotations

from dataclasses import dataclass, field

from trainer.curriculum.nodes import Node, Path, locate, spelled
from trainer.errors import Problem

__all__ = ["Report", "one_line"]


@dataclass(slots=True)
class Report:
    """The problems of ``file`` found so far; ``root`` gives each its line."""

    file: str
    root: Node | None = None
    problems: list[Problem] = field(default_factory=list)

    def add(self, path: Path, what: str, todo: str, *, line: int | None = None, warning: bool = False) -> None:
        """Notes one problem at ``path``; ``line`` overrides the line looked up for it."""
        if line is None:
            line = locate(self.root, path) if self.root is not None else 1
        where = spelled(self.root, path)
        # A key or value may hold a line break, and a problem is one line.
        self.problems.append(Problem(self.file, line, one_line(where), one_line(what), one_line(todo), warning))

    @property
    def has_errors(self) -> bool:
        """Whether anything worse than a warning was found."""
        return any(not each.is_warning for each in self.problems)


def one_line(text: str) -> str:
    """``text`` with each run of spaces and line breaks as one space."""
    return " ".join(text.split())
