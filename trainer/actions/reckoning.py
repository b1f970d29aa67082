"""The rig's own figures: who gets which, and what stands in for a wall that the site has not entered yet.

Nothing is written here. The sums stand in ``trainer.core.reckoned`` and ``trainer.core.stopping``.
"""

from __future__ import annotations

from trainer.actions import may
from trainer.actions.desk import Desk
from trainer.core import reckoned
from trainer.core.reckoned import Grease
from trainer.core.rig import CLASSES, Rig, with_wall
from trainer.errors import BadInput, NotFound

__all__ = ["grease", "rig", "try_wall"]


def rig(desk: Desk) -> Rig:
    """What the site says of its rig. Raises ``NotFound("no-rig")`` where it says nothing yet."""
    may.require(desk, "reckoning.rig")
    found = desk.catalogue.site.rig
    if found is None:
        raise NotFound("no-rig")
    return found


def try_wall(desk: Desk, inspected_class: str, wall_left: float) -> Rig:
    """The rig with this inspected class and share of wall, to look at figures with; the site's own stay as they are.

    Raises ``BadInput("rig-wall")`` for what cannot be an inspection's result.
    """
    may.require(desk, "reckoning.try_wall")
    if inspected_class not in CLASSES or not 0 < wall_left <= 1:
        raise BadInput("rig-wall", wall=f"{wall_left:.0%}")
    return with_wall(rig(desk), inspected_class, wall_left)


def grease(desk: Desk, at: Rig, slips: str, friction: float) -> Grease:
    """What backs of this ``friction`` do to squeeze and crush limit of the set ``slips`` of the rig ``at``.

    For drillers and up. Raises ``NotFound("no-slips")``, ``MechanicsRangeError``.
    """
    may.require(desk, "reckoning.grease")
    if slips not in at.slips:
        raise NotFound("no-slips", slips=slips)
    return reckoned.grease(at, at.slips[slips], friction)
