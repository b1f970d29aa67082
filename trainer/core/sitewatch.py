"""What a site asks of a watch of connections: how many of them, and how many people on the set."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from trainer.core.catalogue import Site
from trainer.core.marking import number

__all__ = ["CONNECTIONS_FIGURE", "TEAM_FIGURE", "Short", "asked", "short_of"]

CONNECTIONS_FIGURE, TEAM_FIGURE = "watch_connections", "slip_team"
"""The site figures that say how many connections one watch takes, and how many people work one set."""

_CONNECTIONS, _TEAM = "connections", "team"
_TEAMS: Mapping[str, int] = MappingProxyType({"two": 2, "three": 3, "learner": 3})
"""Conditions of the sheet of connections, and how many people each team of it is."""


@dataclass(frozen=True, slots=True)
class Short:
    """What a watch falls short of: the figure's name, what was ``noted``, and what the site has ``asked`` for."""

    figure: str
    noted: int
    asked: int


def asked(site: Site, figure: str) -> int | None:
    """The count that the site's figure gives; ``None`` where the site has none, or no whole number there."""
    written = site.figures.get(figure, "")
    return int(written) if written.isascii() and written.isdecimal() else None


def short_of(site: Site, noted: Mapping[str, str]) -> tuple[Short, ...]:
    """Where the conditions ``noted`` on a sheet are less than the site asks for; what is not noted is not judged."""
    counts = {CONNECTIONS_FIGURE: _connections(noted), TEAM_FIGURE: _TEAMS.get(noted.get(_TEAM, ""))}
    wanted = {figure: asked(site, figure) for figure in counts}
    return tuple(
        Short(figure, count, want)
        for figure, count in counts.items()
        if count is not None and (want := wanted[figure]) is not None and count < want
    )


def _connections(noted: Mapping[str, str]) -> int | None:
    written = noted.get(_CONNECTIONS)
    return int(number(written)) if written else None
