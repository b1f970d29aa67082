"""A mistake is voided by whom it may be, once, with a reason."""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.unit.office.small_site import NOON, acting, desk_of, rows
from trainer.actions import people, voiding
from trainer.actions.desk import COORDINATOR, DRILLER, HAND, Actor, Desk
from trainer.actions.voiding import Offer, Second
from trainer.core.records import Body, Observation, Outside, Record, StoodDown, Void
from trainer.errors import BadInput, NotFound, Refused
from trainer.store import Store

PIN = "739154"
CREW = (
    "h1,Ann,floorhand,day-1,2025-06-01",
    "h2,Bo,derrickhand,day-1,2025-06-01",
    "d1,Di,driller,day-1,2025-06-01",
    "c1,Cy,coordinator,,2025-06-01",
    "c2,Ed,coordinator,,2025-06-01",
)
OUTSIDE = Outside("grip", "practical", "pass", "d1")


@pytest.fixture(autouse=True)
def crew(desk: Desk) -> None:
    people.apply_roster(desk, people.preview_roster(desk, rows("hand_id,name,position,crew,joined", *CREW)))


def write(desk: Desk, body: Body, hand: str = "h1", by: str = "d1") -> Record:
    with desk.store.transaction() as writing:
        return writing.append(acting(desk, by, DRILLER).new_record(body, hand=hand))


def sheet(desk: Desk) -> Record:
    body = Observation(
        "sheet", "hash", "assessment", (), {}, "no", "d1", "c1", "not present", (), {"grip": "not yet"}, "2026-03-02",
        "06:00-18:00", "2026-03-02",
    )  # fmt: skip
    return write(desk, body)


def test_a_voided_record_is_in_no_fold_and_the_reason_in_no_record(desk: Desk) -> None:
    record = write(desk, OUTSIDE)
    void = voiding.void(acting(desk, "c1", COORDINATOR), record.record_id, "  wrong \n hand ")
    assert desk.store.evidence_rows() == []
    assert isinstance(void.body, Void)
    assert (void.hand, void.by, void.body.record) == ("h1", "c1", record.record_id)
    assert desk.store.text(void.body.why) == "wrong hand"
    assert desk.store.verify() == []


def test_a_record_is_voided_once(desk: Desk) -> None:
    record = write(desk, OUTSIDE)
    voiding.void(desk, record.record_id, "wrong hand")
    with pytest.raises(Refused, match="void-already"):
        voiding.void(desk, record.record_id, "wrong hand")


def test_a_void_says_why_and_of_what(desk: Desk) -> None:
    record = write(desk, OUTSIDE)
    with pytest.raises(BadInput, match="no-reason"):
        voiding.void(desk, record.record_id, "  ")
    with pytest.raises(NotFound, match="no-record"):
        voiding.void(desk, "00000000-0000-7000-8000-ffffffffffff", "wrong")


@pytest.mark.parametrize("kind", ["site", "void"])
def test_what_lasts_is_not_voided(desk: Desk, kind: str) -> None:
    voiding.void(desk, write(desk, OUTSIDE).record_id, "wrong hand")
    lasting = next(desk.store.records(kinds=(kind,)))
    with pytest.raises(Refused, match="void-kind"):
        voiding.void(desk, lasting.record_id, "wrong")


def test_a_coordinator_voids_nothing_about_himself(desk: Desk) -> None:
    record = write(desk, OUTSIDE, hand="c1")
    with pytest.raises(Refused, match="void-himself"):
        voiding.void(acting(desk, "c1", COORDINATOR), record.record_id, "wrong")
    voiding.void(acting(desk, "c2", COORDINATOR), record.record_id, "wrong")


def test_a_driller_voids_what_he_wrote_himself_the_same_day(desk: Desk, store: Store) -> None:
    own, others, old = write(desk, OUTSIDE), write(desk, OUTSIDE, by="h2"), write(desk, OUTSIDE)
    driller = acting(desk, "d1", DRILLER)
    voiding.void(driller, own.record_id, "wrong")
    with pytest.raises(Refused, match="void-not-yours"):
        voiding.void(driller, others.record_id, "wrong")
    with pytest.raises(Refused, match="void-not-yours"):
        voiding.void(desk_of(store, Actor("d1", DRILLER), NOON + timedelta(days=1)), old.record_id, "wrong")


def test_the_same_day_is_the_sites_day(desk: Desk, store: Store) -> None:
    record = write(desk, OUTSIDE)
    late_evening = NOON + timedelta(hours=11, minutes=59)  # 23:59 in Chicago, the next day in UTC
    voiding.void(desk_of(store, Actor("d1", DRILLER), late_evening), record.record_id, "wrong")


