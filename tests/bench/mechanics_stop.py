"""The wave solution of the stop against finite differences of the same accuracy, timed side by side in one run."""

from __future__ import annotations

from collections.abc import Callable
from time import perf_counter

import numpy as np

from tests.unit.mechanics import leapfrog
from trainer.mechanics import Section, StopHistory, impedance, slip_load_history, wave_speed

SECTIONS = (
    Section(2600.0, 3.403e-3, 31.09),
    Section(220.0, 8.1e-3, 73.0),
    Section(180.0, 2.82e-2, 219.0),
)
MUD_DENSITY = 1200.0
SPEED = 1.5
STOP_TIME = 0.3
DURATION = 10 * 4 * 3000.0 / wave_speed()
TOLERANCE = 0.01
# The coarsest cells within the tolerance: at a Courant number that any lengths allow, and at 1, which only lengths with
# a common unit allow, here 20 m, and where the finite differences are at their best.
CELL, ALIGNED_CELL = 6.5, 20.0
REPEATS = 3


def compare() -> dict[str, float]:
    """Seconds of each solution over ten periods of 3000 m of mixed pipe and collars, and how far they differ.

    `…_difference` is the greatest distance from the wave solution's load, as a share of Zv; the finite differences are
    cut just fine enough to come within `tolerance`. Times are the best of three.
    """
    history = _waves()
    waves = _seconds(_waves)
    plain = _seconds(lambda: _differences(CELL, leapfrog.COURANT))
    aligned = _seconds(lambda: _differences(ALIGNED_CELL, 1.0))
    return {
        "characteristics_s": waves,
        "finite_difference_s": plain,
        "finite_difference_difference": _distance(history, CELL, leapfrog.COURANT),
        "times_faster": plain / waves,
        "aligned_s": aligned,
        "aligned_difference": _distance(history, ALIGNED_CELL, 1.0),
        "times_faster_than_aligned": aligned / waves,
        "tolerance": TOLERANCE,
    }


def _waves() -> StopHistory:
    return slip_load_history(SECTIONS, MUD_DENSITY, SPEED, STOP_TIME, DURATION)


def _differences(cell: float, courant: float) -> tuple[leapfrog.Floats, leapfrog.Floats]:
    return leapfrog.load_change(SECTIONS, SPEED, STOP_TIME, DURATION, cell, courant)


def _distance(history: StopHistory, cell: float, courant: float) -> float:
    time, change = _differences(cell, courant)
    away = np.abs(history.load - history.static - np.interp(history.time, time, change))
    return float(away.max()) / (impedance(SECTIONS[0].area) * SPEED)


def _seconds(run: Callable[[], object]) -> float:
    best = float("inf")
    for _ in range(REPEATS):
        started = perf_counter()
        run()
        best = min(best, perf_counter() - started)
    return best
