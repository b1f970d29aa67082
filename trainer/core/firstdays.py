"""The way of a new hand: what is learnt in which order, by when, how far it is, and what stays untouched meanwhile.

The order is the catalogue's own: what comes ``after`` what, what must be known before the first touch, and how long
after coming (``within``) each is to be held. Nothing here is a date from which something may be touched.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum

from trainer.core.catalogue import Catalogue, Competency, Rotation
from trainer.core.durations import after
from trainer.core.matrix import Cell, Rule, Standing
from trainer.core.progress import PartProgress
from trainer.core.records import Part
from trainer.core.text import Text

__all__ = ["STAGES", "FirstDays", "Stage", "State", "Step", "Subject", "first_days", "in_learning_order"]

_NEW = (Rule.NOTHING, Rule.NEVER, Rule.MORE)
_HELD = (Standing.CURRENT, Standing.DUE)
_TABLET = ("lesson", "quiz")
_DAYS = timedelta(days=7)
_NO_HITCH = timedelta(days=28)
"""How long the first hitch with its days away is taken to be where the crew has none."""


class Stage(StrEnum):
    """When something has its place: before the first touch, in the first days, in the first hitch, or later."""

    TOUCH = "touch"
    DAYS = "days"
    HITCH = "hitch"
    LATER = "later"


STAGES: tuple[Stage, ...] = tuple(Stage)
"""In their order in time."""


class State(StrEnum):
    """How it is with one step: done, to be done next, or later."""

    DONE = "done"
    NEXT = "next"
    LATER = "later"


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a subject: ``what`` is ``lesson``, ``quiz`` or ``watch``; of watches ``done`` of ``of`` are there."""

    what: str
    state: State
    done: int = 0
    of: int = 0


@dataclass(frozen=True, slots=True)
class Subject:
    """One competency on the way.

    ``after`` are those of the hand's own that come first and are not held. ``until`` is what stays undone as long as
    ``is_held`` is not true. ``is_new`` says that some part of it was never held.
    """

    competency: str
    stage: Stage
    standing: Standing
    due: date | None
    after: tuple[str, ...]
    steps: tuple[Step, ...]
    until: Text | None
    is_held: bool
    is_new: bool


@dataclass(frozen=True, slots=True)
class FirstDays:
    """The whole way of one hand, in the order in which it is learnt."""

    subjects: tuple[Subject, ...]

    @property
    def is_over(self) -> bool:
        """Whether everything up to the end of the first hitch has been held."""
        return not any(each.is_new and each.stage is not Stage.LATER for each in self.subjects)

    @property
    def waiting(self) -> tuple[Subject, ...]:
        """What is not held today, and so keeps something untouched."""
        return tuple(each for each in self.subjects if not each.is_held)

    def of(self, stage: Stage) -> tuple[Subject, ...]:
        """The subjects of that stage."""
        return tuple(each for each in self.subjects if each.stage is stage)


def first_days(
    catalogue: Catalogue,
    cells: Sequence[Cell],
    parts: Mapping[str, Sequence[PartProgress]],
    starts: Mapping[str, date],
    played: frozenset[str],
) -> FirstDays:
    """The way of the hand whose ``cells`` these are, with his ``parts``.

    ``starts`` is the day from which ``within`` counts for each competency, ``played`` the lessons played to their end.
    """
    by_id = {cell.competency: cell for cell in cells}
    needed = [each for each in catalogue.competencies if each.id in by_id]
    stages = _stages(needed, {each.id: _stage(catalogue, each, by_id[each.id], starts) for each in needed})
    due = {each.id: _first_due(each, starts.get(each.id)) for each in needed}
    # A stable sort keeps the order of learning within each stage.
    ordered = sorted(in_learning_order(needed, due), key=lambda each: STAGES.index(stages[each.id]))
    held = {name for name, cell in by_id.items() if cell.standing in _HELD}
    found = [
        Subject(
            competency=each.id,
            stage=stages[each.id],
            standing=by_id[each.id].standing,
            due=by_id[each.id].due,
            after=tuple(name for name in each.after if name in by_id and name not in held),
            steps=tuple(_steps(catalogue, each, parts.get(each.id, ()), played)),
            until=each.until,
            is_held=each.id in held,
            is_new=by_id[each.id].reason.rule in _NEW,
        )
        for each in ordered
    ]
    return FirstDays(tuple(_with_next(found)))


