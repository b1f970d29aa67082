"""Stress waves in a string of several sections, by the method of characteristics at CFL 1.

Steel carries every wave at one speed c, so cells of equal length are cells of equal travel time, and in one time step
each wave moves exactly one cell. P = F + ZV travels up and Q = F − ZV travels down (F tension, V velocity downwards, Z
impedance) unchanged until a joint or an end of the string, so a section is a pair of queues and nothing is computed
inside it. Waves due at its ends within the travel time of the shortest section are already in the queues: that many
steps are taken at once as one array operation.

Exact for impedance that is constant within each section; energy is conserved to rounding.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from trainer.errors import MechanicsRangeError
from trainer.mechanics.constants import STEEL_DENSITY, YOUNG
from trainer.mechanics.ranges import AREA, FloatArray, Real
from trainer.mechanics.string import Section

FEWEST_CELLS = 120
MOST_CELLS = 2400
# Lengths that share a unit are met exactly; others to a thousandth if any count of cells does that.
_ROUNDING_SOUGHT = (1e-9, 1e-3)

Top: TypeAlias = Callable[[slice, FloatArray], FloatArray]
"""What the top end sends down at the given steps [N], from what arrives there [N]."""


def wave_speed() -> float:
    """Speed c of a stress wave along a steel bar [m/s].

    c = √(E/ρ); E 206.843 GPa, ρ 7850 kg/m³. Assumes a long thin bar, elastic, no mud drag; tool joints left out.
    Source: Saint-Venant's rod.

    >>> round(wave_speed())
    5133
    """
    return math.sqrt(YOUNG / STEEL_DENSITY)


def impedance(area: Real) -> Real:
    """Force Z that a change of 1 m/s in velocity sends along the pipe [N·s/m].

    Z = EA/c; A `area` of the tube [m²]. Assumes a long thin elastic bar; tool joints left out.
    Valid for A 1e-6 to 1 m². Source: Saint-Venant's rod.

    >>> round(impedance(3.403e-3) / 1000, 1)
    137.1
    """
    AREA.check("area", area)
    return area * (YOUNG / wave_speed())


@dataclass(frozen=True, slots=True)
class Mesh:
    """A string in cells: cells and impedance Z [N·s/m] of each section from the top, `step` to cross a cell [s]."""

    cells: tuple[int, ...]
    impedances: tuple[float, ...]
    step: float

    def steps_in(self, duration: float) -> int:
        """Steps, at least one, that cover `duration` [s]; a hair beyond a whole number counts as that number.

        >>> Mesh((100,), (1.0,), 0.5).steps_in(1.2)
        3
        """
        return max(1, math.ceil(duration / self.step - 1e-6))

    @property
    def period(self) -> float:
        """Period 4L/c of the whole string [s].

        >>> Mesh((100, 20), (1.0, 2.0), 0.5).period
        240.0
        """
        return 4 * sum(self.cells) * self.step


def mesh(sections: Sequence[Section]) -> Mesh:
    """The string cut into cells of equal travel time, so that waves cross a cell in exactly one step.

    Neighbours of one area are one section to a wave. The total length is kept exactly; each section gets the nearest
    whole number of cells, at least one, of the 120 to 2400 that the string is cut into: the fewest that meet every
    length exactly, else the fewest within 0.1 % of it, else those with the least error. So a joint between two bodies
    may be moved by a fraction of a cell. Source: derived.

    >>> mesh([Section(2800.0, 3.4e-3, 31.0), Section(200.0, 2.2e-2, 219.0)]).cells
    (112, 8)
    """
    lengths, areas = _bodies(sections)
    total = float(lengths.sum())
    wanted = np.arange(FEWEST_CELLS, MOST_CELLS + 1)[:, np.newaxis]
    cells = np.maximum(1, np.rint(lengths / total * wanted)).astype(int)
    error = np.abs(cells / cells.sum(axis=1, keepdims=True) * total / lengths - 1).max(axis=1)
    chosen = cells[_fewest(error)]
    step = total / int(chosen.sum()) / wave_speed()
    return Mesh(tuple(int(n) for n in chosen), tuple(impedance(area) for area in areas), step)


def _bodies(sections: Sequence[Section]) -> tuple[FloatArray, list[float]]:
    if not sections:
        raise MechanicsRangeError("sections", sections, "one section or more")
    lengths: list[float] = []
    areas: list[float] = []
    for section in sections:
        if areas and section.area == areas[-1]:
            lengths[-1] += section.length
        else:
            lengths.append(section.length)
            areas.append(section.area)
    return np.array(lengths), areas


def _fewest(error: FloatArray) -> int:
    for sought in _ROUNDING_SOUGHT:
        met = np.flatnonzero(error <= sought)
        if met.size:
            return int(met[0])
    return int(error.argmin())


@dataclass(frozen=True, slots=True, eq=False)
class Waves:
    """Every wave of a march [N]: `rising[i][s]` reaches the top of section i at step s, `falling[i][s]` its bottom.

    Those still on their way stand behind the last step, so the state at any step can be read back.
    """

    mesh: Mesh
    rising: tuple[FloatArray, ...]
    falling: tuple[FloatArray, ...]

    def energy(self, step: int) -> float:
        """Kinetic and elastic energy of the waves when `step` begins [J], about the string at rest under its weight.

        Σ (P² + Q²)Δt/(4Z) over the cells. Source: derived.

        >>> grid = Mesh((4,), (3.0,), 0.5)
        >>> march(grid, 2.0, 9, moved_top(3.0, np.zeros(9))).energy(7)  # ½·Z·4Δt·v²
        12.0
        """
        held = 0.0
        for cells, z, up, down in zip(self.mesh.cells, self.mesh.impedances, self.rising, self.falling, strict=True):
            inside = slice(step, step + cells)
            held += float(up[inside] @ up[inside] + down[inside] @ down[inside]) / (4 * z)
        return held * self.mesh.step


def march(grid: Mesh, speed: float, steps: int, top: Top) -> Waves:
    """The waves of `steps` steps in a string that moves down as one at `speed` [m/s] when the first step begins.

    `top` says what the upper end sends back; the lower end is free. Assumes constant impedance within a section.
    Source: method of characteristics.

    >>> march(Mesh((2,), (3.0,), 0.5), 1.0, 6, moved_top(3.0, np.zeros(6))).rising[0][:6].tolist()
    [3.0, 3.0, 3.0, 3.0, -3.0, -3.0]
    """
    waves = _moving(grid, speed, steps)
    block = min(grid.cells)
    for start in range(0, steps, block):
        _scatter(waves, slice(start, min(start + block, steps)), top)
    return waves


def _moving(grid: Mesh, speed: float, steps: int) -> Waves:
    rising, falling = [], []
    for cells, z in zip(grid.cells, grid.impedances, strict=True):
        up = np.empty(cells + steps)
        down = np.empty(cells + steps)
        up[:cells] = z * speed
        down[:cells] = -z * speed
        rising.append(up)
        falling.append(down)
    return Waves(grid, tuple(rising), tuple(falling))


def _scatter(waves: Waves, now: slice, top: Top) -> None:
    """Send on what reaches the ends of the sections at the steps `now`."""
    cells, z, up, down = waves.mesh.cells, waves.mesh.impedances, waves.rising, waves.falling
    after = [slice(now.start + n, now.stop + n) for n in cells]
    down[0][after[0]] = top(now, up[0][now])
    for i in range(len(cells) - 1):
        above, below = down[i][now], up[i + 1][now]
        # V = (P below − Q above)/(Za + Zb), and both waves leave with (Za − Zb)V added.
        change = (z[i] - z[i + 1]) / (z[i] + z[i + 1]) * (below - above)
        up[i][after[i]] = below + change
        down[i + 1][after[i + 1]] = above + change
    up[-1][after[-1]] = -down[-1][now]


def moved_top(z: float, velocity: FloatArray) -> Top:
    """A top end of impedance `z` [N·s/m] that the slips move down at `velocity` [m/s], one for each step.

    Q = P − 2ZV. Source: derived.

    >>> moved_top(3.0, np.array([1.0, 0.0]))(slice(0, 2), np.array([3.0, 3.0])).tolist()
    [-3.0, 3.0]
    """
    return lambda now, arriving: arriving - 2 * z * velocity[now]
