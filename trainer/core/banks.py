"""A bank of items for one competency, and the blueprint by which a form is drawn from it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from trainer.core.tasks import Picture, Task
from trainer.core.text import Text

__all__ = ["Bank", "Blueprint", "Item", "Objective"]


@dataclass(frozen=True, slots=True)
class Objective:
    """What an item tests. A critical objective must be right for a pass, whatever the points."""

    id: str
    topic: str
    title: Text
    critical: bool = False


@dataclass(frozen=True, slots=True)
class Item:
    """One question. ``scene`` names the lesson's scene that teaches it; ``enemies`` never stand in one form with it.

    ``situation`` is read before the question, where there is more to tell than a sentence, such as a whole watch.
    """

    id: str
    objective: str
    text: Text
    task: Task
    scene: str
    version: int = 1
    picture: Picture | None = None
    why: Text | None = None
    enemies: tuple[str, ...] = ()
    tailgate: bool = False
    situation: Text | None = None


@dataclass(frozen=True, slots=True)
class Blueprint:
    """``items`` a form, ``cut`` right to pass; ``topics`` maps each topic to its quota of not critical items."""

    topics: Mapping[str, int]
    items: int = 12
    cut: int = 10


@dataclass(frozen=True, slots=True)
class Bank:
    """All items of a quiz. ``hash`` names this wording in records."""

    id: str
    competency: str
    title: Text
    blueprint: Blueprint
    objectives: tuple[Objective, ...]
    items: tuple[Item, ...]
    lesson: str = ""
    hash: str = ""

    def objective(self, name: str) -> Objective | None:
        """The objective called ``name``, or ``None``."""
        return next((each for each in self.objectives if each.id == name), None)

    def item(self, name: str) -> Item | None:
        """The item called ``name``, or ``None``."""
        return next((each for each in self.items if each.id == name), None)
