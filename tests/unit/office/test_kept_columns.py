"""What the tabs share of one store is, after every record, what a fresh reading of it gives."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from tests.unit.office.small_site import rows
from trainer.actions import importing, look, people, voiding
from trainer.actions.desk import Desk
from trainer.core.matrix import Matrix
from trainer.web.kept_columns import KeptColumns

CREW = ("h1,Ann,floorhand,day-1,2025-06-01", "h2,Bo,derrickhand,day-1,2025-06-01", "d1,Di,driller,day-1,2025-06-01")


@pytest.fixture
def folds(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> list[frozenset[str] | None]:
    """Whom each matrix was worked out for anew, ``None`` for everybody; one hand alone is quicker on any site here."""
    people.apply_roster(desk, people.preview_roster(desk, rows("hand_id,name,position,crew,joined", *CREW)))
    monkeypatch.setattr(look, "_REFOLDED", 0)
    asked: list[frozenset[str] | None] = []
    whole, some = look.fold, look.refold

    def fold(*given: object) -> Matrix:
        asked.append(None)
        return whole(*given)  # type: ignore[arg-type]

    def refold(*given: object) -> Matrix:
        asked.append(given[-1])  # type: ignore[arg-type]
        return some(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(look, "fold", fold)
    monkeypatch.setattr(look, "refold", refold)
    return asked


def bring(desk: Desk, *lines: str) -> None:
    importing.import_evidence(desk, rows("hand_id,competency,part,day,outcome,by,note", *lines))


def asked(kept: KeptColumns, desk: Desk, day: date, folds: list[frozenset[str] | None]) -> frozenset[str] | None:
    """Whom the matrix of ``day`` was worked out for; it is the one that a fresh reading gives."""
    folds.clear()
    found = kept.matrix(desk, day)
    (who,) = folds
    assert found.cells() == look.matrix(desk, day).cells()
    return who


def test_new_evidence_folds_again_whom_it_is_about_alone(desk: Desk, folds: list[frozenset[str] | None]) -> None:
    kept, today = KeptColumns(), desk.today
    assert asked(kept, desk, today, folds) is None
    assert asked(kept, desk, today, folds) == set()
    bring(desk, "h1,grip,knowledge,2026-01-10,pass,d1,")
    bring(desk, "h1,calls,knowledge,2026-01-10,pass,d1,")
    assert asked(kept, desk, today, folds) == {"h1"}
    bring(desk, "h2,grip,practical,2026-01-10,pass,d1,")
    assert asked(kept, desk, today, folds) == {"h2"}


def test_whatever_else_is_new_folds_everybody(desk: Desk, folds: list[frozenset[str] | None]) -> None:
    kept, today = KeptColumns(), desk.today
    kept.matrix(desk, today)
    bring(desk, "h1,grip,knowledge,2026-01-10,pass,d1,")
    (record,) = desk.store.records(kinds=("outside",))
    kept.matrix(desk, today)
    voiding.void(desk, record.record_id, "typed twice")
    bring(desk, "h2,grip,practical,2026-01-10,pass,d1,")
    assert asked(kept, desk, today, folds) is None
    newcomer = rows("hand_id,name,position,crew,joined", "h9,Nia,floorhand,day-1,2025-07-01")
    people.apply_roster(desk, people.preview_roster(desk, newcomer))
    assert asked(kept, desk, today, folds) is None
    assert asked(kept, desk, today + timedelta(days=1), folds) is None
    bring(desk, "h9,grip,knowledge,2026-01-10,pass,d1,")
    assert asked(kept, desk, today, folds) is None
