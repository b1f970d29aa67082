"""The rig's figures: everybody's, but for what grease does and for a wall to try, which have their own roles."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from tests.unit.actions.desks import acting, new_site
from tests.unit.core.rigs import RIG, not_inspected
from trainer.actions import reckoning
from trainer.actions.desk import COORDINATOR, DRILLER, HAND, Actor, Desk
from trainer.core.rig import Rig, inspected_body
from trainer.errors import BadInput, MechanicsRangeError, NotFound, Refused


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    made = new_site(tmp_path)
    yield made
    made.store.close()


def at(desk: Desk, role: str, rig: Rig | None) -> Desk:
    """A desk of that role at a site with that rig."""
    site = replace(desk.catalogue.site, rig=rig)
    return acting(replace(desk, catalogue=replace(desk.catalogue, site=site)), Actor("h1", role))


@pytest.mark.parametrize("role", [HAND, DRILLER, COORDINATOR])
def test_everybody_gets_the_rigs_figures(desk: Desk, role: str) -> None:
    assert reckoning.rig(at(desk, role, RIG)) == RIG


def test_a_site_without_figures_says_so(desk: Desk) -> None:
    with pytest.raises(NotFound) as caught:
        reckoning.rig(at(desk, HAND, None))
    assert caught.value.code == "no-rig"


def test_a_hand_gets_no_figures_of_grease(desk: Desk) -> None:
    with pytest.raises(Refused) as caught:
        reckoning.grease(at(desk, HAND, RIG), RIG, "set-a", 0.08)
    assert caught.value.code == "may-not"


@pytest.mark.parametrize("role", [DRILLER, COORDINATOR])
def test_a_driller_and_up_get_them(desk: Desk, role: str) -> None:
    assert reckoning.grease(at(desk, role, RIG), RIG, "set-a", 0.08).squeeze == pytest.approx(4.0, abs=0.001)


def test_a_set_that_is_not_there_and_a_friction_that_cannot_be_are_refused(desk: Desk) -> None:
    driller = at(desk, DRILLER, RIG)
    with pytest.raises(NotFound, match="no-slips"):
        reckoning.grease(driller, RIG, "set-z", 0.08)
    with pytest.raises(MechanicsRangeError):
        reckoning.grease(driller, RIG, "set-a", 1.5)


def test_a_coordinator_may_look_with_another_wall_and_nothing_is_written(desk: Desk) -> None:
    office = at(desk, COORDINATOR, not_inspected())
    before = office.store.heads()
    tried = reckoning.try_wall(office, "class-2", 0.75)
    assert inspected_body(tried.pipe) is not None
    assert inspected_body(reckoning.rig(office).pipe) is None
    assert office.store.heads() == before


@pytest.mark.parametrize("role", [HAND, DRILLER])
def test_nobody_else_enters_a_wall(desk: Desk, role: str) -> None:
    with pytest.raises(Refused):
        reckoning.try_wall(at(desk, role, not_inspected()), "premium", 0.8)


@pytest.mark.parametrize(("name", "left"), [("prime", 0.8), ("premium", 0.0), ("premium", 1.2)])
def test_what_no_inspection_says_is_refused(desk: Desk, name: str, left: float) -> None:
    with pytest.raises(BadInput) as caught:
        reckoning.try_wall(at(desk, COORDINATOR, not_inspected()), name, left)
    assert caught.value.code == "rig-wall"
