"""Laws of the stop that hold for any string: energy, linearity, bounds, the speed at which the slips unload."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.mechanics import (
    Section,
    hanging_load,
    impedance,
    lift_height,
    slip_load_history,
    unseating_speed,
    wave_speed,
)
from trainer.mechanics.waves import march, mesh, moved_top

SECTIONS = st.builds(
    Section,
    length=st.floats(50.0, 4000.0),
    area=st.floats(2e-3, 4e-2),
    mass_per_length=st.floats(10.0, 400.0),
)
STRINGS = st.lists(SECTIONS, min_size=1, max_size=4)
MUDS = st.floats(0.0, 2500.0)
SPEEDS = st.floats(0.05, 4.0)
few = settings(max_examples=40, deadline=None)


@few
@given(string=STRINGS, speed=SPEEDS)
def test_a_clamped_string_keeps_its_energy(string: list[Section], speed: float) -> None:
    grid = mesh(string)
    steps = grid.steps_in(2 * grid.period)
    waves = march(grid, speed, steps, moved_top(grid.impedances[0], np.zeros(steps)))
    length, cells = sum(section.length for section in string), sum(grid.cells)
    moving = sum(n / cells * z for n, z in zip(grid.cells, grid.impedances, strict=True)) * length / wave_speed()
    assert waves.energy(0) == pytest.approx(moving * speed**2 / 2, rel=1e-12)
    for step in (1, steps // 3, steps // 2, steps):
        assert waves.energy(step) == pytest.approx(waves.energy(0), rel=1e-12)


@few
@given(string=STRINGS, speed=SPEEDS, share=st.floats(0.05, 0.9))
def test_a_slow_stop_takes_energy_out_only_while_it_slows(string: list[Section], speed: float, share: float) -> None:
    grid = mesh(string)
    steps = grid.steps_in(grid.period)
    slowed = int(share * steps)
    velocity = speed * np.clip(1 - np.arange(steps) / slowed, 0.0, None)
    waves = march(grid, speed, steps, moved_top(grid.impedances[0], velocity))
    assert waves.energy(steps) == pytest.approx(waves.energy(slowed), rel=1e-12, abs=1e-12 * waves.energy(0))


@few
@given(string=STRINGS, mud=MUDS, speed=SPEEDS, stop_time=st.sampled_from([0.0, 0.07, 0.9]))
def test_the_hit_grows_with_the_speed_and_begins_at_zv(
    string: list[Section], mud: float, speed: float, stop_time: float
) -> None:
    one = slip_load_history(string, mud, speed, stop_time)
    two = slip_load_history(string, mud, 2 * speed, stop_time)
    tolerance = 1e-9 * impedance(max(section.area for section in string)) * speed
    np.testing.assert_allclose(two.load - two.static, 2 * (one.load - one.static), rtol=1e-9, atol=tolerance)
    assert one.trough <= one.peak
    if stop_time == 0:
        assert one.load[0] == pytest.approx(one.static + impedance(string[0].area) * speed)


@few
@given(section=SECTIONS, mud=MUDS)
def test_a_uniform_string_begins_to_unload_at_w_over_z(section: Section, mud: float) -> None:
    speed = unseating_speed([section], mud)
    assert speed == pytest.approx(hanging_load([section], mud) / impedance(section.area))
    if speed < 20:
        assert slip_load_history([section], mud, 0.999 * speed).trough > 0
        assert slip_load_history([section], mud, 1.001 * speed).trough < 0


@few
@given(string=STRINGS, mud=MUDS)
def test_any_string_unloads_above_its_unseating_speed_only(string: list[Section], mud: float) -> None:
    speed = unseating_speed(string, mud)
    if speed < 20:
        assert slip_load_history(string, mud, 0.999 * speed).trough > 0
        assert slip_load_history(string, mud, 1.001 * speed).trough < 0
        assert lift_height(string, mud, 0.999 * speed) == 0
        assert lift_height(string, mud, 1.001 * speed) > 0


@few
@given(section=SECTIONS, mud=MUDS, times=st.floats(1.001, 3.0))
def test_a_uniform_string_lifts_by_the_surplus_speed_for_one_return(section: Section, mud: float, times: float) -> None:
    unseating = unseating_speed([section], mud)
    if times * unseating < 25:
        surplus = times * unseating - unseating
        lift = lift_height([section], mud, times * unseating)
        assert lift == pytest.approx(2 * section.length * surplus / wave_speed(), rel=1e-9)


@few
@given(string=STRINGS)
def test_cutting_keeps_the_total_travel_time(string: list[Section]) -> None:
    grid = mesh(string)
    total = sum(section.length for section in string)
    assert sum(grid.cells) * grid.step * wave_speed() == pytest.approx(total, rel=1e-12)
    assert min(grid.cells) >= 1
