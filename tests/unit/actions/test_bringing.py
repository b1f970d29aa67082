"""What was typed to bring a hand back outlives a reload, and not the tour, the leaving, or the record itself."""

from __future__ import annotations

import pytest

from tests.unit.actions.rig import PINS, Rig
from trainer.actions import bringing, reinstating
from trainer.actions.bringing import Begun
from trainer.actions.seconds import Second
from trainer.errors import NotFound, Refused

TYPED = Begun(("hands", "calls"), "three sets beside the driller", "tom")


@pytest.fixture
def dee(rig: Rig) -> Rig:
    """The driller, who has taken Ana off on this tour."""
    reinstating.stand_down_all(rig.by("dee").desk, "ana", {"hands": None, "calls": None}, "hand under the handle")
    return rig.by("dee")


def test_the_last_that_was_typed_is_there_again_for_whoever_typed_it(dee: Rig) -> None:
    assert bringing.begun(dee.desk, "ana") is None
    bringing.keep(dee.desk, "ana", Begun(("hands",), "talked", ""))
    bringing.keep(dee.desk, "ana", TYPED)
    assert bringing.begun(dee.later(hours=11).desk, "ana") == TYPED
    assert bringing.begun(dee.desk, "ben") is None
    assert bringing.begun(dee.by("ben").desk, "ana") is None
    assert dee.store.verify() == []


def test_on_a_later_tour_it_counts_no_more(dee: Rig) -> None:
    bringing.keep(dee.desk, "ana", TYPED)
    assert bringing.begun(dee.later(hours=12, minutes=1).desk, "ana") is None


def test_leaving_drops_it_and_so_does_the_record(dee: Rig) -> None:
    bringing.keep(dee.desk, "ana", TYPED)
    bringing.drop(dee.desk, "ana")
    assert bringing.begun(dee.desk, "ana") is None
    bringing.drop(dee.desk, "ana")

    bringing.keep(dee.desk, "ana", TYPED)
    with pytest.raises(Refused):
        reinstating.reinstate_all(dee.desk, "ana", {"hands": None}, TYPED.done)
    assert bringing.begun(dee.desk, "ana") == TYPED
    reinstating.reinstate_all(dee.desk, "ana", {"hands": None}, TYPED.done, Second("tom", PINS["tom"], "tablet"))
    assert bringing.begun(dee.desk, "ana") is None


def test_nothing_is_kept_about_nobody(dee: Rig) -> None:
    with pytest.raises(NotFound):
        bringing.keep(dee.desk, "nobody", TYPED)
