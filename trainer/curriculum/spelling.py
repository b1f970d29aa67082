"""How the core's types are written in YAML where it differs from their field names: data only."""

from __future__ import annotations

from trainer.core.banks import Blueprint, Item
from trainer.core.catalogue import Assessment, Competency, Position, Practical, Rotation
from trainer.core.checklists import STATES
from trainer.core.gear import BOWL, SLIPS, GearItem
from trainer.core.lessons import Lesson, Scene
from trainer.core.rig import CLASSES, PARTS, Rig, RigPipe, RigSection, SlipSet, Tongs
from trainer.core.tasks import (
    ASKS,
    ChooseAll,
    ChooseOne,
    JudgeDrawing,
    PlaceCrew,
    PointAt,
    PutInOrder,
    ReadSheet,
    Task,
    TickRow,
    TickSteps,
    WorkOut,
)
from trainer.core.units import SYSTEMS
from trainer.mechanics import GRADES

__all__ = ["CHOICES", "IMPLIED", "KINDS", "LEAST", "NOT_WRITTEN", "YAML_NAMES", "kind_of"]

YAML_NAMES: tuple[tuple[type, str, str], ...] = ((Competency, "positions", "for"),)
"""Type, field, and the key by which YAML calls it."""

NOT_WRITTEN = frozenset({"hash", "reckoned", "example"})
"""Fields that are filled later: by the loader, or on a site."""

KINDS: tuple[tuple[str, type[Task]], ...] = (
    ("choose-one", ChooseOne),
    ("choose-all", ChooseAll),
    ("put-in-order", PutInOrder),
    ("point-at", PointAt),
    ("place-crew", PlaceCrew),
    ("judge-drawing", JudgeDrawing),
    ("work-out", WorkOut),
    ("read-sheet", ReadSheet),
    ("tick-steps", TickSteps),
)
"""A task's ``kind`` and its type."""

CHOICES: tuple[tuple[type, str, tuple[str, ...]], ...] = (
    (Position, "role", ("hand", "driller", "coordinator")),
    (GearItem, "kind", (SLIPS, BOWL)),
    (PointAt, "asks", ASKS),
    (TickRow, "state", STATES),
    (Scene, "part", ("decide", "worked", "recall", "floor-task")),
    (Rig, "units", SYSTEMS),
    (RigPipe, "grade", tuple(GRADES)),
    (RigPipe, "inspected_class", CLASSES),
    (RigSection, "part", PARTS),
    (Tongs, "layout", ("90", "180")),
)
"""Fields that hold one of a few words."""

LEAST: tuple[tuple[type, str, int], ...] = (
    (Practical, "first", 1),
    (Practical, "assessors", 1),
    # With one day on, the crew-change rule would leave a hitch without a working day.
    (Rotation, "on", 2),
    (GearItem, "segments", 1),
    (SlipSet, "segments", 1),
    (Assessment, "attempts", 1),
    (Assessment, "attempts_days", 1),
    (Blueprint, "items", 1),
    (Blueprint, "cut", 1),
    (Item, "version", 1),
    (Lesson, "minutes", 1),
    (PlaceCrew, "at_most", 1),
)
"""The smallest whole number that a field may hold; 0 where it is not named."""

IMPLIED: tuple[tuple[type, str, str, object], ...] = ((PutInOrder, "steps", "right", True),)
"""Type, its list, and a field of the list's entries that need not be written there: every step in order is right."""


def kind_of(task: Task) -> str:
    """The task's ``kind`` as YAML writes it."""
    return next(name for name, each in KINDS if isinstance(task, each))
