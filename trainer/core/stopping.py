"""A sudden stop as a screen shows it: the load on the slips against time, thinned, and the string's own movement.

The physics stands in ``trainer.mechanics``; here a history of up to many thousand samples becomes a line that can be
sent and drawn, with every jump kept, and the waves behind it become frames of a moving picture.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from trainer.mechanics import Section, StopHistory, lift_height, slip_load_history, unseating_speed
from trainer.mechanics.ranges import BoolArray, FloatArray
from trainer.mechanics.stop import AT_ONCE, DEFAULT_PERIODS
from trainer.mechanics.waves import Mesh, Waves, march, mesh, moved_top

__all__ = ["FRAMES", "SLICES", "TOOL_JOINTS", "Motion", "Stop", "motion", "stop", "thinned"]

FRAMES = 96
"""Frames of the moving picture, besides those of the highest and the lowest load."""

SLICES = 30
"""Slices that the string of the moving picture is cut into."""

TOOL_JOINTS = 1.1
"""By so much the dynamic part would be larger with the tool joints smeared into the pipe [-]."""

_MOST_POINTS = 900
_LIFT_SPEEDS = 3.0

_Places: TypeAlias = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Stop:
    """What stopping does: the ``line`` as (time [s], load [N]) points and its figures [N].

    ``throws_above`` is the lowest speed at which a stop at once unloads the slips [m/s]. ``lift`` is how high the set
    is then thrown [m], ``None`` where the stop takes time or the speed is beyond the formula.
    """

    line: tuple[tuple[float, float], ...]
    static: float
    peak: float
    trough: float
    lasts: float
    throws_above: float
    lift: float | None


@dataclass(frozen=True, slots=True)
class Motion:
    """The string at ``times`` [s]: a row a frame, a figure a slice from the slips down, each −100 to 100.

    ``pull`` is the force beyond the weight at rest, ``shift`` how far the slice has gone down since the slips took
    hold, both in percent of the largest; ``loads`` is what the slips carry [N], ``highest`` and ``lowest`` the frames
    where that is most and least.
    """

    times: tuple[float, ...]
    loads: tuple[float, ...]
    pull: tuple[tuple[int, ...], ...]
    shift: tuple[tuple[int, ...], ...]
    highest: int
    lowest: int


def stop(sections: Sequence[Section], mud: float, speed: float, stop_time: float) -> Stop:
    """The load on the slips after they stop the string from ``speed`` [m/s] within ``stop_time`` [s].

    Raises ``MechanicsRangeError`` for what the formulas do not cover.
    """
    history = slip_load_history(sections, mud, speed, stop_time)
    throws_above = unseating_speed(sections, mud)
    is_at_once = stop_time <= AT_ONCE
    time, load = _edges(history) if is_at_once else (history.time, history.load)
    kept = thinned(time, load)
    is_known = is_at_once and speed <= _LIFT_SPEEDS * throws_above
    return Stop(
        line=tuple((float(t), float(w)) for t, w in zip(time[kept], load[kept], strict=True)),
        static=history.static,
        peak=history.peak,
        trough=history.trough,
        lasts=float(time[-1]),
        throws_above=throws_above,
        lift=lift_height(sections, mud, speed) if is_known else None,
    )


def _edges(history: StopHistory) -> tuple[FloatArray, FloatArray]:
    """A history in steps, sampled in the middle of each, as the two ends of every step."""
    middle = history.time
    between = (middle[1:] + middle[:-1]) / 2
    last = 2 * middle[-1] - between[-1]
    starts, ends = np.append(0.0, between), np.append(between, last)
    return np.column_stack([starts, ends]).ravel(), np.repeat(history.load, 2)


def thinned(time: FloatArray, load: FloatArray, most: int = _MOST_POINTS) -> _Places:
    """The places in ``time`` and ``load`` that a chart needs, in order.

    What lies on the straight line between its neighbours goes; where more than ``most`` are left, each short stretch
    of time keeps its first, lowest, highest and last, so that no jump and no extreme is lost.
    """
    places = np.flatnonzero(_bends(time, load))
    if places.size <= most:
        return places
    count = max(most // 4, 1)
    stretch = np.minimum(((time[places] - time[0]) / (time[-1] - time[0]) * count).astype(np.intp), count - 1)
    kept: set[int] = set()
    for first, last in _runs(stretch):
        run = places[first:last]
        kept |= {int(run[0]), int(run[-1]), int(run[load[run].argmin()]), int(run[load[run].argmax()])}
    return np.array(sorted(kept), dtype=np.intp)


def _bends(time: FloatArray, load: FloatArray) -> BoolArray:
    """Whether each point must stay: the ends, and every one that is off the line between its neighbours."""
    must = np.ones(time.size, dtype=np.bool_)
    width = time[2:] - time[:-2]
    share = np.divide(time[1:-1] - time[:-2], width, out=np.zeros_like(width), where=width > 0)
    off = np.abs(load[:-2] + share * (load[2:] - load[:-2]) - load[1:-1])
    is_jump = (time[1:-1] == time[:-2]) | (time[1:-1] == time[2:])
    is_flat = (load[1:-1] == load[:-2]) & (load[1:-1] == load[2:])
    must[1:-1] = ~is_flat & (is_jump | (off > 1e-9 * max(float(np.abs(load).max()), 1.0)))
    return must


def _runs(groups: _Places) -> list[tuple[int, int]]:
    """First place and the one after the last of each run of equal ``groups``."""
    edges = [0, *(int(each) + 1 for each in np.flatnonzero(np.diff(groups))), groups.size]
    return list(pairwise(edges))


def motion(sections: Sequence[Section], mud: float, speed: float, stop_time: float) -> Motion:
    """The string's own movement over the same time as ``stop``."""
    history = slip_load_history(sections, mud, speed, stop_time)
    grid = mesh(sections)
    steps = grid.steps_in(DEFAULT_PERIODS * grid.period)
    ends = [min(int(history.time[at] / grid.step), steps - 1) for at in (history.load.argmax(), history.load.argmin())]
    moments = np.unique(np.append(np.linspace(0, steps - 1, FRAMES).astype(np.intp), ends))
    pull, shift = _slices(grid, _waves(grid, speed, stop_time, steps), steps, moments)
    loads = history.load[np.minimum(np.searchsorted(history.time, moments * grid.step), history.time.size - 1)]
    return Motion(
        times=tuple(float(each) for each in moments * grid.step),
        loads=tuple(float(each) for each in loads),
        pull=_percent(pull),
        shift=_percent(shift),
        highest=int(np.searchsorted(moments, ends[0])),
        lowest=int(np.searchsorted(moments, ends[1])),
    )


