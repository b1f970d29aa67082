"""How far one hand is with each part of a competency: what a card says beside the standing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from trainer.core.catalogue import Catalogue, Competency
from trainer.core.columns import evidence_columns
from trainer.core.durations import NO_DAY
from trainer.core.parts import Facts, PartHeld, facts
from trainer.core.records import Effect, EvidenceRow, Part

__all__ = ["PartProgress", "progress"]


@dataclass(frozen=True, slots=True)
class PartProgress:
    """One needed part on a day.

    ``through`` is the last day on which it holds or held, ``None`` when it has not since the last stand-down.
    ``watches`` are the clean watches on different days and ``watchers`` the different people of them, since then too,
    ``of_watches`` and ``of_watchers`` how many it takes; all 0 for knowledge.
    """

    part: Part
    through: date | None
    holds: bool
    watches: int = 0
    watchers: int = 0
    of_watches: int = 0
    of_watchers: int = 0


def progress(
    catalogue: Catalogue, rows: Sequence[EvidenceRow], hand: str, as_of: date
) -> Mapping[str, tuple[PartProgress, ...]]:
    """Each competency of the catalogue with its needed parts; ``rows`` are the hand's, in the order of deciding."""
    known = catalogue.competencies
    found = facts(catalogue, known, evidence_columns(rows), (hand,), as_of)
    return {each.id: tuple(_parts(each, rows, found, line, as_of)) for line, each in enumerate(known)}


def _parts(
    competency: Competency, rows: Sequence[EvidenceRow], found: Facts, line: int, as_of: date
) -> Iterator[PartProgress]:
    is_down = bool(found.is_stood_down()[line, 0])
    if competency.needs.knowledge:
        through = _day(found.knowledge, line)
        yield PartProgress(Part.KNOWLEDGE, through, _holds(through, as_of, is_down))
    if need := competency.needs.practical:
        through = _day(found.practical, line)
        clean = _clean(competency.id, rows, as_of)
        yield PartProgress(
            part=Part.PRACTICAL,
            through=through,
            holds=_holds(through, as_of, is_down),
            watches=len({row.day for row in clean}),
            watchers=len({row.by for row in clean}),
            of_watches=need.first,
            of_watchers=need.assessors,
        )


def _holds(through: date | None, as_of: date, is_down: bool) -> bool:
    return through is not None and through >= as_of and not is_down


def _day(held: PartHeld, line: int) -> date | None:
    day = int(held.through[line, 0])
    return None if day == NO_DAY else date.fromordinal(day)


def _clean(competency: str, rows: Sequence[EvidenceRow], as_of: date) -> list[EvidenceRow]:
    """The clean watches since the last stand-down."""
    clean: list[EvidenceRow] = []
    for row in rows:
        if row.competency != competency or row.day > as_of:
            continue
        if row.effect is Effect.DOWN:
            clean.clear()
        elif row.part is Part.PRACTICAL and row.effect is Effect.PASS:
            clean.append(row)
    return clean
