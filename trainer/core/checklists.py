"""An observation sheet: the steps that an observer ticks, each belonging to one competency."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from trainer.core.text import Text

__all__ = [
    "MET",
    "MET_AFTER_PROMPT",
    "NOT_APPLICABLE",
    "NOT_MET",
    "NOT_OBSERVED",
    "STATES",
    "Checklist",
    "Condition",
    "Step",
]

MET = "met"
MET_AFTER_PROMPT = "met after prompt"
NOT_MET = "not met"
NOT_OBSERVED = "not observed"
NOT_APPLICABLE = "not applicable"
STATES = (MET, MET_AFTER_PROMPT, NOT_MET, NOT_OBSERVED, NOT_APPLICABLE)
"""What a step can be; one that nobody ticked is ``not observed``."""


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that can be seen. On a critical step only ``met`` counts."""

    id: str
    competency: str
    text: Text
    critical: bool = False


@dataclass(frozen=True, slots=True)
class Condition:
    """Something noted about the watch; ``choices`` maps are ids with their words, empty for a number.

    A number is no smaller than ``least`` and no larger than ``most``, in the unit; empty for no such end.
    """

    id: str
    title: Text
    choices: tuple[tuple[str, Text], ...] = ()
    unit: str = ""
    # No wording: a sheet whose range is set later is still the sheet that was signed.
    least: str = field(default="", metadata={"is_wording": False})
    most: str = field(default="", metadata={"is_wording": False})

    def allows(self, value: Fraction) -> bool:
        """Whether that number, in the unit, lies in the range."""
        least, most = (Fraction(end) if end else None for end in (self.least, self.most))
        return (least is None or least <= value) and (most is None or value <= most)


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
