"""An observation sheet: the steps that an observer ticks, each belonging to one competency."""

from __future__ import annotations

from dataclasses import dataclass

from trainer.core.text import Text

__all__ = ["Checklist", "Condition", "Step"]


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that can be seen. On a critical step only ``met`` counts."""

    id: str
    competency: str
    text: Text
    critical: bool = False


@dataclass(frozen=True, slots=True)
class Condition:
    """Something noted about the watch; ``choices`` maps are ids with their words, empty for a number."""

    id: str
    title: Text
    choices: tuple[tuple[str, Text], ...] = ()
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Checklist:
    """One sheet, which may cover several competencies. ``hash`` names this wording in records."""

    id: str
    title: Text
    steps: tuple[Step, ...]
    conditions: tuple[Condition, ...] = ()
    intro: Text | None = None
    hash: str = ""

    def competencies(self) -> tuple[str, ...]:
        """The competencies that the sheet covers, in the order of its steps."""
        return tuple(dict.fromkeys(step.competency for step in self.steps))
