"""What stands in ``scenario.yaml``, as frozen types; days are whole numbers, counted from today."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from pydantic import ConfigDict, TypeAdapter, with_config

from trainer.curriculum.nodes import plain
from trainer.curriculum.yaml_reader import read
from trainer.errors import BadContent

__all__ = ["Event", "Hitch", "Person", "Place", "Scenario", "load"]

# A key that is spelt wrong is refused, not passed over.
_STRICT = ConfigDict(extra="forbid")


@with_config(_STRICT)
@dataclass(frozen=True, slots=True)
class Place:
    """The rig's site id, name and time zone."""

    id: str
    name: str
    tz: str


@with_config(_STRICT)
@dataclass(frozen=True, slots=True)
class Hitch:
    """A crew: its hitch of ``on`` days began on day ``start`` and comes round every ``on + off`` days."""

    start: int
    on: int
    off: int
    tour: str
    title: Mapping[str, str]

    def works_on(self, day: int) -> bool:
        """Whether the crew works on ``day``: the last day of a hitch is crew change."""
        return (day - self.start) % (self.on + self.off) < self.on - 1

    @property
    def is_night(self) -> bool:
        """Whether the tour runs across midnight."""
        begins, _, ends = self.tour.partition("-")
        return begins > ends


@with_config(_STRICT)
@dataclass(frozen=True, slots=True)
class Person:
    """Somebody on the rig; ``story`` says what happens to him without further words."""

    id: str
    name: str
    position: str = "coordinator"
    crew: str = ""
    joined: int = 0
    language: str = "en"
    story: Literal["first", "steady", "lapsing", "none"] = "none"


@with_config(_STRICT)
@dataclass(frozen=True, slots=True)
class Event:
    """One thing that somebody does on ``day``.

    ``who`` is the hand it is about, ``by`` the observer, toolpusher or driller, ``brake`` who had the brake.
    ``subject`` is the lesson, quiz or sheet, empty for all of them, or the competency. ``id`` names the record that is
    written, so that a later ``void`` can say which ``record`` it means.
    """

    day: int
    does: Literal["join", "paper", "lesson", "quiz", "watch", "back", "allow", "tailgate", "paper-test", "move", "void"]
    who: str = ""
    by: str = ""
    brake: str = ""
    passes: bool = True
    purpose: str = "assessment"
    not_met: tuple[str, ...] = ()
    crew: str = ""
    position: str = ""
    subject: str = ""
    id: str = ""
    record: str = ""
    reason: str = ""


@with_config(_STRICT)
@dataclass(frozen=True, slots=True)
class Scenario:
    """The whole made-up rig; ``pipe`` is what its own inspection left of the drill pipe."""

    seed: int
    site: Place
    pin: str
    pipe: Mapping[str, str]
    crews: Mapping[str, Hitch]
    people: tuple[Person, ...]
    coordinator: Person
    events: tuple[Event, ...]

    def person(self, name: str) -> Person:
        """The person with that id. Raises ``KeyError``."""
        found = next((each for each in (*self.people, self.coordinator) if each.id == name), None)
        if found is None:
            raise KeyError(name)
        return found


def load(path: Path | None = None) -> Scenario:
    """The scenario in ``path``, the built-in one when not given.

    Raises ``BadContent`` for YAML that cannot be read, ``pydantic.ValidationError`` for what does not fit.
    """
    file = path or Path(__file__).with_name("scenario.yaml")
    node, problems = read(file.read_bytes(), file.name)
    if node is None or problems:
        raise BadContent(tuple(problems))
    return TypeAdapter(Scenario).validate_python(plain(node))
