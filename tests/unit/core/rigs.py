"""A rig to reckon with: 5 in 19.50 pipe, heavy-weight and collars below it, one set of slips."""

from __future__ import annotations

from dataclasses import replace

from trainer.core.rig import Rig, RigPipe, RigSection, SlipSet, Tongs
from trainer.core.units import Kind, read

INCH = 0.0254


def length(written: str) -> float:
    """A length with its unit [m]."""
    return read(written, Kind.LENGTH)


def linear(written: str) -> float:
    """A mass per length with its unit [kg/m]."""
    return read(written, Kind.LINEAR_MASS)


PIPE = RigPipe(length("5 in"), linear("19.50 lb/ft"), "E-75", "premium", 0.8)
SLIPS = SlipSet(length("5 in"), 90.0, length("16 in"), 0.30)
RIG = Rig(
    pipe=PIPE,
    string=(
        RigSection("drill-pipe", 2800.0),
        RigSection("heavy-weight", 110.0, length("5 in"), length("3 in"), linear("49.3 lb/ft")),
        RigSection("collars", 90.0, length("6.5 in"), length("2.8125 in"), linear("91.6 lb/ft")),
    ),
    slips={"set-a": SLIPS},
    mud=1200.0,
    block=18_000.0,
    stick_up=0.9,
    tongs=Tongs(1.3716, 30_961.5),
)


def new_pipe(rig: Rig = RIG) -> Rig:
    """The same rig with pipe that was inspected and found new."""
    return replace(rig, pipe=replace(rig.pipe, inspected_class="new", wall_left=1.0))


def not_inspected(rig: Rig = RIG) -> Rig:
    """The same rig before its inspected class was entered."""
    return replace(rig, pipe=replace(rig.pipe, inspected_class=None, wall_left=None))
