"""What only paper needs: a signed watch with every word on it, for the hand and for those who lead."""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.unit.actions.rig import PINS, Rig
from trainer.actions import printing, voiding, watching
from trainer.actions.sheets import Details
from trainer.errors import NotFound, Refused

DAY = timedelta(days=1)


@pytest.fixture
def signed(rig: Rig) -> str:
    """The id of a watch of ana by ben, signed by both."""
    desk = rig.by("ben").desk
    sheet = watching.open_sheet(desk, "connections", "ana")
    for step in sheet.checklist.steps:
        watching.tick(desk, sheet.sheet_id, step.id, "met", note=f"saw {step.id}")
    details = Details("ben", desk.today, overall="yes", brake="dee", note="A good run")
    watching.fill(desk, sheet.sheet_id, details)
    return watching.commit(desk, sheet.sheet_id, PINS["ben"], PINS["ana"]).record_id


def test_a_watch_is_told_with_names_and_every_note(rig: Rig, signed: str) -> None:
    told = printing.watch(rig.by("ana").desk, signed)
    assert told.names == {"ana": "Ana", "ben": "Ben", "dee": "Dee"}
    assert told.note == "A good run"
    assert set(told.notes.values()) == {f"saw {each.step}" for each in told.body.steps}
    assert (told.stood_down, told.voided) == ((), None)


def test_a_voided_watch_says_by_whom_and_why(rig: Rig, signed: str) -> None:
    voiding.void(rig.by("cy").desk, signed, "wrong hand")
    told = printing.watch(rig.by("dee").desk, signed).voided
    assert told is not None
    assert told.why == "wrong hand"


def test_another_hand_s_watch_is_refused_even_to_who_watched_it(rig: Rig, signed: str) -> None:
    with pytest.raises(Refused, match="not-yours"):
        printing.watch(rig.by("ben").desk, signed)


def test_what_is_no_watch_is_not_found(rig: Rig) -> None:
    other = next(iter(rig.store.records(kinds=("joined",)))).record_id
    for record_id in (other, "nothing"):
        with pytest.raises(NotFound, match="no-record"):
            printing.watch(rig.desk, record_id)


def test_anybody_s_sheet_names_the_end_of_the_ledger(rig: Rig) -> None:
    assert printing.heads(rig.by("ana").desk) == rig.store.heads()
