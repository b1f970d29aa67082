"""A lesson: scenes in which a hand decides, sees what follows, reads why, and goes on."""

from __future__ import annotations

from dataclasses import dataclass

from trainer.core.tasks import Picture, Task
from trainer.core.text import Text

__all__ = ["Lesson", "Scene", "TalkPoint"]


@dataclass(frozen=True, slots=True)
class Scene:
    """One scene.

    ``text`` is the situation, ``ask`` the question. ``task`` is ``None`` for a scene that is only read (the worked
    case, the floor task at the end). A wrong choice shows its consequence and comes back here; a right one shows its
    reason and goes to ``next``; ``next`` is ``None`` in the last scene. ``part`` is ``decide``, ``worked``, ``recall``
    or ``floor-task``.
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
