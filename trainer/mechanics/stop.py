"""Stopping moving pipe with the slips: the load that the slips feel, when they unload, how far the set is thrown.

All of it assumes elastic steel, a free lower end, no damping and no mud drag. The tube's area and steel's own speed
carry the wave; `mass_per_length`, which includes tool joints, enters the static load only. What is taught from it is no
permitted speed: the pipe is stopped before the slips go in.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from trainer.errors import MechanicsRangeError
from trainer.mechanics.ranges import SPEED, STOP_TIME, FloatArray, Range
from trainer.mechanics.string import Section, hanging_load
from trainer.mechanics.waves import Mesh, Waves, impedance, march, mesh, moved_top, wave_speed

__all__ = [
    "StopHistory",
    "impedance",
    "lift_height",
    "slip_load_history",
    "unseating_speed",
    "wave_speed",
]

DEFAULT_PERIODS = 2
MOST_PERIODS = 100
AT_ONCE = 1e-9
"""Longest stop that is taken as one at once [s]."""


@dataclass(frozen=True, slots=True, eq=False)
class StopHistory:
    """Slip `load` [N] at each `time` [s] since the slips took hold, its `peak` and `trough`, and the `static` load [N].

    Both arrays are read-only. Peak and trough are those of the whole history, not only of the samples.
    """

    time: FloatArray
    load: FloatArray
    peak: float
    trough: float
    static: float


def slip_load_history(
    sections: Sequence[Section],
    mud_density: float,
    speed: float,
    stop_time: float = 0.0,
    duration: float | None = None,
) -> StopHistory:
    """The load on the slips after they stop pipe that runs in at `speed`.

    `sections` from the slips down, `mud_density` [kg/m³], `speed` [m/s] down, `stop_time` T [s] over which the pipe
    slows evenly, 0 for at once, `duration` [s], two periods 4ΣL/c unless given. The top is clamped: a load below zero
    means that the slips unload. Uniform string: F = W + Z[ΔV(t) − 2ΔV(t − 2L/c) + 2ΔV(t − 4L/c) − …], ΔV the velocity
    taken off so far; several: method of characteristics, R = (Z₂ − Z₁)/(Z₂ + Z₁) at a joint, lengths rounded as `mesh`
    says. A stop at once gives a load in steps and is sampled in the middle of each; a slower one gives straight lines
    and is sampled where they meet. Valid for v 0 to 25 m/s, T to 3600 s, duration to 100 periods.
    Source: Saint-Venant's rod impact; derived.

    >>> history = slip_load_history([Section(1000.0, 3.403e-3, 31.088)], 1200.0, 1.5)
    >>> [round(load / 1000) for load in (history.peak, history.trough, history.static)]
    [464, 53, 258]
    """
    SPEED.check("speed", speed)
    STOP_TIME.check("stop_time", stop_time)
    static = hanging_load(sections, mud_density)
    grid = mesh(sections)
    lasting = _lasting(grid, duration)
    time, change = _slow(grid, speed, stop_time, lasting) if stop_time > AT_ONCE else _sudden(grid, speed, lasting)
    return _history(time, static + change, static)


def _lasting(grid: Mesh, duration: float | None) -> float:
    if duration is None:
        return DEFAULT_PERIODS * grid.period
    Range(0.0, MOST_PERIODS * grid.period, "s", above=True).check("duration", duration)
    return duration


def _history(time: FloatArray, load: FloatArray, static: float) -> StopHistory:
    time.flags.writeable = False
    load.flags.writeable = False
    return StopHistory(time, load, float(load.max()), float(load.min()), static)


def _clamped(grid: Mesh, speed: float, steps: int) -> Waves:
    return march(grid, speed, steps, moved_top(grid.impedances[0], np.zeros(steps)))


def _sudden(grid: Mesh, speed: float, duration: float) -> tuple[FloatArray, FloatArray]:
    steps = grid.steps_in(duration)
    edges = np.minimum(np.arange(steps + 1) * grid.step, duration)
    # With the top at rest the load is the arriving wave itself. Jumps fall on edges, so no sample is in doubt.
    return (edges[:-1] + edges[1:]) / 2, _clamped(grid, speed, steps).rising[0][:steps].copy()


def _slow(grid: Mesh, speed: float, stop_time: float, duration: float) -> tuple[FloatArray, FloatArray]:
    # The load bends only at whole steps and at whole steps after T: a march in step with each finds every bend.
    marches = [_slowing(grid, speed, stop_time, duration, start) for start in (0.0, stop_time % grid.step)]
    time = np.concatenate([times for times, _ in marches])
    change = np.concatenate([changes for _, changes in marches])
    order = np.argsort(time, kind="stable")
    time, change = time[order], change[order]
    kept: FloatArray = np.append(time[time < duration], duration)
    return kept, np.interp(kept, time, change)


def _slowing(
    grid: Mesh, speed: float, stop_time: float, duration: float, start: float
) -> tuple[FloatArray, FloatArray]:
    steps = grid.steps_in(duration) + 1
    time = start + np.arange(steps, dtype=np.float64) * grid.step
    velocity = np.interp(time, (0.0, stop_time), (speed, 0.0))
    z = grid.impedances[0]
    waves = march(grid, speed, steps, moved_top(z, velocity))
    return time, waves.rising[0][:steps] - z * velocity


def unseating_speed(sections: Sequence[Section], mud_density: float) -> float:
    """Lowest running-in speed from which a stop at once unloads the slips [m/s]; above it the set can be thrown.

    Uniform string: v = W/Z; several sections: the lowest at which the load under a clamped top reaches 0 within two
    periods 4ΣL/c, or twice as long, and so on, where a very heavy end bounces so slowly that no speed does it sooner.
    `sections` from the slips down, `mud_density` [kg/m³]. Assumes a stop at once, no damping. Not a permitted speed.
    Source: derived.

    >>> round(unseating_speed([Section(200.0, 3.403e-3, 31.088)], 1200.0), 3)
    0.377
    """
    return _unseating(mesh(sections), hanging_load(sections, mud_density))[0]


def _unseating(grid: Mesh, static: float) -> tuple[float, int]:
    """The unseating speed, and the steps within which it was found."""
    steps = grid.steps_in(DEFAULT_PERIODS * grid.period)
    # The load is linear in the speed: one march at 1 m/s serves for all. Undamped, it must swing below 0 some time.
    while (lowest := float(_clamped(grid, 1.0, steps).rising[0][:steps].min())) > -1e-9 * grid.impedances[0]:
        steps *= 2
    return static / -lowest, steps


def lift_height(sections: Sequence[Section], mud_density: float, speed: float) -> float:
    """Height to which the set is thrown when pipe that runs in at `speed` is stopped at once [m]; 0 if it is not.

    Uniform string: 2L(v − W/Z)/c, v `speed` [m/s], `mud_density` [kg/m³]; several sections: the greatest height within
    the time of `unseating_speed`, the top free to rise but not to fall below the slips' seat. Assumes that the set
    rides with the pipe and weighs nothing. Valid up to 3 times `unseating_speed` (3W/Z), above which the next wave
    would go on lifting a uniform string. Source: derived.

    >>> round(lift_height([Section(200.0, 3.403e-3, 31.088)], 1200.0, 0.5), 4)
    0.0096
    """
    SPEED.check("speed", speed)
    grid, static = mesh(sections), hanging_load(sections, mud_density)
    unseating, steps = _unseating(grid, static)
    if speed <= unseating:
        return 0.0
    if speed > 3 * unseating:
        raise MechanicsRangeError("speed", speed, f"0 to {3 * unseating:.4g} m/s, three times the unseating speed")
    if len(grid.cells) == 1:
        return grid.period / 2 * (speed - unseating)
    top = _RidingTop(grid.impedances[0], static, grid.step)
    march(grid, speed, steps, top)
    return top.highest


@dataclass(slots=True)
class _RidingTop:
    """A top end that the slips keep from falling and nothing keeps from rising; it remembers its `height`."""

    z: float
    static: float
    step: float
    height: float = 0.0
    highest: float = 0.0

    def __call__(self, _now: slice, arriving: FloatArray) -> FloatArray:
        sent = arriving.copy()
        at = 0
        while at < arriving.size:
            if self.height == 0:
                thrown = np.flatnonzero(arriving[at:] < -self.static)
                if not thrown.size:
                    break
                at += int(thrown[0])
            end = at + self._ride(arriving[at:])
            sent[at:end] = -2 * self.static - arriving[at:end]
            at = end
        return sent

    def _ride(self, arriving: FloatArray) -> int:
        """Steps until the top is down again, or all of them."""
        heights = self.height - np.cumsum(arriving + self.static) * (self.step / self.z)
        self.highest = max(self.highest, float(heights.max()))
        landed = np.flatnonzero(heights <= 0)
        self.height = 0.0 if landed.size else float(heights[-1])
        return int(landed[0]) + 1 if landed.size else arriving.size
