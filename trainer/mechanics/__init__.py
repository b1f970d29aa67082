"""The physics of rotary slips: pure functions on SI floats and numpy arrays, for training and screening only.

pipe      sizes, grades, cross-section, tensile capacity
string    sections, buoyed weight, stretch
crush     crushing in the slips, the wedge
stop      what stopping moving pipe with the slips does to the load (`waves` does the arithmetic)
lifting   recommended weight of a lift, shares of the handles, team capacity
imprint   reading a paper test, and the next step
stickup   stick-up height while tonging

`constants` holds steel and gravity, `ranges` what each argument may be. An argument outside its formula's validity
raises `trainer.errors.MechanicsRangeError`; that is all this package imports from the project. Start with `string`.
The maker's manual, the inspected class of the pipe, the rig's procedures and the driller's instruction govern.
"""

from __future__ import annotations

from trainer.mechanics.crush import (
    TAPER,
    TEST_MARGIN,
    crush_limit,
    grip_needed,
    squeeze_kept,
    sticks,
    stress_ratio,
    transverse_factor,
)
from trainer.mechanics.imprint import NextStep, Reading, Verdict, next_step, read_imprint
from trainer.mechanics.lifting import handle_shares, lifting_index, recommended_weight, team_capacity
from trainer.mechanics.pipe import GRADES, PIPES, Pipe, area, tensile_capacity
from trainer.mechanics.stickup import stick_up_limit
from trainer.mechanics.stop import (
    StopHistory,
    impedance,
    lift_height,
    slip_load_history,
    unseating_speed,
    wave_speed,
)
from trainer.mechanics.string import Section, buoyancy_factor, hanging_load, stretch_end_load, stretch_own_weight

__all__ = [
    "GRADES",
    "PIPES",
    "TAPER",
    "TEST_MARGIN",
    "NextStep",
    "Pipe",
    "Reading",
    "Section",
    "StopHistory",
    "Verdict",
    "area",
    "buoyancy_factor",
    "crush_limit",
    "grip_needed",
    "handle_shares",
    "hanging_load",
    "impedance",
    "lift_height",
    "lifting_index",
    "next_step",
    "read_imprint",
    "recommended_weight",
    "slip_load_history",
    "squeeze_kept",
    "stick_up_limit",
    "sticks",
    "stress_ratio",
    "stretch_end_load",
    "stretch_own_weight",
    "team_capacity",
    "tensile_capacity",
    "transverse_factor",
    "unseating_speed",
    "wave_speed",
]
