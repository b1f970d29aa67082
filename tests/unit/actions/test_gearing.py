"""What a driller records about slip sets and bowls, what is refused, and what a paper test tells him to do next."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

import pytest

from tests.unit.actions.rig import CATALOGUE, Rig
from tests.unit.core.rigs import RIG, not_inspected
from trainer.actions import gearing, voiding
from trainer.actions.gearing import Imprint, PaperTest
from trainer.core.gear import Fitness, GearItem
from trainer.core.records import Gear, Record
from trainer.core.rig import with_wall, worn_crush_limit
from trainer.errors import BadInput, MechanicsRangeError, Refused

DAY = date(2026, 3, 2)
FULL = [[1.0, 1.0, 0.75], [1.0, 1.0, 1.0], [1.0, 1.0, 1.0]]
TOP = [[0.75, 0.5, 0.0], [1.0, 0.5, 0.0], [0.75, 0.5, 0.0]]
GEAR = {
    "set-a": GearItem("slips", {"en": "Set A"}),
    "set-b": GearItem("slips", {"en": "Set B"}),
    "bowl-1": GearItem("bowl", {"en": "Bowl 1"}),
}


@pytest.fixture
def floor(rig: Rig) -> Rig:
    """The rig with gear, as its driller sees it."""
    return replace(rig, catalogue=replace(CATALOGUE, site=replace(CATALOGUE.site, gear=GEAR))).by("dee")


def noted(
    floor: Rig,
    what: str,
    outcome: str,
    told: str = "seen",
    gear: str = "set-a",
    figures: Mapping[str, str] | None = None,
) -> Record:
    return gearing.note(floor.desk, gear, what, outcome, told, DAY, figures or {}, floor.desk.new_id())


def papered(floor: Rig, slips: str = "set-a", imprint: Imprint = FULL, load: str = "500") -> PaperTest:
    return gearing.note_test(floor.desk, slips, "bowl-1", imprint, load, "", DAY, floor.desk.new_id())


def fitness(floor: Rig) -> dict[str, Fitness]:
    return {each.gear: each.fitness for each in gearing.states(floor.desk)}


def test_a_full_paper_test_puts_set_and_bowl_in_service(floor: Rig) -> None:
    tested = papered(floor)
    assert tested.step == "in service, recorded"
    body = tested.record.body
    assert isinstance(body, Gear)
    assert (body.gear, body.what, body.outcome) == ("set-a", "paper-test", "full")
    assert body.figures["bowl"] == "bowl-1"
    assert body.figures["contact"] == "1,1,0.75;1,1,1;1,1,1"
    assert fitness(floor) == {
        "set-a": Fitness.IN_SERVICE, "set-b": Fitness.NOT_PROVEN, "bowl-1": Fitness.IN_SERVICE
    }  # fmt: skip


def test_two_failing_sets_in_one_bowl_point_at_the_bowl(floor: Rig) -> None:
    assert papered(floor, imprint=TOP).step.startswith("out of service until repeated")
    assert papered(floor, "set-b", TOP).step.startswith("bushing, bowl or table worn")


def test_new_slips_that_print_in_full_point_at_the_old_ones(floor: Rig) -> None:
    papered(floor, imprint=TOP)
    assert papered(floor, "set-b").step.startswith("old slips worn or bent")


def test_after_a_pair_of_tests_the_next_one_starts_afresh(floor: Rig) -> None:
    papered(floor, imprint=TOP)
    papered(floor, "set-b", TOP)
    assert papered(floor, imprint=TOP).step.startswith("out of service until repeated")


def test_a_second_press_writes_nothing(floor: Rig) -> None:
    record_id = floor.desk.new_id()
    first = gearing.note(floor.desk, "set-a", "check", "good", "", DAY, {}, record_id)
    assert gearing.note(floor.desk, "set-a", "check", "good", "", DAY, {}, record_id) == first
    assert len(gearing.events(floor.desk, "set-a")) == 1


def test_what_was_written_is_not_in_the_ledger_but_is_read_back(floor: Rig) -> None:
    record = noted(floor, "check", "defect", "Crack at the toe of segment 2")
    assert "Crack" not in str(record.body)
    ((event, told),) = gearing.events(floor.desk, "set-a")
    assert (event.record_id, told) == (record.record_id, "Crack at the toe of segment 2")
    assert fitness(floor)["set-a"] is Fitness.OUT


def test_a_voided_record_is_gone_from_the_gear(floor: Rig) -> None:
    record = noted(floor, "out", "out")
    voiding.void(floor.desk, record.record_id, "Wrong set")
    assert gearing.events(floor.desk, "set-a") == []
    assert fitness(floor)["set-a"] is Fitness.NOT_PROVEN


@pytest.mark.parametrize(
    ("what", "outcome", "told", "gear", "figures", "code"),
    [
        ("check", "splendid", "x", "set-a", {}, "gear-outcome"),
        ("paper-test", "full", "x", "set-a", {}, "gear-outcome"),
        ("polish", "good", "x", "set-a", {}, "gear-what"),
        ("check", "good", "x", "set-z", {}, "gear-unknown"),
        ("dies", "done", "x", "bowl-1", {"dies_out": "30", "dies_in": "30"}, "gear-unknown"),
        ("check", "defect", "  ", "set-a", {}, "gear-no-word"),
        ("back", "back", "", "set-a", {}, "gear-no-word"),
        ("dies", "done", "x", "set-a", {"dies_out": "30", "dies_in": "29"}, "gear-count-outcome"),
        ("dies", "count-short", "x", "set-a", {"dies_out": "30", "dies_in": "30"}, "gear-count-outcome"),
        ("dies", "done", "x", "set-a", {"dies_out": "0", "dies_in": "0"}, "gear-count"),
        ("dies", "done", "x", "set-a", {"dies_out": "2.5", "dies_in": "2.5"}, "gear-count"),
        ("dies", "done", "x", "set-a", {"dies_out": "121", "dies_in": "121"}, "gear-count-most"),
        ("dies", "done", "x", "set-a", {"dies_out": "-3", "dies_in": "-3"}, "gear-count"),
        ("dies", "done", "x", "set-a", {}, "not-a-number"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_written(
    floor: Rig, what: str, outcome: str, told: str, gear: str, figures: dict[str, str], code: str
) -> None:
    with pytest.raises(BadInput) as refused:
        noted(floor, what, outcome, told, gear, figures)
    assert refused.value.code == code
    assert list(floor.store.records(kinds=("gear",))) == []


def test_a_test_with_too_little_load_or_a_segment_short_is_no_test(floor: Rig) -> None:
    with pytest.raises(BadInput, match="gear-load"):
        papered(floor, load="449,9")
    with pytest.raises(BadInput, match="gear-segments"):
        papered(floor, imprint=FULL[:2])
    with pytest.raises(MechanicsRangeError):
        papered(floor, imprint=[[1.2, 1.0, 1.0], *FULL[1:]])
    assert list(floor.store.records(kinds=("gear",))) == []


def inspected(floor: Rig, left: float | None) -> Rig:
    """The rig with its own figures; ``left`` is the share of the wall that the inspection found."""
    entered = not_inspected() if left is None else with_wall(RIG, "premium", left)
    return floor.with_catalogue(replace(floor.catalogue, site=replace(floor.catalogue.site, rig=entered)))


def test_a_load_over_the_crush_limit_of_the_inspected_pipe_is_refused(floor: Rig) -> None:
    limit = worn_crush_limit(with_wall(RIG, "premium", 0.84).pipe, RIG.slips["set-a"].contact_length, RIG.friction)
    assert limit is not None
    rig = inspected(floor, 0.84)
    with pytest.raises(BadInput) as refused:
        papered(rig, load=f"{limit / 1000 + 0.1:.1f}")
    assert refused.value.code == "gear-load-crush"
    assert refused.value.values["most"] == f"{limit / 1000:.0f}"
    assert papered(rig, load=f"{limit / 1000 - 0.1:.1f}").record.kind == "gear"


@pytest.mark.parametrize("slips", ["set-a", "set-b"])
def test_before_the_inspection_or_for_a_set_without_figures_only_what_cannot_be_is_refused(
    floor: Rig, slips: str
) -> None:
    rig = inspected(floor, None if slips == "set-a" else 0.84)
    assert papered(rig, slips, load="4500").record.kind == "gear"
    with pytest.raises(BadInput) as refused:
        papered(rig, slips, load="4500.1")
    assert refused.value.code == "gear-load-most"


def test_counts_and_load_are_read_back(floor: Rig) -> None:
    papered(floor, load="520")
    noted(floor, "dies", "done", figures={"dies_out": "45", "dies_in": "45"})
    noted(floor, "check", "good")
    read = [(event.load_kn, event.dies) for event, _ in gearing.events(floor.desk, "set-a")]
    assert read == [(None, None), (None, (45, 45)), (520.0, None)]


def test_a_day_to_come_is_refused(floor: Rig) -> None:
    with pytest.raises(BadInput, match="gear-future"):
        gearing.note(floor.desk, "set-a", "check", "good", "", date(2026, 3, 3), {}, floor.desk.new_id())


def test_a_hand_reads_and_records_none_of_it(floor: Rig) -> None:
    for call in (lambda: gearing.states(floor.by("ana").desk), lambda: noted(floor.by("ana"), "check", "good")):
        with pytest.raises(Refused, match="may-not"):
            call()
