"""What content names and the folder lacks: warnings for commands, which need only standings; errors for ``serve``."""

from __future__ import annotations

from collections.abc import Iterator

from trainer.core.catalogue import Competency
from trainer.curriculum.loaded import COMPETENCIES, Loaded, bank_file, checklist_file, lesson_file
from trainer.errors import Problem

__all__ = ["missing"]


def missing(loaded: Loaded) -> list[Problem]:
    """Each bank, checklist and lesson that is named and not there."""
    named = [problem for each in loaded.competencies for problem in _of_competency(loaded, each)]
    return [*named, *_lessons(loaded)]


def _of_competency(loaded: Loaded, competency: Competency) -> Iterator[Problem]:
    knowledge, practical = competency.needs.knowledge, competency.needs.practical
    if knowledge is not None and not loaded.knows_bank(knowledge.quiz):
        path = (competency.id, "needs", "knowledge", "quiz")
        yield _absent(loaded, COMPETENCIES, path, "bank", knowledge.quiz, bank_file(knowledge.quiz))
    if practical is not None and not loaded.knows_checklist(practical.checklist):
        path = (competency.id, "needs", "practical", "checklist")
        yield _absent(loaded, COMPETENCIES, path, "checklist", practical.checklist, checklist_file(practical.checklist))


def _lessons(loaded: Loaded) -> Iterator[Problem]:
    for bank in loaded.banks.values():
        if bank.lesson and not loaded.knows_lesson(bank.lesson):
            yield _absent(loaded, bank_file(bank.id), ("lesson",), "lesson", bank.lesson, lesson_file(bank.lesson))


def _absent(loaded: Loaded, file: str, path: tuple[str, ...], kind: str, name: str, wanted: str) -> Problem:
    return loaded.problem(file, path, f'there is no {kind} "{name}"', f"write {wanted}", warning=True)
