"""A figure of the site as a reader of the page says it: the keys of the file by what they mean, its values in words."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date
from fractions import Fraction

from trainer.core import durations
from trainer.core.beside import rounded
from trainer.core.records import Json
from trainer.core.sitechanges import told
from trainer.core.text import DEFAULT_LANGUAGE
from trainer.core.units import SI, UNITS
from trainer.web import people_told, wording
from trainer.web.door import Here
from trainer.web.figures_units import Both

__all__ = ["BETWEEN", "load", "part", "place", "said", "value"]

BETWEEN = " › "

_LENGTHS = ("years", "months", "weeks", "days")
_LANGUAGES = ("languages", "complete", "calls_language")
_LOAD = "least_load_kn"
_ANGLE = "layout"
_NEWTON = 1000.0
_FIGURE = re.compile(r"([0-9]+(?:\.[0-9]+)?) (\S+)")
_PAIRS = (
    ("lb", "kg"), ("klb", "t"), ("in", "mm"), ("ft", "m"), ("lb/ft", "kg/m"), ("lb/gal", "kg/m³"), ("ft·lbf", "kN·m"),
)  # fmt: skip
_OTHER = {one: other for pair in _PAIRS for one, other in (pair, pair[::-1])}
_SIZES = {each.name: each.si for each in UNITS}
_DAY = len("2026-01-05")


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
        titled = (_entry(here, path[:depth], each) for each in figures)
        steps.append(next(filter(None, titled), "") or _step(here, path[:depth], name))
    return BETWEEN.join(steps)


def said(here: Here, path: Sequence[str], figures: Mapping[str, Json]) -> str:
    """The figure at ``path`` in words; that there is nothing, where it is empty."""
    found = _below(figures, path)
    return here.words.say("site_page.nothing") if found is None else _told(here, path[-1], found, figures)


def value(here: Here, written: str) -> str:
    """A single figure in words: yes and no, and how long something is good; the others as they are written."""
    if written in ("true", "false"):
        return here.words.say(f"site_page.{written}")
    try:
        length = durations.parse(written)
    except ValueError:
        return written
    counts = ((name, getattr(length, name)) for name in _LENGTHS)
    return ", ".join(here.words.count(f"site_page.{name}", count) for name, count in counts if count) or written


def load(here: Here, kilonewtons: int) -> str:
    """A load in the site's first unit and in the other one."""
    rig = here.desk.catalogue.site.rig
    return Both(rig.units if rig else SI).line(kilonewtons * _NEWTON, "load")


def _told(here: Here, key: str, found: object, figures: Mapping[str, Json]) -> str:
    if isinstance(found, Mapping):
        return _several(here, found, figures)
    if isinstance(found, list):
        is_deep = any(isinstance(each, Mapping) for each in found)
        return ("; " if is_deep else ", ").join(_told(here, key, each, figures) for each in found)
    written = told(found)
    if key in _LANGUAGES:
        return people_told.language(written)
    if key == _LOAD and written.isdecimal():
        return load(here, int(written))
    if key == _ANGLE and written.isdecimal():
        return here.words.say("site_page.degrees", number=written)
    worded = f"site_page.{key}-{written}"
    if here.words.has(worded):
        return here.words.say(worded)
    return _day(here, written) or _both(written) or value(here, written)


def _both(written: str) -> str:
    """A figure as it is written, with the other system's beside it; empty for what is none, or has no other."""
    found = _FIGURE.fullmatch(written)
    other = _OTHER.get(found[2]) if found else None
    if found is None or other is None:
        return ""
    return f"{written} ({rounded(Fraction(found[1]) * _SIZES[found[2]] / _SIZES[other])} {other})"


def _several(here: Here, found: Mapping[str, object], figures: Mapping[str, Json]) -> str:
    """A sentence by the language on screen first; of anything else each key with what stands there."""
    if isinstance(found.get(DEFAULT_LANGUAGE), str):
        own = here.words.language
        order = sorted(found, key=lambda language: language != own)
        return "; ".join(f"{people_told.language(each)}: {found[each]}" for each in order)
    each = ((key, _told(here, key, inside, figures)) for key, inside in found.items())
    # What a section of the string is stands for itself.
    return ", ".join(
        inside if key == "part" else f"{_worded(here, f'key-{key}', key)}: {inside}" for key, inside in each
    )


def _day(here: Here, written: str) -> str:
    """A date as people write it; empty for what is none."""
    try:
        return wording.day(date.fromisoformat(written), here.words) if len(written) == _DAY else ""
    except ValueError:
        return ""


def _below(figures: Mapping[str, Json], path: Sequence[str]) -> object:
    below: object = figures
    for step in path:
        below = below.get(step) if isinstance(below, Mapping) else None
    return below


def _entry(here: Here, path: Sequence[str], figures: Mapping[str, Json]) -> str:
    """What an entry is called by its own title, or by that of what it is about; empty where it has none.

    A set under the rig is the one of that name among the slip sets, and is called as it is there.
    """
    name = path[-1]
    own = ("gear", name) if tuple(path[:-1]) == ("rig", "slips") else path
    below = _below(figures, own)
    title = below.get("title") if isinstance(below, Mapping) else None
    if isinstance(title, Mapping) and isinstance(title.get(DEFAULT_LANGUAGE), str):
        return here.words.pick({str(key): str(each) for key, each in title.items()})
    known = here.desk.catalogue.competency(name) if path[0] == "procedures" and len(path) == 2 else None
    return here.words.pick(known.title) if known else ""


def _step(here: Here, path: Sequence[str], name: str) -> str:
    """A key in words, or a part of the string by what it is."""
    worded = f"site_page.part-{name}" if "string" in path else ""
    return here.words.say(worded) if worded and here.words.has(worded) else _worded(here, f"key-{name}", name)


def _worded(here: Here, key: str, name: str) -> str:
    full = f"site_page.{key}"
    return here.words.say(full) if here.words.has(full) else name
