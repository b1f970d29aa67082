"""The made-up rig: thirty people and eighteen months of work, played through the real actions.

``scenario.yaml`` is what happens, readable; ``scenario`` reads it; ``timeline`` lays it out in days from today;
``player`` has each person do his part through ``trainer.actions``; ``building`` keeps a built rig, so that a later
start is quick. Nothing here writes to the store by itself. Imports ``trainer.actions``, ``trainer.curriculum`` and the
core.
"""

from __future__ import annotations

from trainer.demo.building import build, fresh
from trainer.demo.scenario import Scenario, load
from trainer.demo.timeline import timeline

__all__ = ["Scenario", "build", "fresh", "load", "timeline"]
