"""What is missing or open for a hand and a competency is told before anybody allows it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from tests.unit.actions.rig import CATALOGUE, PINS, Rig
from tests.unit.actions.test_watching import CLEAN, MISSED, TODAY, ticked
from tests.unit.assessment import samples
from trainer.actions import allowing, reinstating, voiding, watching
from trainer.actions.allowing import NotYet
from trainer.core.matrix import Standing
from trainer.core.records import Part, Record
from trainer.errors import NotFound, Refused

# Lifting comes after hands, and hands after calls.
AFTER = {"lifting": ("hands",), "hands": ("calls",)}
CHAINED = replace(
    CATALOGUE, competencies=tuple(replace(each, after=AFTER.get(each.id, ())) for each in CATALOGUE.competencies)
)


@pytest.fixture
def dee(rig: Rig) -> Rig:
    """The driller of Ana's crew."""
    return rig.with_catalogue(CHAINED).by("dee")


def watched(rig: Rig, states: dict[str, str], held: date = TODAY) -> Record:
    """Ana assessed on that day."""
    sheet = ticked(rig, states, held=held)
    return watching.commit(rig.desk, sheet.sheet_id, PINS["dee"], PINS["ana"], watching.SIGNED, "tablet")


def test_its_own_parts_and_everything_that_comes_before_are_told(dee: Rig) -> None:
    found = allowing.open_points(dee.desk, "ana", "lifting")
    assert found.cell is not None
    assert found.cell.standing is Standing.NOT_STARTED
    assert [(each.part, each.holds) for each in found.parts] == [(Part.PRACTICAL, False)]
    assert [each.competency for each in found.before] == ["calls", "hands"]
    assert (found.off, found.not_yet) == ((), ())
    dee.hold("ana", "calls", date(2026, 2, 1))
    assert [each.competency for each in allowing.open_points(dee.desk, "ana", "lifting").before] == ["hands"]
    assert allowing.open_points(dee.desk, "ana", "calls").before == ()


def test_a_watch_of_minutes_ago_that_was_not_met_is_told_with_its_steps_whatever_it_is_about(dee: Rig) -> None:
    record = watched(dee, MISSED)
    told = (NotYet("hands", Part.PRACTICAL, TODAY, (samples.text("out"),)),)
    assert allowing.open_points(dee.desk, "ana", "lifting").not_yet == told
    assert allowing.open_points(dee.desk, "ana", "hands").not_yet == told
    voiding.void(dee.by("cy").desk, record.record_id, "wrong sheet")
    assert allowing.open_points(dee.desk, "ana", "lifting").not_yet == ()


def test_it_is_told_for_a_hitch_and_only_until_the_same_is_passed(dee: Rig) -> None:
    watched(dee, MISSED, date(2026, 2, 16))
    assert allowing.open_points(dee.desk, "ana", "lifting").not_yet
    assert allowing.open_points(dee.later(days=1).desk, "ana", "lifting").not_yet == ()
    watched(dee, CLEAN)
    assert allowing.open_points(dee.desk, "ana", "lifting").not_yet == ()


def test_off_the_slips_for_something_else_is_told_once(dee: Rig) -> None:
    reinstating.stand_down(dee.desk, "ana", "calls", "hand under the handle")
    found = allowing.open_points(dee.desk, "ana", "lifting")
    assert found.off == ("calls",)
    assert [each.competency for each in found.before] == ["hands"]


def test_whoever_may_not_allow_reads_none_of_it(dee: Rig) -> None:
    with pytest.raises(Refused, match="may-not"):
        allowing.open_points(dee.by("ben").desk, "ana", "lifting")
    with pytest.raises(NotFound):
        allowing.open_points(dee.desk, "nobody", "lifting")