def test_a_driller_voids_nothing_about_himself(desk: Desk) -> None:
    record = write(desk, OUTSIDE, hand="d1")
    with pytest.raises(Refused, match="void-himself"):
        voiding.void(acting(desk, "d1", DRILLER), record.record_id, "wrong")


def test_a_hand_voids_nothing(desk: Desk) -> None:
    record = write(desk, OUTSIDE, hand="h2", by="h1")
    with pytest.raises(Refused, match="may-not"):
        voiding.void(acting(desk, "h1", HAND), record.record_id, "wrong")


@pytest.mark.parametrize("second", ["h2", "c2", "d1"])
def test_lifting_a_stand_down_takes_a_second_observer_or_coordinator(desk: Desk, second: str) -> None:
    with desk.store.transaction() as writing:
        writing.put_pin(second, desk.store.keys.pin_hash(PIN), desk.at)
    record, coordinator = write(desk, StoodDown("grip")), acting(desk, "c1", COORDINATOR)
    with pytest.raises(Refused, match="void-needs-second"):
        voiding.void(coordinator, record.record_id, "wrong hand")
    with pytest.raises(Refused, match="pin-wrong"):
        voiding.void(coordinator, record.record_id, "wrong hand", Second(second, "111222", "tablet"))
    void = voiding.void(coordinator, record.record_id, "wrong hand", Second(second, PIN, "tablet"))
    assert isinstance(void.body, Void)
    assert void.body.second == second


@pytest.mark.parametrize("second", ["c1", "h1", "nobody", "h3"])
def test_not_everybody_is_a_second(desk: Desk, second: str) -> None:
    people.add_person(desk, "h3", "Flo", "floorhand", "day-1")
    record = write(desk, StoodDown("grip"))
    with pytest.raises(Refused, match="void-second"):
        voiding.void(acting(desk, "c1", COORDINATOR), record.record_id, "wrong", Second(second, PIN, "tablet"))


def test_an_observation_that_stood_a_hand_down_goes_with_it_and_takes_a_second(desk: Desk) -> None:
    watched = sheet(desk)
    down = write(desk, StoodDown("grip", observation=watched.record_id))
    with pytest.raises(Refused, match="void-needs-second"):
        voiding.void(acting(desk, "c1", COORDINATOR), watched.record_id, "wrong hand")
    voiding.void(desk, watched.record_id, "wrong hand")
    assert {watched.record_id, down.record_id} <= set(desk.store.voids())
    with pytest.raises(Refused, match="void-already"):
        voiding.void(desk, down.record_id, "again")


def test_an_observation_whose_stand_down_is_void_already_takes_no_second(desk: Desk) -> None:
    watched, coordinator = sheet(desk), acting(desk, "c1", COORDINATOR)
    down = write(desk, StoodDown("grip", observation=watched.record_id))
    voiding.void(desk, down.record_id, "wrong hand")
    assert voiding.offer(coordinator, watched.record_id) == Offer(False, ())
    voiding.void(coordinator, watched.record_id, "wrong hand")


def test_an_observation_without_a_stand_down_takes_no_second(desk: Desk) -> None:
    voiding.void(acting(desk, "c1", COORDINATOR), sheet(desk).record_id, "wrong hand")


def test_what_voiding_takes_is_told_beforehand(desk: Desk) -> None:
    coordinator = acting(desk, "c1", COORDINATOR)
    plain, watched = write(desk, OUTSIDE), sheet(desk)
    down = write(desk, StoodDown("grip", observation=watched.record_id))
    seconds = (("h2", "Bo"), ("d1", "Di"), ("c2", "Ed"))
    assert voiding.offer(coordinator, plain.record_id) == Offer(False, ())
    assert voiding.offer(coordinator, watched.record_id) == Offer(True, seconds)
    assert voiding.offer(coordinator, down.record_id) == Offer(True, seconds)
    assert voiding.offer(desk, down.record_id) == Offer(False, ())


def test_what_is_not_ones_own_to_void_is_not_offered(desk: Desk) -> None:
    record = write(desk, OUTSIDE)
    assert voiding.offer(acting(desk, "h1", HAND), record.record_id) is None
    assert voiding.offer(acting(desk, "h2", DRILLER), record.record_id) is None
    assert voiding.offer(desk, "nothing") is None
    voiding.void(desk, record.record_id, "wrong hand")
    assert voiding.offer(desk, record.record_id) is None
