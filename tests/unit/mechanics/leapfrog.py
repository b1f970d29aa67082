"""A plain finite-difference rod, second-order leap-frog on a staggered grid: independent of the wave solution.

It shares nothing with the code under test: true lengths, its own cells in each section, a Courant number below 1.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from trainer.mechanics import Section

Floats = NDArray[np.float64]
YOUNG = 206.843e9
DENSITY = 7850.0
COURANT = 0.9


def load_change(
    sections: Sequence[Section],
    speed: float,
    stop_time: float,
    duration: float,
    cell: float,
    courant: float = COURANT,
) -> tuple[Floats, Floats]:
    """Times [s] and load on the top less the static load [N], for cells of about `cell` [m] and a linear stop."""
    sizes, areas = _cells(sections, cell)
    step = courant * float(sizes.min()) / math.sqrt(YOUNG / DENSITY)
    stiffness = YOUNG * areas / sizes * step
    half = DENSITY * areas * sizes / 2
    mobility = step / (half + np.append(half[1:], 0.0))
    time = np.arange(math.ceil(duration / step) + 1, dtype=np.float64) * step
    top = speed * np.clip(1 - (time + step / 2) / stop_time, 0.0, None)
    # One force more than cells: the free lower end's, which stays 0.
    pull, velocity = np.zeros(sizes.size + 1), np.full(sizes.size + 1, speed)
    load = np.empty(time.size)
    for i, held in enumerate(top):
        load[i] = pull[0]
        velocity[1:] += mobility * np.diff(pull)
        velocity[0] = held
        pull[:-1] += stiffness * np.diff(velocity)
    # The first cell's force stands half a cell below the top: its inertia is the difference.
    slowing: Floats = np.where((time > 0) & (time < stop_time), -speed / stop_time, 0.0)
    return time, load - half[0] * slowing


def _cells(sections: Sequence[Section], cell: float) -> tuple[Floats, Floats]:
    counts = [max(1, round(section.length / cell)) for section in sections]
    sizes = np.repeat([section.length / n for section, n in zip(sections, counts, strict=True)], counts)
    areas = np.repeat([section.area for section in sections], counts)
    return sizes, areas
