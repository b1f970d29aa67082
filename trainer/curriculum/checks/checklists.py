"""Rules on checklists: each step belongs to a competency, and each practical part has a sheet that covers it."""

from __future__ import annotations

from trainer.curriculum.loaded import COMPETENCIES, Loaded, checklist_file
from trainer.errors import Problem

__all__ = ["covered", "steps"]


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