def in_learning_order(needed: Sequence[Competency], due: Mapping[str, date | None]) -> list[Competency]:
    """What comes first stands first; among what may come now, what is due first, then the catalogue's order."""
    waiting, done = list(needed), list[Competency]()
    asked = {each.id for each in needed}
    while waiting:
        known = {each.id for each in done}
        ready = [each for each in waiting if set(each.after) & asked <= known] or waiting
        # min keeps the catalogue's order among equals.
        first = min(ready, key=lambda each: due.get(each.id) or date.max)
        waiting.remove(first)
        done.append(first)
    return done


def _stages(needed: Sequence[Competency], own: Mapping[str, Stage]) -> Mapping[str, Stage]:
    """The stage of each, none later than that of anything which comes after it."""
    stages = dict(own)
    for each in reversed(in_learning_order(needed, {})):
        for name in each.after:
            if name in stages:
                stages[name] = min(stages[name], stages[each.id], key=STAGES.index)
    return stages


def _stage(catalogue: Catalogue, competency: Competency, cell: Cell, starts: Mapping[str, date]) -> Stage:
    if competency.before_touch:
        return Stage.TOUCH
    start = starts.get(competency.id)
    due = _first_due(competency, start)
    if start is None or due is None:
        return Stage.LATER
    if due <= start + _DAYS:
        return Stage.DAYS
    rotation = catalogue.site.crews.get(cell.crew, Rotation())
    return Stage.HITCH if due <= _second_hitch(rotation, start) else Stage.LATER


def _first_due(competency: Competency, start: date | None) -> date | None:
    return after(start, competency.within) if start is not None and competency.within is not None else None


def _second_hitch(rotation: Rotation, start: date) -> date:
    """About when the second hitch begins for who came on ``start``: what is due by then is done in the first."""
    return start + (timedelta(days=rotation.on + rotation.off) if rotation.start is not None else _NO_HITCH)


def _steps(
    catalogue: Catalogue, competency: Competency, parts: Sequence[PartProgress], played: frozenset[str]
) -> Iterator[Step]:
    """The steps of one subject, each done or later."""
    by_part = {each.part: each for each in parts}
    knowledge, practical = by_part.get(Part.KNOWLEDGE), by_part.get(Part.PRACTICAL)
    is_known = knowledge is not None and knowledge.through is not None
    lesson = _lesson(catalogue, competency)
    if lesson:
        yield Step("lesson", _state(is_known or lesson in played))
    if knowledge is not None:
        yield Step("quiz", _state(is_known))
    if practical is not None:
        done = min(practical.watches, practical.of_watches)
        yield Step("watch", _state(practical.through is not None), done, practical.of_watches)


def _lesson(catalogue: Catalogue, competency: Competency) -> str:
    """The lesson that the competency's quiz names, else the first one on it; empty where there is none."""
    needs = competency.needs.knowledge
    bank = catalogue.banks.get(needs.quiz) if needs else None
    if bank is not None and bank.lesson in catalogue.lessons:
        return bank.lesson
    return next((each.id for each in catalogue.lessons.values() if each.competency == competency.id), "")


def _state(is_done: bool) -> State:
    return State.DONE if is_done else State.LATER


def _with_next(subjects: Sequence[Subject]) -> Iterator[Subject]:
    """The same with what can be done now marked: up to the first stage in which something can be learnt on a tablet.

    A watch takes an observer; whoever waits for one goes on with the next lesson meanwhile. Before the first touch
    no watch is next while another subject of that stage can still be learnt: to be watched is to go to the slips.
    """
    last = STAGES[-1]
    for stage in STAGES:
        open_steps = (_open(each) for each in subjects if each.stage is stage)
        if any(step is not None and step.what in _TABLET for step in open_steps):
            last = stage
            break
    for each in subjects:
        step = _open(each) if STAGES.index(each.stage) <= STAGES.index(last) else None
        if step is not None and last is Stage.TOUCH and step.what not in _TABLET:
            step = None
        yield replace(each, steps=tuple(_marked(each, step)))


def _open(subject: Subject) -> Step | None:
    """The first step that is not done; none for a hand stood down, or while another subject comes first."""
    if subject.standing is Standing.STOOD_DOWN or subject.after:
        return None
    return next((step for step in subject.steps if step.state is not State.DONE), None)


def _marked(subject: Subject, step: Step | None) -> Iterator[Step]:
    for each in subject.steps:
        yield replace(each, state=State.NEXT) if each is step else each
