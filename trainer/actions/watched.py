"""Around a sheet: whom an observer can choose, what he does not hold himself, and what his signed sheet came to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from trainer.actions import look, may
from trainer.actions.desk import Desk
from trainer.actions.sheets import Sheet
from trainer.core.checklists import Checklist, Step
from trainer.core.columns import evidence_columns
from trainer.core.crewlist import known_people
from trainer.core.holding import holds
from trainer.core.matrix import Cell, Standing
from trainer.core.observation import ASSESSMENT, in_the_way
from trainer.core.progress import PartProgress
from trainer.core.records import Observation, Part, Record, StepSeen, StoodDown
from trainer.errors import NotFound

__all__ = [
    "Candidate",
    "Offered",
    "Signed",
    "candidates",
    "lacking",
    "missed",
    "observes",
    "offered",
    "signed",
    "steps_missed",
]


@dataclass(frozen=True, slots=True)
class Candidate:
    """Somebody here today who can be chosen on a sheet."""

    hand: str
    name: str
    position: str
    crew: str


@dataclass(frozen=True, slots=True)
class Signed:
    """A signed sheet: its record, the body in it, and the competencies that the hand was stood down for with it."""

    record: Record
    body: Observation
    stood_down: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Offered:
    """A sheet for one hand. ``needed`` are the competencies that his position is watched for with it, empty for none.

    Of these ``missing`` were never watched often enough, ``ran_out`` once were, and ``due`` hold and must be refreshed
    soon; ``day`` is the earliest due date among all of them, where there is one. Whoever may not see the hand's rows is
    told of ``needed`` only.
    """

    checklist: Checklist
    needed: tuple[str, ...]
    missing: tuple[str, ...] = ()
    ran_out: tuple[str, ...] = ()
    due: tuple[str, ...] = ()
    day: date | None = None

    @property
    def is_wanted(self) -> bool:
        """Whether a watch with it would bring the hand on."""
        return bool(self.missing or self.ran_out or self.due)


def observes(desk: Desk) -> bool:
    """Whether the actor's position lets him observe; it hides or shows a page, the actions ask for themselves."""
    position = desk.catalogue.site.position(desk.actor.position)
    return position is not None and position.observes


def candidates(desk: Desk) -> tuple[Candidate, ...]:
    """Everybody who works in a crew here today, the actor too, by crew, position as the site lists them, and name."""
    may.require(desk, "watched.candidates")
    people, positions = desk.store.people(), list(desk.catalogue.site.positions)
    places = known_people({}, (stay for stay in desk.store.stay_rows() if stay.day <= desk.today))
    found = [
        Candidate(hand, people[hand].name, place.position, place.crew)
        for hand, place in places.items()
        if hand in people and place.crew and place.is_here(desk.today)
    ]

    def order(each: Candidate) -> tuple[str, int, str, str]:
        rank = positions.index(each.position) if each.position in positions else len(positions)
        return each.crew, rank, each.name.casefold(), each.hand

    return tuple(sorted(found, key=order))


def lacking(desk: Desk, sheet: Sheet) -> tuple[str, ...]:
    """The competencies of an assessment sheet that its observer does not hold on that day: not his to judge."""
    may.require(desk, "watched.lacking")
    details = sheet.details
    if details.purpose != ASSESSMENT:
        return ()
    evidence = evidence_columns(desk.store.evidence_rows(hands=(details.observer,)))
    return tuple(
        each
        for each in sheet.checklist.competencies()
        if not holds(desk.catalogue, evidence, details.observer, each, details.held)
    )