def _waves(grid: Mesh, speed: float, stop_time: float, steps: int) -> Waves:
    velocity = np.zeros(steps)
    if stop_time > AT_ONCE:
        velocity = np.interp(np.arange(steps) * grid.step, (0.0, stop_time), (speed, 0.0))
    return march(grid, speed, steps, moved_top(grid.impedances[0], velocity))


def _slices(grid: Mesh, waves: Waves, steps: int, moments: _Places) -> tuple[FloatArray, FloatArray]:
    """Force beyond rest [N] and way gone [m] of each slice (column) at each moment (row)."""
    pull, shift = np.empty((moments.size, SLICES)), np.empty((moments.size, SLICES))
    for column, depth in enumerate(np.linspace(0, sum(grid.cells) - 1, SLICES).astype(int)):
        section, inside = _section_at(grid, int(depth))
        z, last = grid.impedances[section], grid.cells[section] - 1
        # A wave that is k cells from an end reaches it k steps later, where the march has it.
        up = waves.rising[section][inside : inside + steps]
        down = waves.falling[section][last - inside : last - inside + steps]
        pull[:, column] = ((up + down) / 2)[moments]
        shift[:, column] = np.cumsum((up - down) / (2 * z) * grid.step)[moments]
    return pull, shift


def _section_at(grid: Mesh, depth: int) -> tuple[int, int]:
    """The section in which the cell ``depth`` of the string lies, and how many cells below its top."""
    section = 0
    while depth >= grid.cells[section]:
        depth -= grid.cells[section]
        section += 1
    return section, depth


def _percent(figures: FloatArray) -> tuple[tuple[int, ...], ...]:
    most = float(np.abs(figures).max()) or 1.0
    return tuple(tuple(int(each) for each in row) for row in np.rint(figures / most * 100))
