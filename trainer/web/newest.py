"""The content as its files stand at this moment, for whoever writes it: what can be played, and what is wrong.

Pure but for reading the files: ``cached.newest_content`` is what views call.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from hashlib import sha256
from pathlib import Path
from types import MappingProxyType

from trainer.curriculum import Loaded, load
from trainer.curriculum.files import snapshot
from trainer.errors import Problem
from trainer.found import found_in
from trainer.pictures import Drawing, parse

__all__ = ["Newest", "instead", "look", "stamp_of"]


@dataclass(frozen=True, slots=True)
class Newest:
    """``loaded`` is what is shown, under ``stamp``; ``problems`` are those of the newest files.

    ``is_sound`` where ``loaded`` are the newest files; where not, they cannot be used and an older state is shown.
    ``drawings`` are kept with it, so that an older state can be drawn when a file has been broken since.
    """

    loaded: Loaded
    stamp: str
    problems: tuple[Problem, ...]
    is_sound: bool
    drawings: Mapping[str, Drawing] = field(default_factory=dict)

    @property
    def errors(self) -> tuple[Problem, ...]:
        """What keeps the newest files from being used."""
        return tuple(each for each in self.problems if not each.is_warning)

    @property
    def warnings(self) -> tuple[Problem, ...]:
        """What was noted beside that."""
        return tuple(each for each in self.problems if each not in self.errors)


def stamp_of(root: Path, app_root: Path) -> str:
    """A name for the state of all content files, another one after each change of any of them."""
    told = sorted((str(file), *state) for folder in {root, app_root} for file, state in snapshot(folder).items())
    return sha256(repr(told).encode()).hexdigest()


def look(root: Path, app_root: Path) -> Newest:
    """What stands there, read and looked through at this moment, and the stamp that it had when reading began."""
    stamp = stamp_of(root, app_root)
    loaded = load(root, app_root)
    found = Newest(loaded, stamp, tuple(found_in(loaded)), is_sound=True)
    if found.errors:
        return replace(found, is_sound=False)
    return replace(found, drawings=MappingProxyType({name: _drawing(loaded, name) for name in loaded.pictures}))


def _drawing(loaded: Loaded, name: str) -> Drawing:
    return parse(loaded.asset(f"assets/pictures/{name}.svg").read_text(encoding="utf-8"))


def instead(found: Newest, shown: Newest | None, running: Loaded) -> Newest:
    """The problems of ``found`` beside ``shown``, a sound state from before, else beside what the app runs on."""
    kept = shown or Newest(running, "", (), is_sound=True)
    return replace(kept, problems=found.problems, is_sound=False)
