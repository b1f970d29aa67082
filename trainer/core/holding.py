"""What one hand holds in one competency on one day, whatever his position: asked before an observation is written."""

from __future__ import annotations

from datetime import date

from trainer.core.catalogue import Catalogue
from trainer.core.columns import EFFECTS, EvidenceColumns
from trainer.core.parts import Facts, facts
from trainer.core.records import Effect

__all__ = ["holds", "is_practical_valid", "is_stood_down"]

_DOWN, _UP = EFFECTS.index(Effect.DOWN), EFFECTS.index(Effect.UP)


def holds(catalogue: Catalogue, evidence: EvidenceColumns, hand: str, competency: str, day: date) -> bool:
    """Whether every part that the competency needs is valid on ``day`` and the hand not stood down.

    What comes first (``after``) and the hand's position do not matter. Nobody holds a competency that needs no part,
    or one that the catalogue does not have.
    """
    known = catalogue.competency(competency)
    found = _facts(catalogue, evidence, hand, competency, day)
    if known is None or found is None or found.is_stood_down()[0, 0]:
        return False
    needed = ((known.needs.knowledge, found.knowledge), (known.needs.practical, found.practical))
    through = [part.through[0, 0] for need, part in needed if need is not None]
    return bool(through) and min(through) >= day.toordinal()


def is_practical_valid(catalogue: Catalogue, evidence: EvidenceColumns, hand: str, competency: str, day: date) -> bool:
    """Whether the practical part, passed since the last stand-down if any, is valid on ``day``; reinstated or not."""
    found = _facts(catalogue, evidence, hand, competency, day)
    return found is not None and bool(found.practical.through[0, 0] >= day.toordinal())


def is_stood_down(evidence: EvidenceColumns, hand: str, competency: str, day: date) -> bool:
    """Whether on ``day`` the last of stood-down and reinstated is stood-down."""
    own = evidence.of_hand(hand)
    if competency not in own.competencies:
        return False
    is_asked = (own.day <= day.toordinal()) & (own.competency == own.competencies.index(competency))
    effects = own.effect[is_asked]
    deciding = effects[(effects == _DOWN) | (effects == _UP)]
    return len(deciding) > 0 and bool(deciding[-1] == _DOWN)


def _facts(catalogue: Catalogue, evidence: EvidenceColumns, hand: str, competency: str, day: date) -> Facts | None:
    known = catalogue.competency(competency)
    return None if known is None else facts(catalogue, (known,), evidence.of_hand(hand), (hand,), day)
