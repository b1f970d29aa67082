"""What the site and the catalogue call their things: plain text, to be escaped where it meets Markdown."""

from __future__ import annotations

from trainer.export import procedure_entry, procedure_line
from trainer.web.door import Here

__all__ = ["competency", "crew", "place", "position", "procedure"]


def competency(here: Here, name: str) -> str:
    """The competency's title; the id itself where the catalogue has none of that name."""
    known = here.desk.catalogue.competency(name)
    return here.words.pick(known.title) if known else name


def crew(here: Here, name: str) -> str:
    """The crew's title; the words for no crew where ``name`` is empty."""
    known = here.desk.catalogue.site.crews.get(name)
    return here.words.pick(known.title) if known and known.title else name or here.words.say("matrix.no-crew")


def position(here: Here, name: str) -> str:
    """The position's title; the id itself where the site names none."""
    known = here.desk.catalogue.site.position(name)
    return here.words.pick(known.title) if known and known.title else name


def place(here: Here, position_name: str, crew_name: str) -> str:
    """Position and crew in one line."""
    return ", ".join((position(here, position_name), crew(here, crew_name)))


def procedure(here: Here, *names: str) -> str:
    """The site's procedures behind these competencies in one sentence, as on paper; empty where there is none."""
    known = (here.desk.catalogue.competency(name) for name in names)
    return procedure_line((procedure_entry(each.procedure, here.words) for each in known if each), here.words)
