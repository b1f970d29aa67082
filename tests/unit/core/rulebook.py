"""A small rule book, and rows written short, so that a test reads like the case it works by hand."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date

from trainer.core.catalogue import Catalogue, Competency, Knowledge, Needs, Position, Practical, Rotation, Site
from trainer.core.columns import EvidenceColumns, StayColumns, evidence_columns, stay_columns
from trainer.core.durations import parse
from trainer.core.matrix import Cell, Matrix
from trainer.core.records import Effect, EvidenceRow, Part, StayRow
from trainer.core.standing import fold

SLIPS = "set-slips"
PLACING = "hand-placement"

KNOWLEDGE = Knowledge("set-slips", parse("P12M"), tailgate_extends=parse("P3M"), at_most=parse("P15M"))
PRACTICAL = Practical("connections", parse("P12M"), first=2, assessors=2)


def day(written: str) -> date:
    """The day written ``2026-03-01``."""
    return date.fromisoformat(written)


def competency(name: str, needs: Needs, **more: object) -> Competency:
    """A competency of floorhands and motorhands, due at once in nothing but what is said."""
    plain = Competency(name, {"en": name}, ("floorhand", "motorhand"), needs)
    return replace(plain, **more)  # type: ignore[arg-type]


def slips(knowledge: Knowledge | None = KNOWLEDGE, practical: Practical | None = None, **more: object) -> Competency:
    """Setting the slips, with the knowledge part alone unless told otherwise."""
    return competency(SLIPS, Needs(knowledge, practical), **more)


def catalogue(*competencies: Competency, crews: dict[str, Rotation] | None = None) -> Catalogue:
    """The competencies on a site with crew ``day-1``, which works every day unless ``crews`` says otherwise."""
    positions = {
        "floorhand": Position("hand"),
        "motorhand": Position("hand"),
        "driller": Position("driller", observes=True),
        "coordinator": Position("coordinator"),
    }
    site = Site(positions, crews or {"day-1": Rotation()}, outside_good_for=parse("P90D"))
    return Catalogue(competencies or (slips(),), site, {}, {}, {}, "")


@dataclass
class Ledger:
    """Rows in the order of writing; each call adds one."""

    evidence: list[EvidenceRow] = field(default_factory=list)
    stays: list[StayRow] = field(default_factory=list)
    written: int = 0

    def _next(self) -> tuple[str, int]:
        self.written += 1
        return f"2020-01-01T00:{self.written // 60:02d}:{self.written % 60:02d}.000Z", self.written

    def stay(self, kind: str, on: str, position: str = "", crew: str = "", hand: str = "ann") -> Ledger:
        at, seq = self._next()
        self.stays.append(StayRow(hand, kind, day(on), crew, position, at, "rig", seq, f"r{seq}"))
        return self

    def joined(self, on: str, position: str = "floorhand", crew: str = "day-1", hand: str = "ann") -> Ledger:
        return self.stay("joined", on, position, crew, hand)

    def moved(self, on: str, position: str, crew: str = "day-1", hand: str = "ann") -> Ledger:
        return self.stay("moved", on, position, crew, hand)

    def left(self, on: str, hand: str = "ann") -> Ledger:
        return self.stay("left", on, hand=hand)

    def row(
        self, part: Part, effect: Effect, on: str, by: str = "ann", competency: str = SLIPS, hand: str = "ann"
    ) -> Ledger:
        at, seq = self._next()
        self.evidence.append(EvidenceRow(hand, competency, part, effect, day(on), at, "rig", seq, by, f"r{seq}"))
        return self

    def quiz(self, on: str, effect: Effect = Effect.PASS, competency: str = SLIPS) -> Ledger:
        return self.row(Part.KNOWLEDGE, effect, on, competency=competency)

    def tailgate(self, on: str, effect: Effect = Effect.PASS) -> Ledger:
        return self.row(Part.TAILGATE, effect, on, by="dan")

    def clean(self, on: str, by: str, competency: str = SLIPS) -> Ledger:
        return self.row(Part.PRACTICAL, Effect.PASS, on, by, competency)

    def not_yet(self, on: str, by: str = "dan") -> Ledger:
        return self.row(Part.PRACTICAL, Effect.FAIL, on, by)

    def outside(self, part: str, on: str, effect: Effect = Effect.PASS) -> Ledger:
        return self.row(Part(f"outside-{part}"), effect, on, by="school")

    def down(self, on: str, competency: str = SLIPS) -> Ledger:
        return self.row(Part.NONE, Effect.DOWN, on, "dan", competency)

    def up(self, on: str, competency: str = SLIPS) -> Ledger:
        return self.row(Part.NONE, Effect.UP, on, "dan", competency)

    def columns(self) -> tuple[EvidenceColumns, StayColumns]:
        return evidence_columns(self.evidence), stay_columns(self.stays)

    def matrix(self, as_of: str, book: Catalogue | None = None) -> Matrix:
        return fold(book or catalogue(), *self.columns(), day(as_of))

    def cell(self, as_of: str, book: Catalogue | None = None, hand: str = "ann", competency: str = SLIPS) -> Cell:
        """The one cell, which must be there."""
        cell = self.matrix(as_of, book).cell(hand, competency)
        assert cell is not None
        return cell

    def due(self, as_of: str, book: Catalogue | None = None) -> str:
        """The due date as written, empty for none."""
        return str(self.cell(as_of, book).due or "")

    def standing(self, as_of: str, book: Catalogue | None = None, competency: str = SLIPS) -> str:
        return self.cell(as_of, book, competency=competency).standing.value


def ann(joined: str = "2020-01-01") -> Ledger:
    """A ledger in which Ann joined as a floorhand of crew day-1."""
    return Ledger().joined(joined)


def standings(matrix: Matrix) -> dict[tuple[str, str], str]:
    """The standing of each cell."""
    return {(each.hand, each.competency): each.standing.value for each in matrix.cells()}


def hands(cells: Iterable[Cell]) -> list[str]:
    """The hands of the cells in order, each once."""
    return list(dict.fromkeys(each.hand for each in cells))
