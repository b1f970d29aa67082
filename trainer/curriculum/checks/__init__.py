"""Checks on content: each is ``(loaded) -> list[Problem]``, and all of them stand in ``CHECKS``.

``catalogue`` holds those without which no standing can be decided (every command runs them) and ``missing`` the files
that are named and not there; the rest judge lessons, banks, checklists and pictures before anybody is taught or
tested with them. Imports the core and what was loaded, reads no files. Start at ``CHECKS``.
"""

from __future__ import annotations

from trainer.curriculum.checks.banks import blueprints, drawable, references, tailgates
from trainer.curriculum.checks.checklists import covered, steps
from trainer.curriculum.checks.fairness import near_duplicates, pass_curves, telling_keys, unfair
from trainer.curriculum.checks.family import Check
from trainer.curriculum.checks.lessons import flow, makeup
from trainer.curriculum.checks.pictures import unknown_pictures
from trainer.curriculum.checks.tasks import answerable
from trainer.curriculum.checks.translations import untranslated

__all__ = ["CHECKS", "Check", "pass_curves"]

CHECKS: tuple[Check, ...] = (
    answerable,
    flow,
    makeup,
    references,
    blueprints,
    drawable,
    tailgates,
    unfair,
    telling_keys,
    near_duplicates,
    steps,
    covered,
    unknown_pictures,
    untranslated,
)
"""The checks beyond those that loading itself runs."""
