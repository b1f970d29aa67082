"""The stop with the slips against worked figures, the exact reflection series and an independent solution."""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.unit.mechanics import leapfrog
from trainer.errors import MechanicsRangeError
from trainer.mechanics import (
    PIPES,
    Section,
    StopHistory,
    area,
    hanging_load,
    impedance,
    lift_height,
    slip_load_history,
    unseating_speed,
    wave_speed,
)
from trainer.mechanics.stop import _RidingTop
from trainer.mechanics.waves import march, mesh

TUBE = area(PIPES["5 in 19.50"].od, PIPES["5 in 19.50"].id)
COLLAR = 0.0282
MUD = 1200.0
Floats = NDArray[np.float64]


def pipe(length: float) -> Section:
    return Section(length, TUBE, 31.088)


def collars(length: float) -> Section:
    return Section(length, COLLAR, 219.0)


def series(time: Floats, length: float, speed: float, stop_time: float) -> Floats:
    """Load less static of a uniform string: Z[ΔV(t) − 2ΔV(t − 2L/c) + 2ΔV(t − 4L/c) − …]."""
    total = np.zeros_like(time)
    for n in range(int(time[-1] * wave_speed() / (2 * length)) + 1):
        late = time - n * 2 * length / wave_speed()
        done = np.clip(late / stop_time, 0, 1) if stop_time else (late >= 0).astype(float)
        total += (1 if n == 0 else 2) * (-1) ** n * speed * done
    return impedance(TUBE) * total


def bounces(first: int, second: int, steps: int) -> Floats:
    """Load of two sections after each double step, Z₁v as 1: (1 + Γz₁)/(1 − Γz₁), Γ = (R − z₂)/(1 − R z₂)."""
    r = (COLLAR - TUBE) / (COLLAR + TUBE)
    above, below = np.zeros(steps), np.zeros(steps)
    for delay, above_by, below_by in ((0, 1, 1), (second, -r, -r), (first, r, -r), (first + second, -1, 1)):
        above[delay] += above_by
        below[delay] += below_by
    out = np.zeros(steps)
    for k in range(steps):
        out[k] = above[k] - below[1 : k + 1] @ out[:k][::-1]
    return np.cumsum(out)


def test_steel_carries_waves_as_worked() -> None:
    assert wave_speed() == pytest.approx(5133, abs=0.5)
    assert impedance(TUBE) == pytest.approx(137.1e3, abs=0.05e3)
    assert impedance(TUBE) / TUBE == pytest.approx(40.3e6, abs=0.05e6)


def test_a_thousand_metres_at_a_metre_and_a_half_peak_as_worked() -> None:
    history = slip_load_history([pipe(1000.0)], MUD, 1.5)
    assert history.peak == pytest.approx(464e3, abs=0.5e3)
    assert history.trough == pytest.approx(53e3, abs=0.5e3)
    assert history.static == pytest.approx(258e3, abs=0.5e3)


@pytest.mark.parametrize("stop_time", [0.0, 0.01, 0.2, 0.3896, 0.9, 3.0])
@pytest.mark.parametrize("length", [37.3, 1000.0])
def test_a_uniform_string_follows_the_exact_series(length: float, stop_time: float) -> None:
    history = slip_load_history([pipe(length)], MUD, 1.5, stop_time, duration=33 * length / wave_speed())
    exact = history.static + series(history.time, length, 1.5, stop_time)
    np.testing.assert_allclose(history.load, exact, rtol=1e-9, atol=1e-9 * history.static)


def test_a_uniform_string_told_in_pieces_is_one_string() -> None:
    whole = slip_load_history([pipe(1000.0)], MUD, 1.5)
    pieces = slip_load_history([pipe(123.4), pipe(700.0), pipe(176.6)], MUD, 1.5)
    np.testing.assert_allclose(pieces.load, whole.load, rtol=1e-9)


