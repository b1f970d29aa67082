"""What a hand still lacks, in short lines: quizzes, watches, and what waits for something else."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from trainer.core.matrix import Cell, Rule, Standing
from trainer.core.progress import PartProgress
from trainer.core.records import Part
from trainer.export.titles import Titles
from trainer.export.wording import Says

__all__ = ["Parts", "missing", "watches_left"]

Parts = Mapping[str, Sequence[PartProgress]]
"""The needed parts by competency."""


def missing(cells: Sequence[Cell], parts: Parts, titles: Titles, words: Says) -> tuple[str, ...]:
    """One line a kind, what keeps off the slips first; nothing when all holds."""
    down = [cell for cell in cells if cell.standing is Standing.STOOD_DOWN]
    rest = [cell for cell in cells if cell.standing is not Standing.STOOD_DOWN]
    return (
        *_off(down, titles, words),
        *_quizzes(rest, parts, titles, words),
        *_watches(rest, parts, titles, words),
        *_waiting(rest, titles, words),
    )


def watches_left(part: PartProgress) -> int:
    """How many clean watches it still takes; one for a part that has run out."""
    if part.through is not None:
        return 1
    return max(part.of_watches - part.watches, part.of_watchers - part.watchers, 1)


def _off(cells: Sequence[Cell], titles: Titles, words: Says) -> Iterator[str]:
    if cells:
        yield words.say("prints.missing-off", titles=_named([cell.competency for cell in cells], titles))


def _quizzes(cells: Sequence[Cell], parts: Parts, titles: Titles, words: Says) -> Iterator[str]:
    lacking = [cell.competency for cell in cells if _open(cell, parts, Part.KNOWLEDGE)]
    if lacking:
        yield words.say("prints.missing-quiz", titles=_named(lacking, titles))


def _watches(cells: Sequence[Cell], parts: Parts, titles: Titles, words: Says) -> Iterator[str]:
    """One line for all that lack as many watches, the most first."""
    groups: dict[int, list[str]] = {}
    for cell in cells:
        if part := _open(cell, parts, Part.PRACTICAL):
            groups.setdefault(watches_left(part), []).append(cell.competency)
    for left, lacking in sorted(groups.items(), reverse=True):
        yield words.count("prints.missing-watch", left, titles=_named(lacking, titles))


def _waiting(cells: Sequence[Cell], titles: Titles, words: Says) -> Iterator[str]:
    waiting = [cell for cell in cells if cell.reason.rule == Rule.AFTER]
    for first in dict.fromkeys(cell.reason.part for cell in waiting):
        behind = [cell.competency for cell in waiting if cell.reason.part == first]
        yield words.say("prints.missing-after", first=titles.competency(first), titles=_named(behind, titles))


def _open(cell: Cell, parts: Parts, part: Part) -> PartProgress | None:
    """That part where it is needed and does not hold."""
    return next((each for each in parts.get(cell.competency, ()) if each.part is part and not each.holds), None)


def _named(competencies: Sequence[str], titles: Titles) -> str:
    return ", ".join(titles.competency(each) for each in competencies)
