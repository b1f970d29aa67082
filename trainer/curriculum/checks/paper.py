"""Rules on what the site prints on."""

from __future__ import annotations

from trainer.core.catalogue import PAPER_FIGURE, PAPERS
from trainer.curriculum.loaded import SITE, Loaded
from trainer.errors import Problem

__all__ = ["known_paper"]


def known_paper(loaded: Loaded) -> list[Problem]:
    """A paper that sheets are not laid out for: they would come out on A4 without a word."""
    picked = loaded.site.figures.get(PAPER_FIGURE) if loaded.site else None
    if picked is None or picked in PAPERS:
        return []
    todo = f"write one of {', '.join(PAPERS)}"
    return [loaded.problem(SITE, ("figures", PAPER_FIGURE), f'no sheet is laid out for paper "{picked}"', todo)]
