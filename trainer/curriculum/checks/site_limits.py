"""Bounds on the figures of a site: what cannot be meant is refused, what is unusual is to be looked at again.

``LIMITS`` is the table: where a figure stands, the ends beyond which nothing sane lies, and those of what is usual.
The ends are this project's own judgement. They are wide, because the maker's manual and the site's own procedure win:
a refusal is there to catch a slip of the finger and a unit that was mixed up.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from trainer.core.catalogue import Rotation, Site
from trainer.core.durations import Duration
from trainer.core.gear import MOST_LOAD_KN
from trainer.core.sitewatch import CONNECTIONS_FIGURE, TEAM_FIGURE
from trainer.core.tours import hours_of
from trainer.core.units import US, Kind, from_si
from trainer.curriculum.loaded import SITE, Loaded
from trainer.curriculum.nodes import Path
from trainer.errors import Problem

__all__ = ["LIMITS", "Limit", "out_of_bounds", "refused_places"]

Ends = tuple[float, float]
Figure = tuple[Path, float]

_WHOLE = re.compile(r"[0-9]{1,6}")

_A_HANDLE_EACH = 3
"""Fewer people lift more than one handle of the set."""


@dataclass(frozen=True, slots=True)
class Limit:
    """One kind of figure: how it is found, its ``hard`` and its ``usual`` ends, and how its value is written.

    ``kind`` with ``si`` and ``us`` units is for a measure in SI; without it ``si`` only names what is counted.
    ``example`` is what to write instead, in SI or US. A value of ``days`` is a duration. Ends are allowed themselves.
    """

    figures: Callable[[Site], Iterator[Figure]]
    hard: Ends
    usual: Ends
    example: str
    kind: Kind | None = None
    si: str = ""
    us: str = ""
    us_example: str = ""
    days: bool = False

    def said(self, value: float, system: str) -> str:
        """``value`` as the file would hold it, in that system of units."""
        if self.days:
            return _span(round(value))
        if self.kind is None:
            return f"{value:g} {self.si}".rstrip()
        name = self.us if system == US else self.si
        return f"{from_si(value, name, self.kind):.3g} {name}".rstrip()

    def instead(self, system: str) -> str:
        """What could be written there."""
        return self.us_example if system == US and self.us_example else self.example


def out_of_bounds(loaded: Loaded) -> list[Problem]:
    """Figures outside their ends: a problem beyond the hard ones, a warning beyond the usual ones."""
    if loaded.site is None:
        return []
    site = loaded.site
    return [
        *_no_number(loaded, site),
        *(each for limit in LIMITS for each in _found(loaded, site, limit)),
        *_beside_each_other(loaded, site),
    ]


def refused_places(site: Site) -> frozenset[Path]:
    """Where figures stand that are refused here, so that nobody refuses them a second time."""
    return frozenset(
        path for limit in LIMITS for path, value in limit.figures(site) if not limit.hard[0] <= value <= limit.hard[1]
    )


def _found(loaded: Loaded, site: Site, limit: Limit) -> Iterator[Problem]:
    system = site.rig.units if site.rig else ""
    for path, value in limit.figures(site):
        got = limit.said(value, system)
        if not limit.hard[0] <= value <= limit.hard[1]:
            low, high = (limit.said(end, system) for end in limit.hard)
            what = f"{got} cannot be meant, it lies outside {low} to {high}"
            yield loaded.problem(SITE, path, what, f"write e.g. {limit.instead(system)}")
        elif not limit.usual[0] <= value <= limit.usual[1]:
            low, high = (limit.said(end, system) for end in limit.usual)
            what = f"{got} is unusual, most sites have {low} to {high}"
            yield loaded.problem(SITE, path, what, "look at this again", warning=True)


def _no_number(loaded: Loaded, site: Site) -> Iterator[Problem]:
    """Figures that are counts and hold no whole number."""
    for name, example in ((TEAM_FIGURE, "3"), (CONNECTIONS_FIGURE, "10")):
        written = site.figures.get(name)
        if written is not None and not _WHOLE.fullmatch(written):
            what = f'expected a whole number, got "{written}"'
            yield loaded.problem(SITE, ("figures", name), what, f"write e.g. {example}")


def _beside_each_other(loaded: Loaded, site: Site) -> Iterator[Problem]:
    """What only shows beside another figure of the same site."""
    team = site.figures.get(TEAM_FIGURE, "")
    if site.rig is not None and site.rig.lifting and _WHOLE.fullmatch(team) and int(team) < _A_HANDLE_EACH:
        what, todo = f"{team} on a set is fewer than a handle each", "read your own texts against this"
        yield loaded.problem(SITE, ("figures", TEAM_FIGURE), what, todo, warning=True)
    rules = site.gear_rules
    if _days(rules.notice) >= _days(rules.test_good_for):
        what = "the notice is as long as the test is good for"
        yield loaded.problem(SITE, ("gear_rules", "notice"), what, "write a shorter one, e.g. P14D")


def _span(days: int) -> str:
    """So many days as a duration in its largest whole unit."""
    for unit, length in (("Y", 365), ("M", 30), ("W", 7)):
        if days and days % length == 0:
            return f"P{days // length}{unit}"
    return f"P{days}D"


def _days(length: Duration) -> int:
    """About how many days it is: near enough for ends as wide as these."""
    return length.years * 365 + length.months * 30 + length.weeks * 7 + length.days


def _figure(name: str) -> Callable[[Site], Iterator[Figure]]:
    def found(site: Site) -> Iterator[Figure]:
        written = site.figures.get(name, "")
        if _WHOLE.fullmatch(written):
            yield ("figures", name), float(written)

    return found


def _crews(value: Callable[[Rotation], float | None], *last: str) -> Callable[[Site], Iterator[Figure]]:
    def found(site: Site) -> Iterator[Figure]:
        for name, crew in site.crews.items():
            if (given := value(crew)) is not None:
                yield ("crews", name, *last), given

    return found


def _part(part: str, *names: str) -> Callable[[Site], Iterator[Figure]]:
    """A figure at the end of these names below a part of the site; nothing where a part of the way is not there."""

    def found(site: Site) -> Iterator[Figure]:
        value: object = getattr(site, part)
        for name in names:
            value = getattr(value, name, None)
        if isinstance(value, Duration):
            yield (part, *names), float(_days(value))
        elif isinstance(value, int | float):
            yield (part, *names), float(value)

    return found


def _sets(name: str) -> Callable[[Site], Iterator[Figure]]:
    def found(site: Site) -> Iterator[Figure]:
        for each, slips in (site.rig.slips if site.rig else {}).items():
            yield ("rig", "slips", each, name), float(getattr(slips, name))

    return found


def _segments(site: Site) -> Iterator[Figure]:
    for name, item in site.gear.items():
        yield ("gear", name, "segments"), float(item.segments)
    yield from _sets("segments")(site)


_KG, _M, _IN = "kg", "m", "in"

LIMITS: tuple[Limit, ...] = (
    Limit(_figure(TEAM_FIGURE), (2, 6), (2, 4), "3"),
    Limit(_figure(CONNECTIONS_FIGURE), (1, 200), (10, 60), "10"),
    Limit(_crews(lambda crew: crew.on if crew.start and crew.on > 1 else None, "on"), (2, 120), (5, 42), "14"),
    Limit(_crews(lambda crew: crew.off if crew.start and crew.on > 1 else None, "off"), (0, 365), (2, 60), "14"),
    Limit(_crews(lambda crew: hours_of(crew.tour), "tour"), (4, 24), (6, 13), '"06:00-18:00"', si="h"),
    Limit(_part("outside_good_for"), (0, 3 * 365), (7, 365), "P90D", days=True),
    Limit(_part("assessment", "retake_hours"), (0, 720), (12, 168), "12"),
    Limit(_part("assessment", "attempts"), (1, 20), (1, 3), "3"),
    Limit(_part("assessment", "attempts_days"), (1, 365), (7, 60), "7"),
    Limit(_part("assessment", "closes_hours"), (1, 168), (2, 24), "12"),
    Limit(_segments, (1, 30), (3, 20), "3"),
    Limit(_part("gear_rules", "test_good_for"), (1, 365), (14, 180), "P3M", days=True),
    Limit(_part("gear_rules", "notice"), (0, 90), (3, 60), "P14D", days=True),
    Limit(_part("gear_rules", "least_load_kn"), (50, MOST_LOAD_KN), (200, 1800), "450", si="kN"),
    Limit(_part("rig", "friction"), (0.01, 0.5), (0.06, 0.25), "0.08", Kind.SHARE),
    Limit(_part("rig", "mud"), (700, 3000), (900, 2300), "1200 kg/m³", Kind.DENSITY, "kg/m³", "lb/gal", "10 lb/gal"),
    Limit(_part("rig", "block"), (0, 200_000), (4000, 100_000), "18 t", Kind.MASS, "t", "klb", "40 klb"),
    Limit(_part("rig", "stick_up"), (0.1, 3.0), (0.5, 1.6), "0.9 m", Kind.LENGTH, _M, _IN, "36 in"),
    Limit(_part("rig", "tongs", "arm"), (0.3, 3.0), (0.8, 2.0), "1.37 m", Kind.LENGTH, _M, "ft", "4.5 ft"),
    Limit(
        _part("rig", "tongs", "torque"), (500, 300_000), (2000, 120_000), "30.9 kN·m", Kind.TORQUE, "kN·m", "ft·lbf",
        "22800 ft·lbf",
    ),
    Limit(_sets("mass"), (10, 400), (40, 150), "82 kg", Kind.MASS, _KG, "lb", "180 lb"),
    Limit(_sets("contact_length"), (0.1, 1.0), (0.25, 0.6), "42 cm", Kind.LENGTH, "cm", _IN, "16.5 in"),
    Limit(_sets("handle_radius"), (0.1, 1.0), (0.2, 0.7), "30 cm", Kind.LENGTH, "cm", _IN, "12 in"),
    Limit(_sets("off_centre"), (-0.5, 0.5), (-0.15, 0.15), "2 cm", Kind.LENGTH, "cm", _IN, "1 in"),
)  # fmt: skip
"""Every figure that has ends of its own; what the formulas cover besides is looked at by ``rig_figures``."""
