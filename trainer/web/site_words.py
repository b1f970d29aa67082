"""A figure of the site as a reader of the page says it: the keys of the file by what they mean, its values in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from trainer.core import durations
from trainer.core.records import Json
from trainer.core.text import DEFAULT_LANGUAGE
from trainer.web.door import Here

__all__ = ["BETWEEN", "part", "place", "value"]

BETWEEN = " › "

_LENGTHS = ("years", "months", "weeks", "days")


def part(here: Here, name: str) -> str:
    """What a part of the figures is called; its own name where it has no other."""
    return _worded(here, f"part-{name}", name)


def place(here: Here, path: Sequence[str], *figures: Mapping[str, Json]) -> str:
    """The way down to a figure, from its part on: what the site calls its own things, and what the keys mean.

    ``figures`` are those in which it stands, newest first: their own titles count.
    """
    steps = [part(here, path[0])]
    for depth in range(2, len(path) + 1):
        name = path[depth - 1]
        titled = (_entry(here, path[0], name, _below(each, path[:depth])) for each in figures)
        steps.append(next(filter(None, titled), "") or _worded(here, f"key-{name}", name))
    return BETWEEN.join(steps)


def _below(figures: Mapping[str, Json], path: Sequence[str]) -> object:
    below: object = figures
    for step in path:
        below = below.get(step) if isinstance(below, Mapping) else None
    return below


def value(here: Here, said: str) -> str:
    """A figure in words: yes and no, and how long something is good; the others as they are written."""
    if said in ("true", "false"):
        return here.words.say(f"site_page.{said}")
    try:
        length = durations.parse(said)
    except ValueError:
        return said
    counts = ((name, getattr(length, name)) for name in _LENGTHS)
    return ", ".join(here.words.count(f"site_page.{name}", count) for name, count in counts if count) or said


def _entry(here: Here, part_name: str, name: str, below: object) -> str:
    """What an entry is called by its own title, or by that of the competency it is about; empty where it has none."""
    title = below.get("title") if isinstance(below, Mapping) else None
    if isinstance(title, Mapping) and isinstance(title.get(DEFAULT_LANGUAGE), str):
        return here.words.pick({str(key): str(each) for key, each in title.items()})
    known = here.desk.catalogue.competency(name) if part_name == "procedures" else None
    return here.words.pick(known.title) if known else ""


def _worded(here: Here, key: str, name: str) -> str:
    full = f"site_page.{key}"
    return here.words.say(full) if here.words.has(full) else name
