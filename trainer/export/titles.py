"""What the catalogue and the site call their things, in the language of a sheet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from trainer.core.catalogue import Catalogue, Procedure
from trainer.core.text import Text
from trainer.export.wording import Says

__all__ = ["Titles", "procedure_entry", "procedure_line", "titles_of"]

_NONE: Mapping[str, str] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Titles:
    """Words by id, each in the order of the catalogue or the site, positions as ``Site.ladder`` has them. An id that
    is not there stands for itself.

    ``procedures`` are by competency, as ``procedure_entry`` gives them; what has none may be absent.
    """

    competencies: Mapping[str, str] = field(default_factory=lambda: _NONE)
    positions: Mapping[str, str] = field(default_factory=lambda: _NONE)
    crews: Mapping[str, str] = field(default_factory=lambda: _NONE)
    procedures: Mapping[str, str] = field(default_factory=lambda: _NONE)

    def competency(self, name: str) -> str:
        """The competency's title."""
        return self.competencies.get(name, name)

    def position(self, name: str) -> str:
        """The position's title."""
        return self.positions.get(name, name)

    def crew(self, name: str) -> str:
        """The crew's title."""
        return self.crews.get(name, name)

    def procedures_of(self, names: Iterable[str]) -> tuple[str, ...]:
        """The entries of these competencies' procedures, each once, without those that have none."""
        return tuple(dict.fromkeys(entry for name in names if (entry := self.procedures.get(name))))


def procedure_entry(procedure: Procedure | None, words: Says) -> str:
    """The number with its revision where it has one, and that it is an example where it is; empty for no procedure."""
    if procedure is None or not procedure.number:
        return ""
    entry = procedure.number
    if procedure.revision:
        entry = words.say("procedure.entry", number=procedure.number, revision=procedure.revision)
    return words.say("procedure.example", entry=entry) if procedure.example else entry


def procedure_line(entries: Iterable[str], words: Says) -> str:
    """The one sentence about procedures, on screen as on paper; empty where there is no entry."""
    said = tuple(dict.fromkeys(each for each in entries if each))
    return words.count("procedure.said", len(said), entries="; ".join(said)) if said else ""


def titles_of(catalogue: Catalogue, words: Says) -> Titles:
    """Every title that sheets need."""

    def said(name: str, title: Text | None) -> str:
        return words.pick(title) if title else name

    site = catalogue.site
    return Titles(
        competencies={each.id: words.pick(each.title) for each in catalogue.competencies},
        positions={name: said(name, site.positions[name].title) for name in site.ladder()},
        crews={name: said(name, each.title) for name, each in site.crews.items()},
        procedures={each.id: procedure_entry(each.procedure, words) for each in catalogue.competencies},
    )
