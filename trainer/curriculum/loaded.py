"""What a content folder holds once it is read, good or bad."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path as File

from trainer.core.banks import Bank
from trainer.core.catalogue import Competency, Site
from trainer.core.checklists import Checklist
from trainer.core.glossary import LanguageTerms
from trainer.core.lessons import Lesson
from trainer.core.marking import Functions
from trainer.core.records import Json
from trainer.curriculum.nodes import Node, Path, locate, origin, spelled
from trainer.curriculum.pictures_text import PictureText
from trainer.curriculum.report import one_line
from trainer.errors import Problem

__all__ = ["COMPETENCIES", "PICTURES", "SITE", "TERMS", "Loaded"]

COMPETENCIES = "content/competencies.yaml"
SITE = "content/site.yaml"
PICTURES = "content/pictures.yaml"
TERMS = "content/terms.yaml"


@dataclass(frozen=True, slots=True)
class Loaded:
    """Content as far as it can be read, and what is wrong with it.

    ``lessons``, ``banks`` and ``checklists`` are by id. ``site`` is the template of content/site.yaml, ``site_data``
    the same as JSON data for the ledger's ``site`` record. ``problems`` are those of reading and of the rules without
    which no standing can be decided; ``missing`` are warnings that ``serve`` takes for errors. ``nodes`` holds each
    file as read, by its name relative to ``root``, ``broken`` the files that could not be used as they are, ``unread``
    those that no part of the program reads. ``terms`` are the words that a site may replace, by language;
    ``functions`` are those that a number to work out may name.
    """

    root: File
    app_root: File
    competencies: tuple[Competency, ...]
    lessons: Mapping[str, Lesson]
    banks: Mapping[str, Bank]
    checklists: Mapping[str, Checklist]
    pictures: Mapping[str, PictureText]
    site: Site | None
    site_data: Mapping[str, Json]
    nodes: Mapping[str, Node]
    broken: frozenset[str]
    unread: tuple[str, ...] = ()
    terms: Mapping[str, LanguageTerms] = field(default_factory=dict)
    functions: Functions = field(default_factory=dict)
    problems: tuple[Problem, ...] = ()
    missing: tuple[Problem, ...] = ()

    def problem(self, file: str, path: Path, what: str, todo: str, *, warning: bool = False) -> Problem:
        """A problem at ``path`` of ``file``, with its line; for a translation beside it, there."""
        root = self.nodes.get(file)
        line = locate(root, path) if root is not None else 1
        beside = origin(root, path) if root is not None else ""
        return Problem(beside or file, line, one_line(spelled(root, path)), one_line(what), todo, warning)

    def knows_competency(self, name: str) -> bool:
        """Whether there is such a competency, or may be one in a file that cannot be used as it is."""
        return COMPETENCIES in self.broken or any(each.id == name for each in self.competencies)

    def knows_lesson(self, name: str) -> bool:
        """Whether there is such a lesson, readable or not."""
        return name in self.lessons or lesson_file(name) in self.broken

    def knows_bank(self, name: str) -> bool:
        """Whether there is such a bank, readable or not."""
        return name in self.banks or bank_file(name) in self.broken

    def knows_checklist(self, name: str) -> bool:
        """Whether there is such a checklist, readable or not."""
        return name in self.checklists or checklist_file(name) in self.broken

    def asset(self, name: str) -> File:
        """The file ``name`` (as ``assets/pictures/slips-above.svg``): the root's own, else the app's."""
        own = self.root / name
        return own if own.exists() else self.app_root / name


def lesson_file(name: str) -> str:
    """Where the lesson called ``name`` stands, relative to the root."""
    return f"content/lessons/{name}.yaml"


def bank_file(name: str) -> str:
    """Where the bank called ``name`` stands, relative to the root."""
    return f"quizzes/{name}.yaml"


def checklist_file(name: str) -> str:
    """Where the checklist called ``name`` stands, relative to the root."""
    return f"content/checklists/{name}.yaml"