def test_two_sections_follow_the_exact_bounces() -> None:
    sections = [pipe(2800.0), collars(200.0)]
    history = slip_load_history(sections, MUD, 1.5)
    upper, lower = mesh(sections).cells
    exact = history.static + impedance(TUBE) * 1.5 * bounces(upper, lower, history.load.size // 2)
    np.testing.assert_allclose(history.load[::2], exact, rtol=1e-9)
    np.testing.assert_allclose(history.load[1::2], exact, rtol=1e-9)


def test_heavy_collars_make_the_second_hit_the_big_one() -> None:
    sections = [pipe(2800.0), collars(200.0)]
    history = slip_load_history(sections, MUD, 1.5)
    r = (COLLAR - TUBE) / (COLLAR + TUBE)
    second = history.load[np.searchsorted(history.time, 2 * 2800.0 / wave_speed() + 0.001)]
    first = history.load[0]
    assert first == pytest.approx(history.static + impedance(TUBE) * 1.5)
    assert second == pytest.approx(history.static + impedance(TUBE) * 1.5 * (1 + 2 * r))
    assert second > first


@pytest.mark.parametrize("lengths", [(2600.0, 180.0), (2613.37, 168.26)])
def test_mixed_strings_follow_an_independent_solution(lengths: tuple[float, float]) -> None:
    sections = [pipe(lengths[0]), Section(220.0, 8.1e-3, 73.0), collars(lengths[1])]
    history = slip_load_history(sections, MUD, 1.5, stop_time=0.3)
    time, change = leapfrog.load_change(sections, 1.5, 0.3, float(history.time[-1]), cell=5.0)
    away = np.abs(history.load - history.static - np.interp(history.time, time, change))
    assert away.max() < 0.01 * impedance(TUBE) * 1.5


@pytest.mark.parametrize("share", [0.25, 0.9, 1.0, 1.7, 4.0])
def test_a_slow_stop_helps_only_beyond_the_waves_return(share: float) -> None:
    back = 2 * 1000.0 / wave_speed()
    history = slip_load_history([pipe(1000.0)], MUD, 1.5, stop_time=share * back)
    assert history.peak - history.static == pytest.approx(impedance(TUBE) * 1.5 * min(1, 1 / share), rel=1e-9)


def test_the_history_lasts_two_periods_unless_told() -> None:
    sections = [pipe(2800.0), collars(200.0)]
    period = 4 * 3000.0 / wave_speed()
    assert slip_load_history(sections, MUD, 1.0, 0.5).time[-1] == pytest.approx(2 * period)
    assert slip_load_history(sections, MUD, 1.0, 0.5, duration=1.0).time[-1] == 1.0
    assert 0.999 < slip_load_history(sections, MUD, 1.0, duration=1.0).time[-1] < 1.0


def test_samples_run_forward_and_cannot_be_changed() -> None:
    history: StopHistory = slip_load_history([pipe(2800.0), collars(200.0)], MUD, 1.0, 0.5)
    assert (np.diff(history.time) >= 0).all()
    assert (history.peak, history.trough) == (history.load.max(), history.load.min())
    with pytest.raises(ValueError, match="read-only"):
        history.load[0] = 0.0


def test_pipe_that_stands_still_gives_no_hit() -> None:
    history = slip_load_history([pipe(1000.0)], MUD, 0.0)
    assert history.peak == history.trough == history.static


def test_two_hundred_metres_unseat_as_worked() -> None:
    assert unseating_speed([pipe(200.0)], MUD) == pytest.approx(0.377, abs=0.0005)


def test_several_sections_unseat_where_their_load_first_reaches_nothing() -> None:
    sections = [pipe(2800.0), collars(200.0)]
    speed = unseating_speed(sections, MUD)
    assert slip_load_history(sections, MUD, speed).trough == pytest.approx(0, abs=1e-3)
    assert speed < hanging_load(sections, MUD) / impedance(TUBE)


def test_a_very_heavy_end_unloads_the_slips_in_its_own_slow_time() -> None:
    sections = [Section(50.0, 1e-3, 10.0), Section(50.0, 3.2e-2, 250.0)]
    speed = unseating_speed(sections, MUD)
    assert slip_load_history(sections, MUD, 1.01 * speed).trough > 0
    later = slip_load_history(sections, MUD, 1.01 * speed, duration=4 * 400.0 / wave_speed())
    assert later.trough < 0
    assert lift_height(sections, MUD, 1.01 * speed) > 0


def test_the_set_lifts_by_the_worked_formula() -> None:
    unseating = unseating_speed([pipe(200.0)], MUD)
    for times in (1.5, 2.0, 3.0):
        speed = times * unseating
        height = 2 * 200.0 * (speed - unseating) / wave_speed()
        assert lift_height([pipe(200.0)], MUD, speed) == pytest.approx(height)


@pytest.mark.parametrize("times", [1.2, 2.0, 2.5, 3.0])
def test_the_step_by_step_lift_gives_the_formula_for_a_uniform_string(times: float) -> None:
    grid, static = mesh([pipe(200.0)]), hanging_load([pipe(200.0)], MUD)
    top = _RidingTop(grid.impedances[0], static, grid.step)
    speed = times * unseating_speed([pipe(200.0)], MUD)
    march(grid, speed, grid.steps_in(2 * grid.period), top)
    assert top.highest == pytest.approx(lift_height([pipe(200.0)], MUD, speed), rel=1e-9)


def test_nothing_lifts_at_or_below_the_unseating_speed() -> None:
    for sections in ([pipe(200.0)], [pipe(200.0), collars(50.0)]):
        assert lift_height(sections, MUD, unseating_speed(sections, MUD)) == 0.0
        assert lift_height(sections, MUD, 1.1 * unseating_speed(sections, MUD)) > 0.0


def test_a_lift_beyond_three_times_the_unseating_speed_is_refused() -> None:
    with pytest.raises(MechanicsRangeError) as refused:
        lift_height([pipe(200.0)], MUD, 3.01 * 0.37669)
    assert refused.value.argument == "speed"
    assert refused.value.allowed.startswith("0 to 1.13 m/s")


@pytest.mark.parametrize(
    ("argument", "value"),
    [("speed", -0.1), ("speed", 26.0), ("stop_time", -0.1), ("duration", 0.0), ("duration", 1e4), ("sections", [])],
)
def test_a_stop_that_cannot_be_is_refused(argument: str, value: object) -> None:
    given: dict[str, object] = {"sections": [pipe(1000.0)], "mud_density": MUD, "speed": 1.0, argument: value}
    with pytest.raises(MechanicsRangeError) as refused:
        slip_load_history(**given)  # type: ignore[arg-type]
    assert (refused.value.argument, refused.value.value) == (argument, value)


def test_lengths_with_a_common_unit_are_cut_exactly() -> None:
    cells = mesh([pipe(2600.0), Section(220.0, 8.1e-3, 73.0), collars(180.0)]).cells
    assert (cells[0] / cells[2], cells[1] / cells[2]) == (2600 / 180, 220 / 180)


def test_other_lengths_are_cut_within_a_thousandth_where_that_can_be() -> None:
    lengths = (2613.37, 218.4, 168.26)
    cells = mesh([pipe(lengths[0]), Section(lengths[1], 8.1e-3, 73.0), collars(lengths[2])]).cells
    for n, length in zip(cells, lengths, strict=True):
        assert math.isclose(n / sum(cells) * sum(lengths), length, rel_tol=1e-3)


def test_the_shortest_sub_keeps_a_cell() -> None:
    assert min(mesh([pipe(9000.0), collars(0.5), pipe(100.0)]).cells) >= 1
