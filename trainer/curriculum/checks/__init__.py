"""Checks on content: each is ``(loaded) -> list[Problem]``, and all of them stand in ``CHECKS``.

``catalogue`` holds those without which no standing can be decided (every command runs them) and ``missing`` the files
that are named and not there; the rest judge lessons, banks, checklists and pictures before anybody is taught or
tested with them. Imports the core and what was loaded, reads no files. Start at ``CHECKS``.
"""

from __future__ import annotations

from trainer.curriculum.checks.banks import blueprints, drawable, references, single_items, tailgates
from trainer.curriculum.checks.catalogue import no_such_positions
from trainer.curriculum.checks.checklists import covered, ranges, steps
from trainer.curriculum.checks.crew_figures import crew_figures
from trainer.curriculum.checks.fairness import near_duplicates, pass_curves, unfair
from trainer.curriculum.checks.family import Check
from trainer.curriculum.checks.figures import bound_figures, drawn_figures
from trainer.curriculum.checks.glossary import own_words
from trainer.curriculum.checks.ids import ids_twice, plain_ids
from trainer.curriculum.checks.lessons import flow, length, makeup
from trainer.curriculum.checks.paper import known_paper
from trainer.curriculum.checks.pictures import unknown_pictures
from trainer.curriculum.checks.plain_words import hard_to_read
from trainer.curriculum.checks.procedures import own_procedures
from trainer.curriculum.checks.reading import lasting, too_few_drawings
from trainer.curriculum.checks.rig import rig_figures
from trainer.curriculum.checks.site_limits import out_of_bounds
from trainer.curriculum.checks.tasks import answerable
from trainer.curriculum.checks.telling import telling_keys, telling_words
from trainer.curriculum.checks.translations import same_as_english, untranslated, without_language
from trainer.curriculum.checks.unread import unread_files

__all__ = ["CHECKS", "Check", "pass_curves"]

CHECKS: tuple[Check, ...] = (
    unread_files,
    ids_twice,
    plain_ids,
    no_such_positions,
    answerable,
    flow,
    makeup,
    length,
    drawn_figures,
    bound_figures,
    references,
    blueprints,
    single_items,
    drawable,
    tailgates,
    unfair,
    telling_keys,
    telling_words,
    near_duplicates,
    steps,
    ranges,
    covered,
    unknown_pictures,
    rig_figures,
    too_few_drawings,
    lasting,
    hard_to_read,
    crew_figures,
    out_of_bounds,
    known_paper,
    own_procedures,
    own_words,
    untranslated,
    without_language,
    same_as_english,
)
"""The checks beyond those that loading itself runs."""
