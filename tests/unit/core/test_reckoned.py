"""What the rig's figures come to, against the worked figures of the mechanics."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.unit.core.rigs import RIG, SLIPS, new_pipe, not_inspected
from trainer.core.reckoned import (
    WAYS,
    contact,
    grease,
    hanging,
    ladder,
    less_margin,
    shares,
    stick_up,
)
from trainer.core.rig import sections
from trainer.errors import MechanicsRangeError
from trainer.mechanics import recommended_weight
from trainer.mechanics.constants import GRAVITY

NEW = new_pipe()


def test_three_thousand_metres_weigh_what_they_should() -> None:
    found = hanging(sections(RIG, 3000.0, with_heavy=False), 1200.0, 18_000.0)
    # 20.9 lb/ft is 31.10 kg/m; the worked figure of 774.8 kN is for 31.088.
    assert found.on_slips / 1000 == pytest.approx(774.8 * 31.1026 / 31.088, abs=0.2)
    assert found.indicator == pytest.approx(found.on_slips + 18_000 * GRAVITY)
    assert found.parts == (pytest.approx(found.on_slips),)


def test_the_parts_make_up_what_the_slips_carry() -> None:
    found = hanging(sections(RIG, 2800.0), 1200.0, 0.0)
    assert len(found.parts) == 3
    assert sum(found.parts) == pytest.approx(found.on_slips)
    assert found.indicator == found.on_slips


@pytest.mark.parametrize(
    ("way", "off_centre", "by_person"),
    [
        ("three", 0.0, (30, 30, 30)),
        ("three", 0.06, (42, 24, 24)),
        ("two-in-turn", 0.0, (60, 30)),
        ("two-share-middle", 0.0, (45, 45)),
    ],
)
def test_ninety_kilograms_are_shared_as_worked_out(way: str, off_centre: float, by_person: tuple[int, ...]) -> None:
    assert shares(SLIPS, 90.0, way, off_centre).by_person == pytest.approx(by_person)


@given(mass=st.floats(30, 150), off=st.floats(0, 0.15), way=st.sampled_from(WAYS))
def test_the_people_carry_the_whole_set(mass: float, off: float, way: str) -> None:
    found = shares(SLIPS, mass, way, off)
    assert sum(found.by_person) == pytest.approx(mass)
    assert sum(found.handles) == pytest.approx(mass)


def test_a_team_must_be_stronger_than_its_share() -> None:
    assert shares(SLIPS, 90.0, "three", 0.0).each_alone == pytest.approx(60.0)
    assert shares(SLIPS, 90.0, "two-in-turn", 0.0).each_alone == pytest.approx(67.5)


def test_the_ladder_ends_at_the_guideline() -> None:
    found = ladder(30.0, 0.40, 0.45, 0.50, 30.0, 1.0, 8.0, "fair")
    assert found.limit == pytest.approx(7.67, abs=0.005)
    assert found.index == pytest.approx(3.9, abs=0.05)
    assert [rung.about for rung in found.rungs] == ["reach", "height", "travel", "twist", "pace", "grip"]
    assert [round(rung.factor, 3) for rung in found.rungs] == [0.625, 0.91, 0.91, 0.904, 0.75, 0.95]


@given(
    reach=st.floats(0.2, 0.8),
    height=st.floats(0, 1.8),
    twist=st.floats(0, 140),
    pace=st.floats(0.2, 16),
    hours=st.sampled_from((1.0, 2.0, 8.0)),
)
def test_every_rung_leads_down_to_what_the_equation_gives(
    reach: float, height: float, twist: float, pace: float, hours: float
) -> None:
    found = ladder(30.0, reach, height, 0.5, twist, pace, hours, "fair")
    wanted = recommended_weight(reach, height, 0.5, twist, pace, hours, "fair")
    assert found.limit == pytest.approx(wanted)
    assert (found.index is None) == (wanted == 0)
    left = found.best
    for rung in found.rungs:
        assert rung.left == pytest.approx(left * rung.factor)
        left = rung.left


def test_beyond_reach_no_weight_is_recommended() -> None:
    assert ladder(30.0, 0.64, 0.45, 0.50, 30.0, 1.0, 8.0, "fair").index is None


def test_top_only_contact_takes_a_third_of_the_safe_load() -> None:
    slips = replace(SLIPS, contact_length=0.4191)
    found = contact(NEW, slips, (0.88, 0.35, 0.03), 500e3)
    assert found.reading.verdict == "top only"
    assert found.full_ratio == pytest.approx(1.40, abs=0.01)
    assert found.ratio == pytest.approx(2.13, abs=0.01)
    assert found.kept == pytest.approx(2 / 3, abs=0.02)
    assert found.limit == pytest.approx((found.full_limit or 0) * found.kept)


def test_nothing_printed_leaves_no_limit() -> None:
    found = contact(NEW, SLIPS, (0.0, 0.0, 0.0), 500e3)
    assert (found.reading.verdict, found.ratio, found.limit, found.kept) == ("no record", None, None, 0.0)


def test_contact_before_the_class_is_known_has_a_ratio_but_no_limit() -> None:
    found = contact(not_inspected(), SLIPS, (0.9, 0.9, 0.9), 500e3)
    assert found.ratio is not None
    assert (found.limit, found.full_limit) == (None, None)


def test_the_height_shown_is_never_above_the_sites_own() -> None:
    high = stick_up(NEW, 22_836 * 1.3558179, 0.0)
    assert high is not None
    assert high.limit == pytest.approx(1.515, abs=0.002)
    assert high.height == 0.9
    assert high.used == pytest.approx(0.9 / 1.515, abs=0.002)

    low = stick_up(NEW, 3 * 22_836 * 1.3558179, 0.0)
    assert low is not None
    assert low.height == low.limit < 0.9
    assert low.used == 1.0


def test_pulls_in_line_and_worn_pipe_bring_the_joint_down() -> None:
    in_line = replace(NEW, tongs=replace(NEW.tongs, layout="180"))
    heights = [stick_up(rig, 30_961.5, 500e3) for rig in (NEW, in_line, RIG)]
    limits = [each.limit for each in heights if each is not None]
    assert limits[1] / limits[0] == pytest.approx(0.5 / 0.7071, rel=1e-3)
    assert limits[2] < limits[0]
    assert stick_up(not_inspected(), 30_961.5, 0.0) is None


def test_a_load_that_the_tube_cannot_hold_is_refused() -> None:
    with pytest.raises(MechanicsRangeError, match="hanging_load"):
        stick_up(RIG, 30_961.5, 2e6)


def test_greased_backs_squeeze_four_times_and_keep_a_third() -> None:
    found = grease(NEW, SLIPS, 0.08)
    assert found.squeeze == pytest.approx(4.0, abs=0.001)
    assert found.ratio == pytest.approx(1.420, abs=0.001)
    assert (found.limit or 0) / 1000 == pytest.approx(1239.5, abs=0.1)
    assert found.grip == pytest.approx(0.25, abs=0.001)
    assert found.keeps == pytest.approx(0.34, abs=0.005)
    assert not found.sticks
    assert grease(NEW, SLIPS, 0.2).sticks
    assert grease(not_inspected(), SLIPS, 0.08).limit is None


def test_the_limit_is_always_shown_less_a_fifth() -> None:
    assert less_margin(1000.0) == 800.0