def offered(desk: Desk, hand: str) -> tuple[Offered, ...]:
    """Every sheet of the site: first what the hand wants, by due date, then the rest of his position's, then others."""
    may.require(desk, "watched.offered")
    places = known_people({}, (stay for stay in desk.store.stay_rows(hands=(hand,)) if stay.day <= desk.today))
    position = places[hand].position if hand in places else ""
    card = look.card(desk, hand) if may.sees_all(desk) and places else None
    cells = {cell.competency: cell for cell in card.cells} if card else {}
    found = [_offered(desk, sheet, position) for sheet in desk.catalogue.checklists.values()]
    found = [_wanted(each, cells, card.parts) if card else each for each in found]
    known = [each.id for each in desk.catalogue.competencies]

    def order(each: Offered) -> tuple[bool, bool, date, int]:
        # Among equals as the catalogue has them: what everybody learns first stands first.
        first = next(iter((*each.needed, *each.checklist.competencies())), "")
        return not each.is_wanted, not each.needed, each.day or date.max, [*known, first].index(first)

    return tuple(sorted(found, key=order))


def _offered(desk: Desk, sheet: Checklist, position: str) -> Offered:
    asked = ((each.id, each.needs.practical) for each in desk.catalogue.competencies if position in each.positions)
    return Offered(sheet, tuple(name for name, need in asked if need and need.checklist == sheet.id))


def _wanted(sheet: Offered, cells: Mapping[str, Cell], parts: Mapping[str, tuple[PartProgress, ...]]) -> Offered:
    """The sheet with what the hand's card says of it. Who is off the slips comes back first, before any watch."""
    known = {each: cells[each] for each in sheet.needed if each in cells}
    states = {
        each: _state(cell, next(part for part in parts[each] if part.part is Part.PRACTICAL))
        for each, cell in known.items()
        if cell.standing is not Standing.STOOD_DOWN
    }
    by = {state: tuple(each for each in states if states[each] == state) for state in ("missing", "ran_out", "due")}
    days = [due for each, state in states.items() if state and (due := known[each].due)]
    return replace(sheet, missing=by["missing"], ran_out=by["ran_out"], due=by["due"], day=min(days, default=None))


def _state(cell: Cell, part: PartProgress) -> str:
    """``missing``, ``ran_out``, ``due``, or nothing where the watches hold for a while."""
    if not part.holds:
        return "missing" if part.through is None else "ran_out"
    return "due" if cell.standing is Standing.DUE and part.through == cell.due else ""


def missed(desk: Desk, record_id: str, competency: str) -> tuple[tuple[Step, StepSeen], ...]:
    """What kept that competency from clean on a signed assessment, in today's words of the sheet and in its order.

    A step's note stands in it in plain words, where it was not erased. Nothing for a clean one, or where the sheet is
    gone. Raises ``Refused("not-yours")`` for another hand's record.
    """
    may.require(desk, "watched.missed")
    record = desk.store.record(record_id)
    if record is None or not isinstance(record.body, Observation):
        return ()
    may.require_rows_of(desk, record.hand or "")
    return steps_missed(desk, record.body, competency)


def steps_missed(desk: Desk, body: Observation, competency: str) -> tuple[tuple[Step, StepSeen], ...]:
    """The same of a sheet's body, for an action that has asked already whether the actor may see it."""
    sheet = desk.catalogue.checklists.get(body.checklist)
    if sheet is None or body.purpose != ASSESSMENT:
        return ()
    seen = {each.step: each for each in body.steps}
    found = in_the_way(sheet, body.steps, competency)
    return tuple((step, _told(desk, seen.get(step.id, StepSeen(step.id, state)))) for step, state in found)


def _told(desk: Desk, seen: StepSeen) -> StepSeen:
    return replace(seen, note=desk.store.text(seen.note) if seen.note else None)


def signed(desk: Desk, record_id: str) -> Signed:
    """What the actor signed with the sheet of that id. Raises ``NotFound("no-record")``, also for another's."""
    may.require(desk, "watched.signed")
    record = desk.store.record(record_id)
    if record is None or not isinstance(record.body, Observation) or record.by != desk.actor.hand:
        raise NotFound("no-record", record=record_id)
    downs = (each.body for each in desk.store.records(kinds=("stood-down",), hand=record.hand))
    stood_down = (each.competency for each in downs if isinstance(each, StoodDown) and each.observation == record_id)
    return Signed(record, record.body, tuple(stood_down))
