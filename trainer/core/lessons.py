"""A lesson: scenes in which a hand decides, sees what follows, reads why, and goes on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from trainer.core.bound import BoundFigure
from trainer.core.tasks import Picture, Task
from trainer.core.text import Text

__all__ = ["Lesson", "Scene", "TalkPoint"]


@dataclass(frozen=True, slots=True)
class Scene:
    """One scene.

    ``text`` is the situation, ``ask`` the question. ``task`` is ``None`` for a scene that is only read (the worked
    case, the floor task at the end). A wrong choice shows its consequence and comes back here; a right one shows its
    reason and goes to ``next``; ``next`` is ``None`` in the last scene. ``part`` is ``decide``, ``worked``, ``recall``
    or ``floor-task``. ``figures`` are worked out on the site's rig: ``text`` and what follows from a choice may name
    one as ``{figure:NAME}``; ``reckoned`` are those figures as they then stand there.
    """

    id: str
    title: Text
    text: Text
    part: str = "decide"
    ask: Text | None = None
    picture: Picture | None = None
    task: Task | None = None
    right: Text | None = None
    next: str | None = None
    figures: Mapping[str, BoundFigure] = field(default_factory=dict)
    reckoned: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class TalkPoint:
    """One point of a tailgate on this lesson, to be said aloud."""

    title: Text
    text: Text
    picture: Picture | None = None


@dataclass(frozen=True, slots=True)
class Lesson:
    """A lesson on one competency; ``scenes[0]`` is the first. ``hash`` names this wording in records.

    ``talk`` holds the three points of a tailgate, where those that its scenes give do not read well aloud.
    """

    id: str
    competency: str
    title: Text
    objective: Text
    minutes: int
    scenes: tuple[Scene, ...]
    hash: str = ""
    talk: tuple[TalkPoint, ...] = ()

    def scene(self, name: str) -> Scene | None:
        """The scene called ``name``, or ``None``."""
        return next((each for each in self.scenes if each.id == name), None)
