"""The site's own figures as the YAML that they are changed in and taken back from."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import fields
from datetime import datetime

import yaml

from trainer.core.catalogue import Assessment, Position, Procedure, Rotation, Site
from trainer.core.gear import GearItem, GearRules
from trainer.core.records import Json
from trainer.core.rig import Rig, RigPipe, RigSection, SlipSet, Tongs
from trainer.export.wording import Says

__all__ = ["in_order", "render"]

_WIDE = 118
_ANY = 1_000_000
_TOLD = (
    "positions", "crews", "outside_good_for", "languages", "complete", "calls_language", "assessment", "figures",
    "procedures", "glossary", "gear", "gear_rules", "rig",
)  # fmt: skip
"""The parts over which stands what they are for."""


_TYPES = (
    Site, Position, Rotation, Assessment, Procedure, GearItem, GearRules, Rig, RigSection, RigPipe, SlipSet, Tongs,
)  # fmt: skip
_LAST = "title"
_ORDER = (*dict.fromkeys(each.name for cls in _TYPES for each in fields(cls) if each.name != _LAST), _LAST)
"""Keys in the order in which the core knows them; a record has them by the alphabet."""


class _Dumper(yaml.SafeDumper):
    """Writes each value out, for the reader takes no aliases, and quotes only what it would not take for text."""

    yaml_implicit_resolvers = {}  # noqa: RUF012 - as the dumper's base declares it

    def ignore_aliases(self, data: object) -> bool:  # noqa: ARG002 - the dumper's own form
        """Always."""
        return True


_Dumper.add_implicit_resolver("tag:yaml.org,2002:bool", re.compile("^(?:true|false)$"), list("tf"))
_Dumper.add_implicit_resolver("tag:yaml.org,2002:null", re.compile("^(?:null|)$"), ["n", ""])
_Dumper.add_implicit_resolver("tag:yaml.org,2002:int", re.compile("^-?[0-9]+$"), list("-0123456789"))


def render(data: Mapping[str, Json], words: Says, now: datetime, *, site: str, number: int) -> bytes:
    """``data`` (the figures as a ``site`` record holds them) as a file, each part under what it is for.

    ``number`` is the record's own in the chain of ``site``; ``now`` the moment of writing, on the first line.
    """
    head = words.say("site_yaml.head", site=site, number=number, moment=now.strftime("%Y-%m-%d %H:%M UTC"))
    return "\n".join([*_comment(head), "", *_parts(data, words)]).encode()


def _parts(data: Mapping[str, Json], words: Says) -> Iterator[str]:
    for key, value in in_order(data).items():
        if key in _TOLD:
            yield from _comment(words.say(f"site_yaml.{key}"))
        is_short = not isinstance(value, dict | list)
        yield yaml.dump(
            {key: value}, Dumper=_Dumper, allow_unicode=True, sort_keys=False, width=_ANY,
            default_flow_style=False if is_short else None,
        )  # fmt: skip


def in_order(data: Mapping[str, Json]) -> dict[str, Json]:
    """The same with its keys in the order of the core, names of the site's own after them as they come."""
    keys = sorted(data, key=lambda key: _ORDER.index(key) if key in _ORDER else len(_ORDER))
    return {key: _value(data[key]) for key in keys}


def _value(value: Json) -> Json:
    if isinstance(value, Mapping):
        return in_order(value)
    return [_value(each) for each in value] if isinstance(value, list) else value


def _comment(text: str) -> Iterator[str]:
    line = "#"
    for word in text.split():
        if len(line) + len(word) >= _WIDE:
            yield line
            line = "#"
        line += f" {word}"
    yield line
