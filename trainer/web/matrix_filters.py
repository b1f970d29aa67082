"""What of the matrix is shown, and on which day: kept in the address, so that a reload or a link shows the same."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import asdict, dataclass, replace
from datetime import date
from urllib.parse import parse_qsl, urlencode

from trainer.actions.desk import DRILLER
from trainer.core.matrix import STANDINGS, Cell, Matrix
from trainer.web import cached, place, session, titles
from trainer.web.door import Here

__all__ = ["EVERY", "Filters", "Places", "cells_in", "chosen_crew", "day_in", "keep", "read", "said", "scope"]

Places = Collection[tuple[str, str]]
"""Crews, each with a position that somebody there has or had."""

EVERY = "all"
"""In the address: every crew, where an absent one would mean a driller's own."""

_KEPT = "matrix-filters"


@dataclass(frozen=True, slots=True)
class Filters:
    """What is chosen; empty for everything. ``day`` is the as-of date as text, empty for today."""

    crew: str = ""
    position: str = ""
    competency: str = ""
    standing: str = ""
    late: str = ""
    day: str = ""

    @property
    def is_any(self) -> bool:
        """Whether anything but the day is left out."""
        return replace(self, day="", crew="" if self.crew == EVERY else self.crew) != Filters()


def read(here: Here, places: Places) -> Filters:
    """What the address says, else what this tab last showed, else a driller's own crew. What is unknown is dropped.

    ``places`` are the crews and positions that people are or were in.
    """
    asked = Filters(**{name: place.at(name) for name in asdict(Filters())})
    if asked == Filters():
        asked = Filters(**dict(parse_qsl(session.kept(_KEPT)))) if session.kept(_KEPT) else _first(here)
    site = here.desk.catalogue.site
    return Filters(
        crew=_one_of(asked.crew, {*site.crews, *(crew for crew, _ in places), EVERY}),
        position=_one_of(asked.position, {*site.positions, *(position for _, position in places)}),
        competency=_one_of(asked.competency, [each.id for each in here.desk.catalogue.competencies]),
        standing=_one_of(asked.standing, STANDINGS),
        late=_one_of(asked.late, ("yes",)),
        day=asked.day if day_in(asked.day) else "",
    )


def keep(chosen: Filters) -> None:
    """Put ``chosen`` into the address, and hold it for the way back to this page."""
    steps = {name: value or None for name, value in asdict(chosen).items()}
    place.put(**steps)
    session.keep(_KEPT, urlencode({name: value for name, value in steps.items() if value}) or "crew=")


def day_in(text: str) -> date | None:
    """The day in ``text``, ``None`` where it is none."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


def scope(cells: Iterable[Cell], chosen: Filters) -> list[Cell]:
    """The cells of the chosen crew, position and competency, whatever their standing."""
    return [
        cell
        for cell in cells
        if chosen.crew in ("", EVERY, cell.crew)
        and chosen.position in ("", cell.position)
        and chosen.competency in ("", cell.competency)
    ]


def cells_in(cells: Iterable[Cell], chosen: Filters) -> list[Cell]:
    """The cells that all choices leave."""
    return [
        cell
        for cell in scope(cells, chosen)
        if chosen.standing in ("", cell.standing) and (cell.late or not chosen.late)
    ]


def said(here: Here, chosen: Filters) -> str:
    """The choices in words, for whoever reads an export; empty where nothing is left out."""
    words = here.words
    parts = (
        titles.crew(here, chosen.crew) if chosen.crew not in ("", EVERY) else "",
        titles.position(here, chosen.position) if chosen.position else "",
        titles.competency(here, chosen.competency) if chosen.competency else "",
        words.say(f"standing.{chosen.standing.replace(' ', '-')}") if chosen.standing else "",
        words.say("matrix.late-only") if chosen.late else "",
    )
    return "; ".join(part for part in parts if part)


def chosen_crew(here: Here, chosen: Filters, as_of: date) -> Matrix:
    """The matrix of the chosen crew alone, or of everybody where none is chosen."""
    return cached.matrix(here.desk, as_of, "" if chosen.crew == EVERY else chosen.crew)


def _first(here: Here) -> Filters:
    """A driller begins with his own crew, as far as it has anybody with cells; everybody else with all."""
    own = here.actor.crew
    if here.actor.role != DRILLER or not own:
        return Filters()
    return Filters(crew=own) if cached.matrix(here.desk, crew=own).needed.any() else Filters()


def _one_of(text: str, allowed: Collection[str]) -> str:
    return text if text in allowed else ""
