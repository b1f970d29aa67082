"""One more record, and the hand it is about folded again, alone."""

from __future__ import annotations

from collections.abc import Sequence

from tests.bench import rigs
from tests.bench.lines import Line, Wrong, alternating, text
from trainer.core.columns import EvidenceColumns, added, evidence_columns
from trainer.core.matrix import Matrix
from trainer.core.records import Effect, EvidenceRow, Part
from trainer.core.standing import fold, fold_hand

__all__ = ["measure"]

REPEATS = 200


def measure(full: bool) -> Sequence[Line]:
    """A hand with a hundred rows among five million, or among a tenth of that when not ``full``."""
    hands = 50_000 if full else 5_000
    known = rigs.catalogue()
    evidence, stays = rigs.evidence(hands * 100, hands, known), rigs.stays(hands)
    hand = rigs.hand_names(hands)[hands // 2]
    row = EvidenceRow(
        hand, known.competencies[0].id, Part.KNOWLEDGE, Effect.PASS, rigs.AS_OF, "2026-06-01T06:00:00.000Z", "rig",
        hands * 100 + 1, hand, "01900000-0000-7000-8000-000000000001",
    )  # fmt: skip

    def grown() -> EvidenceColumns:
        return added(evidence.of_hand(hand), evidence_columns([row]))

    def refolded() -> Matrix:
        return fold_hand(known, grown(), stays, hand, rigs.AS_OF)

    _compare(refolded(), fold(known, added(evidence, evidence_columns([row])), stays, rigs.AS_OF), hand)
    one = alternating([refolded], REPEATS)[0]
    what = f"one new record: one hand folded again among {hands * 100 / 1e6:g} million rows"
    return [Line(what, text(one), "", "", "under 1 ms", one < 1e-3)]


def _compare(alone: Matrix, whole: Matrix, hand: str) -> None:
    """The cells of that hand in both."""
    named = ((hand, each) for each in whole.competencies)
    own = [cell for cell in (whole.cell(*each) for each in named) if cell is not None]
    if alone.cells() != own or not own:
        raise Wrong("one hand folded alone has other cells than in the whole matrix")
