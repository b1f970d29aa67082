"""What the catalogue and the site call their things, in the language of a sheet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from trainer.core.catalogue import Catalogue
from trainer.core.text import Text
from trainer.export.wording import Says

__all__ = ["Titles", "titles_of"]

_NONE: Mapping[str, str] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Titles:
    """Words by id, each in the order of the catalogue or the site. An id that is not there stands for itself."""

    competencies: Mapping[str, str] = field(default_factory=lambda: _NONE)
    positions: Mapping[str, str] = field(default_factory=lambda: _NONE)
    crews: Mapping[str, str] = field(default_factory=lambda: _NONE)

    def competency(self, name: str) -> str:
        """The competency's title."""
        return self.competencies.get(name, name)

    def position(self, name: str) -> str:
        """The position's title."""
        return self.positions.get(name, name)

    def crew(self, name: str) -> str:
        """The crew's title."""
        return self.crews.get(name, name)


def titles_of(catalogue: Catalogue, words: Says) -> Titles:
    """Every title that sheets need."""

    def said(name: str, title: Text | None) -> str:
        return words.pick(title) if title else name

    site = catalogue.site
    return Titles(
        competencies={each.id: words.pick(each.title) for each in catalogue.competencies},
        positions={name: said(name, each.title) for name, each in site.positions.items()},
        crews={name: said(name, each.title) for name, each in site.crews.items()},
    )
