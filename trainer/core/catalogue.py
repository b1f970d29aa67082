"""What must be held by whom: competencies and site figures, frozen, as the rest of the core reads them.

``trainer.curriculum`` makes these from YAML; nothing here reads a file.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType

from trainer.core.banks import Bank
from trainer.core.checklists import Checklist
from trainer.core.durations import Duration
from trainer.core.gear import GearItem, GearRules
from trainer.core.glossary import SiteWord
from trainer.core.lessons import Lesson
from trainer.core.rig import Rig
from trainer.core.text import Text

__all__ = [
    "PAPERS",
    "PAPER_FIGURE",
    "Assessment",
    "Catalogue",
    "Competency",
    "Knowledge",
    "Needs",
    "Position",
    "Practical",
    "Procedure",
    "Rotation",
    "Site",
]

PAPER_FIGURE = "paper"
"""The site's figure that names the paper it prints on; the first of ``PAPERS`` where it names none."""

PAPERS = ("A4", "Letter")


@dataclass(frozen=True, slots=True)
class Knowledge:
    """The knowledge part: which quiz, how long a pass holds, and what a tailgate adds."""

    quiz: str
    good_for: Duration
    tailgate_extends: Duration | None = None
    at_most: Duration | None = None


@dataclass(frozen=True, slots=True)
class Practical:
    """The practical part: clean assessments on ``first`` different days by ``assessors`` different people."""

    checklist: str
    good_for: Duration
    first: int = 1
    assessors: int = 1


@dataclass(frozen=True, slots=True)
class Needs:
    """Which parts a competency needs; a part that is ``None`` is not needed."""

    knowledge: Knowledge | None = None
    practical: Practical | None = None


@dataclass(frozen=True, slots=True)
class Procedure:
    """The site's own procedure behind a competency; without a ``number`` none is shown.

    An ``example`` is that of the content that comes with the app, where a site has not named its own: no sheet may
    say it as if it were the rig's.
    """

    number: str
    revision: str = ""
    example: bool = False


@dataclass(frozen=True, slots=True)
class Competency:
    """One competency. ``positions`` is ``for`` in YAML; ``within`` counts from joining, ``notice`` to the due date.

    ``work`` names the kinds of work that it is about, for choosing a tailgate that fits the day. ``until`` is what
    stays undone until it is held, ``before_touch`` says that it is learnt before the first touch.
    """

    id: str
    title: Text
    positions: tuple[str, ...]
    needs: Needs
    after: tuple[str, ...] = ()
    within: Duration | None = None
    notice: Duration = Duration(days=30)
    summary: Text | None = None
    procedure: Procedure | None = None
    work: tuple[str, ...] = ()
    until: Text | None = None
    before_touch: bool = False


_RUNGS: Mapping[str, int] = MappingProxyType({"hand": 0, "driller": 1, "coordinator": 2})


@dataclass(frozen=True, slots=True)
class Position:
    """What a position lets its holder do: ``role`` is hand, driller or coordinator."""

    role: str
    observes: bool = False
    dispenses: bool = False
    title: Text | None = None


@dataclass(frozen=True, slots=True)
class Rotation:
    """A crew's hitch: ``on`` days of work from ``start``, ``off`` days away; without ``start`` every day is worked."""

    start: date | None = None
    on: int = 0
    off: int = 0
    tour: str = ""
    title: Text | None = None


@dataclass(frozen=True, slots=True)
class Assessment:
    """The site's settings for quizzes; hours and days are whole numbers."""

    retake_hours: int = 12
    attempts: int = 3
    attempts_days: int = 7
    closes_hours: int = 12


@dataclass(frozen=True, slots=True)
class Site:
    """The site's own figures, from the last ``site`` record.

    ``procedures``, by competency, stand in the place of those that the content names.
    """

    positions: Mapping[str, Position]
    crews: Mapping[str, Rotation]
    outside_good_for: Duration = Duration(days=90)
    languages: tuple[str, ...] = ("en", "es")
    complete: tuple[str, ...] = ("en",)
    calls_language: str = "en"
    assessment: Assessment = Assessment()
    figures: Mapping[str, str] = field(default_factory=dict)
    procedures: Mapping[str, Procedure] = field(default_factory=dict)
    glossary: Mapping[str, Mapping[str, SiteWord]] = field(default_factory=dict)
    gear: Mapping[str, GearItem] = field(default_factory=dict)
    gear_rules: GearRules = GearRules()
    rig: Rig | None = None

    def position(self, name: str) -> Position | None:
        """The position called ``name``, or ``None`` where the site has none of that name."""
        return self.positions.get(name)

    def ladder(self) -> tuple[str, ...]:
        """The ids of the positions as a crew is listed: hands, whoever of them observes, who leads, the office.

        Those of one rung stand as the figures have them; a record keeps its keys by the alphabet.
        """

        def rung(name: str) -> tuple[int, bool, bool]:
            position = self.positions[name]
            return _RUNGS.get(position.role, len(_RUNGS)), position.observes, position.dispenses

        return tuple(sorted(self.positions, key=rung))


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Everything from content/ and quizzes/ plus the site figures. ``hash`` changes when any of it changes."""

    competencies: tuple[Competency, ...]
    site: Site
    lessons: Mapping[str, Lesson]
    banks: Mapping[str, Bank]
    checklists: Mapping[str, Checklist]
    hash: str

    def competency(self, name: str) -> Competency | None:
        """The competency called ``name``, or ``None``."""
        return next((each for each in self.competencies if each.id == name), None)

    def needed_by(self, position: str) -> tuple[Competency, ...]:
        """The competencies that ``position`` needs, in catalogue order."""
        return tuple(each for each in self.competencies if position in each.positions)
