"""A site's own figures as a file of their own: read and judged as content/site.yaml is, line by line."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping

from trainer.core.catalogue import Catalogue, Site
from trainer.core.records import Json
from trainer.core.tours import start_of
from trainer.curriculum.checks.catalogue import NEEDED
from trainer.curriculum.checks.crew_figures import crew_figures
from trainer.curriculum.checks.family import Check
from trainer.curriculum.checks.glossary import own_words
from trainer.curriculum.checks.paper import known_paper
from trainer.curriculum.checks.procedures import own_procedures
from trainer.curriculum.checks.rig import rig_figures
from trainer.curriculum.checks.site_limits import out_of_bounds
from trainer.curriculum.loaded import SITE, Loaded
from trainer.curriculum.loading import catalogue, site_from
from trainer.curriculum.nodes import Fields, Path, plain
from trainer.curriculum.shaping import shape
from trainer.curriculum.site_standin import PlacedReport, stand_in
from trainer.curriculum.yaml_reader import read
from trainer.errors import BadContent, Problem

__all__ = ["SITE_CHECKS", "SiteText", "read_site"]

SITE_CHECKS: tuple[Check, ...] = (
    *NEEDED, rig_figures, crew_figures, out_of_bounds, known_paper, own_procedures, own_words,
)  # fmt: skip
"""Those of the checks on content that look at the site's own file."""


@dataclasses.dataclass(frozen=True, slots=True)
class SiteText:
    """Figures that can be used: ``data`` as the ledger's ``site`` record holds them, the ``catalogue`` that they give.

    ``remarks`` are warnings: they stop nothing.
    """

    data: Mapping[str, Json]
    catalogue: Catalogue
    remarks: tuple[Problem, ...]


def read_site(loaded: Loaded, text: bytes, file: str) -> SiteText:
    """The figures that ``text`` (YAML) holds; ``file`` is its name in problems.

    Raises ``BadContent`` with every problem at once. ``loaded`` is the content that they are to go with.
    """
    node, problems = read(text, file)
    if node is None:
        raise BadContent(tuple(problems))
    report = PlacedReport(file, node, loaded.nodes.get(SITE))
    site = shape(node, Site, report)
    # Bad figures do not hide what is wrong with the others: the template stands in for them while those are judged.
    judged = site or stand_in(node, loaded.nodes.get(SITE), report.places)
    if judged is not None:
        bad = report.replaced()
        for path, what, todo in _unusable(judged):
            report.add(path, what, todo)
        with_it = dataclasses.replace(loaded, site=judged, nodes={**loaded.nodes, SITE: node})
        report.problems += (each for each in _judged(with_it, file) if not _is_below(each.where, bad))
    found = _in_order([*problems, *report.problems])
    data = plain(node) if isinstance(node, Fields) else None
    if site is None or not isinstance(data, dict) or any(not each.is_warning for each in found):
        raise BadContent(tuple(each for each in found if not each.is_warning) or found)
    # From the data, as every later start will read it.
    return SiteText(data, catalogue(loaded, site_from(data)), found)


def _is_below(where: str, bad: frozenset[str]) -> bool:
    """Whether that place was named already, so that a figure of the template is what would be judged there."""
    return any(where == each or where.startswith((f"{each}.", f"{each}[")) for each in bad)


def _unusable(site: Site) -> Iterator[tuple[Path, str, str]]:
    """What would leave the screens without people or words."""
    if not any(each.role == "coordinator" for each in site.positions.values()):
        yield ("positions",), "no position with role coordinator", "add coordinator: {role: coordinator}"
    if not site.languages:
        yield ("languages",), "no language", "write e.g. languages: [en, es]"
    if not site.crews:
        yield ("crews",), "no crew", 'add one, e.g. day-1: {tour: "06:00-18:00"}'
    for name, crew in site.crews.items():
        if crew.tour and start_of(crew.tour) is None:
            yield ("crews", name, "tour"), f'"{crew.tour}" is no tour', 'write e.g. "06:00-18:00"'


def _judged(loaded: Loaded, file: str) -> list[Problem]:
    """What the checks of content say of the site's own file, under the name that it has here."""
    found = (problem for check in SITE_CHECKS for problem in check(loaded))
    return [dataclasses.replace(each, file=file) for each in found if each.file == SITE]


def _in_order(problems: list[Problem]) -> tuple[Problem, ...]:
    return tuple(sorted(dict.fromkeys(problems), key=lambda each: (each.line, each.where, each.what)))
