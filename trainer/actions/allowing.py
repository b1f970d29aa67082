"""What is still missing or open for a hand and a competency: read by those who are asked to allow it all the same."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from trainer.actions import look, may
from trainer.actions.desk import Desk
from trainer.core.catalogue import Catalogue
from trainer.core.matrix import Cell, Standing
from trainer.core.observation import NOT_MET
from trainer.core.progress import PartProgress
from trainer.core.records import Effect, EvidenceRow, Observation, Part
from trainer.core.text import Text

__all__ = ["NotYet", "OpenPoints", "open_points"]

RECENT = timedelta(days=14)
"""A hitch: so long a not yet is talked of, unless the same was passed since."""

_HOLDING = (Standing.CURRENT, Standing.DUE)


@dataclass(frozen=True, slots=True)
class NotYet:
    """A quiz or a watch of the last days that came out as not yet; ``steps`` are those of the sheet that were not met.

    ``competency`` is any of the hand's: what went wrong beside the work is news for whoever allows it.
    """

    competency: str
    part: Part
    day: date
    steps: tuple[Text, ...] = ()


@dataclass(frozen=True, slots=True)
class OpenPoints:
    """For one hand and competency on a day: its ``cell`` and ``parts``, and what else speaks against it.

    ``before`` are the competencies that come before it and do not hold, ``off`` those for which the hand is off the
    slips, ``not_yet`` the latest of each kind, the newest first.
    """

    cell: Cell | None
    parts: tuple[PartProgress, ...]
    before: tuple[Cell, ...]
    off: tuple[str, ...]
    not_yet: tuple[NotYet, ...]


def open_points(desk: Desk, hand: str, competency: str) -> OpenPoints:
    """What is missing or open today. Raises ``NotFound("no-hand")``."""
    may.require(desk, "allowing.open_points")
    card = look.card(desk, hand)
    cells = {cell.competency: cell for cell in card.cells}
    earlier = _before(desk.catalogue, competency)
    return OpenPoints(
        cell=cells.get(competency),
        parts=card.parts.get(competency, ()),
        before=tuple(
            cell
            for name, cell in cells.items()
            if name in earlier and cell.standing not in (*_HOLDING, Standing.STOOD_DOWN)
        ),
        off=tuple(name for name, cell in cells.items() if cell.standing is Standing.STOOD_DOWN),
        not_yet=tuple(_not_yet(desk, desk.store.evidence_rows(hands=(hand,)))),
    )


def _before(catalogue: Catalogue, competency: str) -> frozenset[str]:
    """Everything that comes before it, and before that."""
    found: set[str] = set()
    waiting = [competency]
    while waiting:
        known = catalogue.competency(waiting.pop())
        new = [each for each in (known.after if known else ()) if each not in found]
        found.update(new)
        waiting += new
    return frozenset(found)


def _not_yet(desk: Desk, rows: Iterable[EvidenceRow]) -> Iterator[NotYet]:
    """The last outcome of each competency and part where that is a recent not yet, the newest first."""
    last = {(row.competency, row.part): row for row in rows if row.effect in (Effect.PASS, Effect.FAIL)}
    for row in sorted(last.values(), key=lambda each: (each.day, each.at, each.seq), reverse=True):
        if row.effect is Effect.FAIL and desk.today - RECENT <= row.day <= desk.today:
            yield NotYet(row.competency, row.part, row.day, _not_met(desk, row))


def _not_met(desk: Desk, row: EvidenceRow) -> tuple[Text, ...]:
    """The steps of that competency that the sheet says were not met, in its order; none where it was no sheet."""
    record = desk.store.record(row.record_id)
    if record is None or not isinstance(record.body, Observation):
        return ()
    missed = {each.step for each in record.body.steps if each.state == NOT_MET}
    checklist = desk.catalogue.checklists.get(record.body.checklist)
    known = checklist.steps if checklist else ()
    return tuple(step.text for step in known if step.id in missed and step.competency == row.competency)
