"""Rules on checklists: each step belongs to a competency, and each practical part has a sheet that covers it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from trainer.core.checklists import Condition
from trainer.curriculum.loaded import COMPETENCIES, Loaded, checklist_file
from trainer.errors import Problem

__all__ = ["covered", "ranges", "steps"]

_PLAIN = re.compile(r"[0-9]+(\.[0-9]+)?")


def steps(loaded: Loaded) -> list[Problem]:
    """Steps of no known competency."""
    return [
        loaded.problem(
            checklist_file(sheet.id),
            ("steps", step.id, "competency"),
            f'there is no competency "{step.competency}"',
            "write one from content/competencies.yaml",
        )
        for sheet in loaded.checklists.values()
        for step in sheet.steps
        if not loaded.knows_competency(step.competency)
    ]


def ranges(loaded: Loaded) -> list[Problem]:
    """Ranges of conditions that no number could lie in, or that stand where no number is asked for."""
    return [
        loaded.problem(checklist_file(sheet.id), ("conditions", condition.id, key), what, todo)
        for sheet in loaded.checklists.values()
        for condition in sheet.conditions
        for key, what, todo in _range(condition)
    ]


def _range(condition: Condition) -> Iterator[tuple[str, str, str]]:
    """Key, what is wrong with it, and what to do."""
    written = {key: end for key, end in (("least", condition.least), ("most", condition.most)) if end}
    wrong = [key for key, end in written.items() if not _PLAIN.fullmatch(end)]
    if written and condition.choices:
        yield next(iter(written)), "a condition with choices has no range", "take out least and most, or the choices"
    elif wrong:
        yield wrong[0], f'"{written[wrong[0]]}" is not a number', "write e.g. 2.375"
    elif len(written) == 1:
        # Whoever typed something else is told both ends.
        yield next(iter(written)), "the other end of the range is missing", "write least and most"
    elif written and Fraction(condition.least) > Fraction(condition.most):
        yield "least", f"no number is {condition.least} or more and {condition.most} or less", "turn them round"


def covered(loaded: Loaded) -> list[Problem]:
    """Practical parts whose checklist has no step for the competency, so that it could never be held."""
    return [
        loaded.problem(
            COMPETENCIES,
            (each.id, "needs", "practical", "checklist"),
            f'checklist "{sheet.id}" has no step for {each.id}',
            f"add steps with competency: {each.id} to {checklist_file(sheet.id)}",
        )
        for each in loaded.competencies
        if each.needs.practical is not None
        and (sheet := loaded.checklists.get(each.needs.practical.checklist)) is not None
        and each.id not in sheet.competencies()
    ]
