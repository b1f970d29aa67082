"""A sudden stop as a line and as frames: nothing that matters is lost on the way from the samples to the screen."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.unit.core.rigs import RIG
from trainer.core import stopping
from trainer.core.rig import sections
from trainer.core.stopping import SLICES, motion, stop, thinned
from trainer.mechanics import Section, impedance, slip_load_history, wave_speed

UNIFORM = (Section(1000.0, 3.403e-3, 31.088),)
WHOLE = sections(RIG, 2800.0)
MUD = 1200.0


def test_a_uniform_string_makes_the_worked_line() -> None:
    found = stop(UNIFORM, MUD, 1.5, 0.0)
    assert [round(each / 1000) for each in (found.peak, found.trough, found.static)] == [464, 53, 258]
    swing = 2 * 1000 / wave_speed()
    assert [point[0] for point in found.line] == pytest.approx([place * swing for place in (0, 1, 1, 2, 2, 3, 3, 4)])
    assert [point[1] for point in found.line[:4]] == pytest.approx([found.peak, found.peak, found.trough, found.trough])


def test_standing_pipe_carries_its_weight_and_nothing_jumps() -> None:
    found = stop(WHOLE, MUD, 0.0, 0.0)
    assert found.peak == found.trough == found.static
    assert found.lift == 0.0
    assert len(found.line) == 2


def test_two_hundred_metres_are_thrown_above_the_worked_speed() -> None:
    light = (Section(200.0, 3.403e-3, 31.088),)
    assert stop(light, MUD, 0.37, 0.0).trough > 0
    thrown = stop(light, MUD, 0.5, 0.0)
    assert thrown.throws_above == pytest.approx(0.377, abs=0.001)
    assert thrown.trough < 0
    assert thrown.lift == pytest.approx(0.0096, abs=0.0001)


def test_how_far_it_is_thrown_is_not_said_beyond_the_formula() -> None:
    light = (Section(200.0, 3.403e-3, 31.088),)
    assert stop(light, MUD, 2.0, 0.0).lift is None
    assert stop(light, MUD, 0.5, 0.1).lift is None


@settings(deadline=None, max_examples=15)
@given(speed=st.floats(0.1, 3.0), stop_time=st.floats(0.0, 3.0), pipe=st.floats(50.0, 6000.0), heavy=st.booleans())
def test_the_line_sent_keeps_the_highest_and_the_lowest_load(
    speed: float, stop_time: float, pipe: float, heavy: bool
) -> None:
    string = sections(RIG, pipe, with_heavy=heavy)
    found = stop(string, MUD, speed, stop_time)
    loads = [load for _, load in found.line]
    times = [time for time, _ in found.line]
    assert max(loads) == pytest.approx(found.peak)
    assert min(loads) == pytest.approx(found.trough)
    assert times == sorted(times)
    assert len(loads) <= 1000
    assert found.line[0][0] == 0.0


@settings(deadline=None)
@given(
    jumps=st.lists(st.tuples(st.integers(1, 400), st.integers(-1_000_000, 1_000_000)), min_size=1, max_size=60),
    most=st.sampled_from((8, 40, 900)),
)
def test_no_jump_is_lost_by_thinning(jumps: list[tuple[int, int]], most: int) -> None:
    load = np.concatenate([np.full(count, float(level)) for count, level in jumps])
    time = np.arange(load.size, dtype=np.float64)
    kept = thinned(time, load, most)
    assert kept[0] == 0
    assert kept[-1] == load.size - 1
    assert load[kept].max() == load.max()
    assert load[kept].min() == load.min()
    if 2 * len(jumps) <= most:
        # Few enough to keep all: the line through what is left is the line through everything.
        assert np.interp(time, time[kept], load[kept]) == pytest.approx(load, abs=1.0)


def test_a_long_history_is_thinned_to_what_a_screen_can_take() -> None:
    odd = sections(RIG, 2812.3)
    history = slip_load_history(odd, MUD, 1.5, 0.37)
    assert history.time.size > 4000
    assert len(stop(odd, MUD, 1.5, 0.37).line) <= 1000


def test_the_string_begins_as_one_and_the_wave_runs_down_from_the_slips() -> None:
    found = motion(UNIFORM, MUD, 1.5, 0.0)
    quarter = next(n for n, time in enumerate(found.times) if time > 0.5 * 1000 / wave_speed())
    pulled = found.pull[quarter]
    front = sum(force == 100 for force in pulled)
    assert front == pytest.approx(found.times[quarter] * wave_speed() / 1000 * SLICES, abs=2)
    assert set(pulled[front:]) == {0}
    assert found.shift[quarter][-1] > found.shift[quarter][0] >= 0


def test_the_free_end_goes_down_and_comes_back_as_far() -> None:
    found = motion(UNIFORM, MUD, 1.5, 0.0)
    end = [row[-1] for row in found.shift]
    assert max(end) == 100
    assert min(end) == pytest.approx(-100, abs=3)
    assert all(abs(row[0]) <= 4 for row in found.shift)


@pytest.mark.parametrize("stop_time", [0.0, 0.5])
def test_the_frames_meet_the_highest_and_the_lowest_load(stop_time: float) -> None:
    line, frames = stop(WHOLE, MUD, 1.5, stop_time), motion(WHOLE, MUD, 1.5, stop_time)
    assert frames.loads[frames.highest] == pytest.approx(line.peak, rel=0.01)
    assert frames.loads[frames.lowest] == pytest.approx(line.trough, rel=0.01)
    assert len(frames.times) == len(frames.pull) == len(frames.shift) == len(frames.loads)
    assert {len(row) for row in frames.pull} == {SLICES}
    assert list(frames.times) == sorted(frames.times)


def test_the_uppermost_slice_is_pulled_as_hard_as_the_slips_feel() -> None:
    frames = motion(UNIFORM, MUD, 1.5, 0.0)
    static = stop(UNIFORM, MUD, 1.5, 0.0).static
    most = 1.5 * impedance(3.403e-3)
    for row, load in zip(frames.pull[2:-1:7], frames.loads[2:-1:7], strict=True):
        assert static + most * row[0] / 100 == pytest.approx(load, rel=0.02)


def test_tool_joints_smeared_in_add_a_tenth() -> None:
    assert pytest.approx(1.1) == stopping.TOOL_JOINTS
