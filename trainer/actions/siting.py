"""The site's own figures: which are in force, what other ones would change, and another ``site`` record with them.

The last one written gives the figures for every date, so a press here can change standings of the past too: what it
changes is told before.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from trainer.actions import may
from trainer.actions.desk import COORDINATOR, Desk
from trainer.actions.people import known
from trainer.core.catalogue import Catalogue
from trainer.core.columns import evidence_columns, stay_columns
from trainer.core.matrix import Cell
from trainer.core.records import Json, Record, SiteFigures
from trainer.core.sitechanges import Change, Moved, Standings, changes, moved, standings
from trainer.core.standing import fold
from trainer.errors import Refused
from trainer.store import Reading

__all__ = ["InForce", "Lost", "Preview", "figures", "preview", "write"]


@dataclass(frozen=True, slots=True)
class InForce:
    """The figures of the last ``site`` record: ``number`` is its place in the chain, ``by`` whoever wrote it."""

    record_id: str
    number: int
    day: date
    by: str
    data: Mapping[str, Json]


@dataclass(frozen=True, slots=True)
class Lost:
    """A ``crew`` or ``position`` (``what``) that the new figures lack and in which ``people`` are, or are to come."""

    what: str
    name: str
    people: int


@dataclass(frozen=True, slots=True)
class Preview:
    """What other figures would change; ``based_on`` is the record whose figures they are compared with.

    ``moved`` are the cells of today's matrix that ``standings`` counts, ``names`` the people in them by hand_id.
    Where anything is ``lost``, or ``keeps_office`` is not true because nobody would have the role of coordinator, they
    cannot be written.
    """

    based_on: str
    changes: tuple[Change, ...]
    standings: Standings
    lost: tuple[Lost, ...]
    keeps_office: bool
    moved: tuple[Moved, ...] = ()
    names: Mapping[str, str] = field(default_factory=dict)

    @property
    def is_ready(self) -> bool:
        """Whether there is something to write, and nothing against it."""
        return bool(self.changes) and not self.lost and self.keeps_office


def figures(desk: Desk) -> InForce:
    """The figures in force, as data."""
    may.require(desk, "siting.figures")
    last = _last(desk.store)
    person = desk.store.person(last.by)
    return InForce(last.record_id, last.seq, last.day, person.name if person else last.by, _body(last).site)


def preview(desk: Desk, data: Mapping[str, Json], catalogue: Catalogue) -> Preview:
    """What the figures in ``data`` would change; ``catalogue`` is the one made of them. Nothing is written."""
    may.require(desk, "siting.preview")
    return _preview(desk, desk.store, data, catalogue)


def write(desk: Desk, data: Mapping[str, Json], catalogue: Catalogue, *, based_on: str, record_id: str) -> Record:
    """The ``site`` record of these figures, in force from now on for every date; a second press returns the first.

    ``based_on`` is the record that the preview was made on. Raises ``Refused``: ``site-changed`` where another one was
    written since, ``site-same`` where nothing differs, ``site-lost`` where people would be left without crew or
    position, ``site-no-office`` where nobody would be a coordinator.
    """
    may.require(desk, "siting.write")
    with desk.store.transaction() as writing:
        # Written already: the same figures give the same record again, others are refused by its id.
        if writing.record(record_id) is None:
            _require_ready(_preview(desk, writing, data, catalogue), based_on)
        return writing.append(desk.new_record(SiteFigures(dict(data), writing.tz), record_id=record_id))


def _require_ready(found: Preview, based_on: str) -> None:
    if found.based_on != based_on:
        raise Refused("site-changed")
    if not found.changes:
        raise Refused("site-same")
    if found.lost:
        raise Refused("site-lost", names=", ".join(each.name for each in found.lost))
    if not found.keeps_office:
        raise Refused("site-no-office")


def _preview(desk: Desk, reading: Reading, data: Mapping[str, Json], catalogue: Catalogue) -> Preview:
    last = _last(reading)
    was, now = _matrices(desk, reading, catalogue)
    cells = moved(was, now)
    people, hands = reading.people(), {each.hand for each in cells}
    return Preview(
        based_on=last.record_id,
        changes=changes(dict(_body(last).site), dict(data)),
        standings=standings(was, now),
        lost=_lost(desk, reading, catalogue),
        keeps_office=_keeps_office(desk, reading, catalogue),
        moved=cells,
        names={hand: person.name for hand, person in people.items() if hand in hands},
    )


def _last(reading: Reading) -> Record:
    # Asking for the figures first names the fault where there is no such record, or it cannot be read.
    reading.site_figures()
    [last] = reading.newest("site", 1)
    return last


def _body(record: Record) -> SiteFigures:
    assert isinstance(record.body, SiteFigures)
    return record.body


def _matrices(desk: Desk, reading: Reading, catalogue: Catalogue) -> tuple[tuple[Cell, ...], tuple[Cell, ...]]:
    """Today's matrix with the figures in force, and with the others."""
    evidence, stays = evidence_columns(reading.evidence_rows()), stay_columns(reading.stay_rows())
    was, now = (tuple(fold(each, evidence, stays, desk.today).cells()) for each in (desk.catalogue, catalogue))
    return was, now


def _lost(desk: Desk, reading: Reading, catalogue: Catalogue) -> tuple[Lost, ...]:
    """Crews and positions of people who are here or to come, and that the new figures do not name."""
    here = [each for each in known(reading).values() if each.left is None or each.left >= desk.today]
    counts = Counter(("position", each.position) for each in here)
    counts.update(("crew", each.crew) for each in here if each.crew)
    names = {"position": catalogue.site.positions, "crew": catalogue.site.crews}
    return tuple(Lost(what, name, n) for (what, name), n in sorted(counts.items()) if name not in names[what])


def _keeps_office(desk: Desk, reading: Reading, catalogue: Catalogue) -> bool:
    """Whether anybody who is here now would have the role of coordinator."""
    roles = (
        catalogue.site.position(each.position)
        for each in known(reading).values()
        if each.name is not None and each.is_here(desk.today)
    )
    return any(position is not None and position.role == COORDINATOR for position in roles)
