"""What the tests of the sign-off pages share: a sheet of the driller's, its page, and keypads that give a PIN."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import APP, PATIENCE_S, signed_in
from tests.app.learning import of
from tests.app.office_pages import go
from trainer.actions import watching
from trainer.actions.desk import Desk
from trainer.actions.sheets import Sheet
from trainer.core.records import Observation
from trainer.web import signoff_sign


def sheet(site: Desk, states: Mapping[str, str], *, purpose: str = "assessment", **details: object) -> Sheet:
    """Bill's sheet about Ray: every step of the named competencies in one state, Ana at the brake."""
    bill = of(site, "bill")
    made = watching.open_sheet(bill, "connections", "ray", purpose)
    for step in made.checklist.steps:
        if step.competency in states:
            watching.tick(bill, made.sheet_id, step.id, states[step.competency], note="seen")
    filled = replace(made.details, **{"brake": "ana", "overall": "yes", **details})  # type: ignore[arg-type]
    return watching.fill(bill, made.sheet_id, filled)


def open_page(app: AppTest, site: Desk, who: str = "bill", **steps: str) -> AppTest:
    """The page as ``who`` sees it."""
    signed_in(app, site, who)
    app.run()
    return go(app, "signoff", **steps)


def fresh() -> AppTest:
    """Another tab."""
    return AppTest.from_file(str(APP), default_timeout=PATIENCE_S)


def pins(monkeypatch: pytest.MonkeyPatch, *typed: str) -> None:
    """Have the keypads of the next runs give these, one a run, then nothing."""
    waiting = list(typed)

    def keypad(*_: object, **__: object) -> str | None:
        return waiting.pop(0) if waiting else None

    monkeypatch.setattr(signoff_sign, "keypad", keypad)


def observations(site: Desk) -> list[Observation]:
    """Every signed sheet."""
    return [
        record.body for record in site.store.records(kinds=("observation",)) if isinstance(record.body, Observation)
    ]


def field(app: AppTest, kind: str, name: str) -> object:
    """The widget of ``kind`` whose key begins with ``name``, whatever number it has by now."""
    found = [each for each in getattr(app, kind) if (each.key or "").startswith(f"{name}-")]
    assert len(found) == 1, [each.key for each in getattr(app, kind)]
    return found[0]
