"""Rules on the procedures that a site names as its own."""

from __future__ import annotations

from difflib import get_close_matches

from trainer.curriculum.loaded import COMPETENCIES, SITE, Loaded
from trainer.errors import Problem

__all__ = ["own_procedures"]


def own_procedures(loaded: Loaded) -> list[Problem]:
    """A procedure of the site for what is no competency: nobody would ever be shown it."""
    if loaded.site is None:
        return []
    return [
        loaded.problem(SITE, ("procedures", name), f'there is no competency "{name}"', _todo(loaded, name))
        for name in loaded.site.procedures
        if not loaded.knows_competency(name)
    ]


def _todo(loaded: Loaded, name: str) -> str:
    known = [each.id for each in loaded.competencies]
    near = get_close_matches(name, known, n=1, cutoff=0.6)
    return f'did you mean "{near[0]}"?' if near else f"write one of {COMPETENCIES}: {', '.join(known)}"
