"""Plays a timeline through the actions: each person at his own desk, at the hour when he would do it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from random import Random
from zoneinfo import ZoneInfo

from trainer.actions import (
    dispensing,
    gearing,
    importing,
    learning,
    people,
    quizzing,
    reinstating,
    signing_in,
    tailgating,
    voiding,
    vouching,
    watching,
)
from trainer.actions.desk import Actor, Desk, console
from trainer.actions.sheets import SOMEBODY_ELSE, Details, Sheet
from trainer.actions.sittings import Sitting
from trainer.core.banks import Item
from trainer.core.catalogue import Needs
from trainer.core.forms import DrawnItem
from trainer.core.gear import BOWL
from trainer.core.marking import right_answer
from trainer.core.observation import MET, MET_AFTER_PROMPT, NOT_MET
from trainer.core.playing import ONWARD
from trainer.core.records import Part
from trainer.core.rows import TableRow
from trainer.core.shown import to_handles
from trainer.core.tailgate import THROUGHOUT
from trainer.core.tasks import Answer, PutInOrder
from trainer.core.workings import FUNCTIONS
from trainer.demo.scenario import Event, Person, Scenario

__all__ = ["Player", "Progress"]

Progress = Callable[[int, int], None]
"""Told how many events of how many are done."""

# Hours into the tour at which things happen; lessons and quizzes at its start: nobody sits one after twelve hours.
_HOURS = {
    "join": -1.0, "paper": -0.9, "move": -0.8, "tailgate": -0.4, "lesson": 0.1, "quiz": 0.4, "watch": 4.5, "back": 6.0,
    "paper-test": 6.5,
    "allow": 7.0, "void": 8.0,
}  # fmt: skip
_SHEET = "connections"
"""The sheet that this rig has played on screen since its beginning."""

_OUTSIDE = ("outside-knowledge", "outside-practical")
_EARLIER_RIG = "Training school (earlier rig)"


@dataclass(slots=True)
class Player:
    """One playing of ``scenario`` on ``desk``, whose site is set up and empty. ``today`` is day 0."""

    desk: Desk
    scenario: Scenario
    today: date
    latest: datetime | None = None
    """The latest moment so far: one rig has one clock, and it does not run back."""
    written: dict[str, str] = field(default_factory=dict)
    joined: dict[str, Person] = field(default_factory=dict)
    chance: Random = field(init=False)

    def __post_init__(self) -> None:
        """The same scenario plays the same way: chance comes from its seed only."""
        self.chance = Random(self.scenario.seed + 1)  # noqa: S311 - a made-up history needs no secret

    def play(self, events: tuple[Event, ...], progress: Progress) -> None:
        """Have everybody do his part, hour by hour. Raises what an action refuses: then the scenario is wrong."""
        for number, event in enumerate(sorted(events, key=self._hour), start=1):
            self._does(event.does)(event)
            progress(number, len(events))

    def _does(self, name: str) -> Callable[[Event], None]:
        does: Mapping[str, Callable[[Event], None]] = {
            "join": self._join,
            "paper": self._paper,
            "lesson": self._lesson,
            "quiz": self._quiz,
            "watch": self._watch,
            "back": self._back,
            "allow": self._allow,
            "tailgate": self._tailgate,
            "paper-test": self._paper_test,
            "move": self._move,
            "void": self._void,
        }
        return does[name]

    def _hour(self, event: Event) -> tuple[int, time, float]:
        """By day, then night crews after day crews, then by the hour of their tour."""
        crew = event.crew or (self.scenario.person(event.who).crew if event.who else "")
        return event.day, self._tour_starts(crew), _HOURS[event.does]

    def _tour_starts(self, crew: str) -> time:
        """When the tour of ``crew`` begins (the day crew's where there is none)."""
        tour = self.scenario.crews[crew].tour if crew else "06:00-18:00"
        return time.fromisoformat(tour.partition("-")[0])

    def _moment(self, event: Event, crew: str) -> datetime:
        """When the event happens: so many hours into the tour of ``crew``, and not before what went before."""
        starts = self._tour_starts(crew)
        local = datetime.combine(self.today + timedelta(days=event.day), starts, ZoneInfo(self.scenario.site.tz))
        moment = local + timedelta(hours=_HOURS[event.does], minutes=self.chance.randint(0, 20))
        self.latest = max(moment, self.latest or moment)
        return self.latest

    def _at(self, event: Event, actor: Actor | None = None) -> Desk:
        """The desk of ``actor`` (the command line when not given) at the event's moment."""
        crew = self.joined[event.who].crew if event.who in self.joined else event.crew
        return replace(self.desk, actor=actor or console(), now=self._moment(event, crew))

    def _as(self, event: Event, name: str) -> Desk:
        """The desk of the person called ``name``."""
        person = self.joined.get(name) or self.scenario.person(name)
        role = self.desk.catalogue.site.positions[person.position].role
        return self._at(event, Actor(person.id, role, person.position, person.crew, person.language))

    def _join(self, event: Event) -> None:
        person = self.scenario.person(event.who)
        self.joined[person.id] = person
        desk = self._at(event)
        people.add_person(desk, person.id, person.name, person.position, person.crew, desk.today, person.language)
        code = signing_in.new_code(desk, person.id)
        signing_in.first_pin(desk, person.id, code, self.scenario.pin, "demo")

    def _paper(self, event: Event) -> None:
        """Everything that his competencies need, as paper from elsewhere says it."""
        needed = [(each.id, part) for each in self.desk.catalogue.competencies for part in _outside_parts(each.needs)]
        self._bring(event, needed, _EARLIER_RIG)

    def _bring(self, event: Event, parts: Iterable[tuple[str, str]], by: str) -> None:
        """Passes of these parts on the event's day, from a file."""
        desk = self._at(event)
        day = desk.today.isoformat()
        cells = ("hand_id", "competency", "part", "day", "outcome", "by", "note")
        rows = [
            TableRow(row, dict(zip(cells, (event.who, name, part, day, "pass", by, ""), strict=True)))
            for row, (name, part) in enumerate(parts, start=2)
        ]
        importing.import_evidence(desk, rows)

    def _in_the_binder(self, event: Event, part: Part, by: str) -> None:
        """Passes of what is not on the sheet for connections: kept on paper so far and brought in as it stands."""
        on_sheet = self.desk.catalogue.checklists[_SHEET].competencies()
        others = [each for each in self.desk.catalogue.competencies if each.id not in on_sheet]
        self._bring(event, [(each.id, part.value) for each in others if _needs(each.needs, part)], by)

    def _lesson(self, event: Event) -> None:
        desk = self._as(event, event.who)
        for lesson in _named(self.desk.catalogue.lessons, event.subject):
            playing = learning.open_lesson(desk, lesson)
            while playing.scene is not None:
                desk = replace(desk, now=desk.now + timedelta(seconds=self.chance.randint(20, 50)))
                answer = _right_in(playing)
                playing = learning.choose(desk, playing.draft_id, playing.scene.id, answer)
            learning.finish(desk, playing.draft_id)
        self.latest = desk.now

    def _quiz(self, event: Event) -> None:
        if not event.subject:
            self._in_the_binder(event, Part.KNOWLEDGE, event.who)
        desk, known = self._as(event, event.who), self.desk.catalogue
        on_sheet = known.checklists[_SHEET].competencies()
        core = [name for name, bank in known.banks.items() if bank.competency in on_sheet]
        for bank in [event.subject] if event.subject else core:
            sitting = quizzing.start(desk, bank)
            wrong = self._wrong_places(sitting, passes=event.passes)
            for place in range(len(sitting.form.items)):
                item, drawn = sitting.item(place)
                answer = _wrong(item, drawn) if place in wrong else _right(item, drawn)
                desk = replace(desk, now=desk.now + timedelta(seconds=self.chance.randint(15, 60)))
                quizzing.answer(desk, sitting.draft_id, place, answer)
            quizzing.finish(desk, sitting.draft_id)
        self.latest = desk.now

    def _wrong_places(self, sitting: Sitting, *, passes: bool) -> frozenset[int]:
        """Which items are missed: at most one ordinary one in a pass; a critical one and some more otherwise."""
        critical = {each.id for each in sitting.bank.objectives if each.critical}
        places = range(len(sitting.form.items))
        must = [place for place in places if sitting.item(place)[0].objective in critical]
        others = [place for place in places if place not in must]
        if passes:
            return frozenset(self.chance.sample(others, self.chance.randint(0, 1)))
        return frozenset([*must[:1], *self.chance.sample(others, 3)])

    def _watch(self, event: Event) -> None:
        """The sheet that the event names, else the one for connections, and the rest as the binder has it."""
        if not event.subject and event.purpose == "assessment":
            self._in_the_binder(event, Part.PRACTICAL, event.by)
        self._watch_with(event, event.subject or _SHEET)

    def _watch_with(self, event: Event, checklist: str) -> None:
        desk = self._as(event, event.by)
        sheet = watching.open_sheet(desk, checklist, event.who, event.purpose)
        for step in sheet.checklist.steps:
            state = MET if step.critical or self.chance.random() > 0.08 else MET_AFTER_PROMPT
            watching.tick(desk, sheet.sheet_id, step.id, NOT_MET if step.id in event.not_met else state)
        watching.fill(desk, sheet.sheet_id, self._details(event, sheet))
        hand_pin = self.scenario.pin if event.purpose == "assessment" else None
        present = watching.SIGNED if hand_pin else watching.NOT_PRESENT
        record = watching.commit(desk, sheet.sheet_id, self.scenario.pin, hand_pin, present, "demo")
        if event.id:
            self.written[event.id] = record.record_id

    def _details(self, event: Event, sheet: Sheet) -> Details:
        hitch = self.scenario.crews[self.joined[event.who].crew]
        usual = {
            "connections": str(self.chance.randint(10, 18)),
            "team": self.chance.choice(("two", "three", "three")),
            "pipe": "5",
            "size": "5",
            "light": "night" if hitch.is_night else "day",
            "weather": self.chance.choice(("dry", "dry", "dry", "wet", "wind")),
        }
        asked = {each.id: [name for name, _ in each.choices] for each in sheet.checklist.conditions}
        others = {name: self.chance.choice(choices) for name, choices in asked.items() if choices}
        conditions = {name: value for name, value in {**others, **usual}.items() if name in asked}
        overall = "no" if event.not_met else "yes"
        return replace(sheet.details, conditions=conditions, brake=event.brake or SOMEBODY_ELSE, overall=overall)

    def _back(self, event: Event) -> None:
        """Brought back to the slips by somebody who did not stand him down."""
        reinstating.reinstate(self._as(event, event.by), event.who, event.subject, event.reason)

    def _allow(self, event: Event) -> None:
        """A dispensation for the hitch: ``by`` is the toolpusher, on whose tablet the coordinator puts his PIN too."""
        desk, pin = self._as(event, event.by), self.scenario.pin
        form = dispensing.open_form(desk, event.who, event.subject)
        dispensing.fill(
            desk, form.form_id, lasts=dispensing.HITCH, conditions=event.reason, pusher=event.by,
            coordinator=self.scenario.coordinator.id,
        )  # fmt: skip
        dispensing.sign(desk, form.form_id, pin, "demo")
        dispensing.commit(desk, form.form_id, pin, "demo")

    def _tailgate(self, event: Event) -> None:
        """A tailgate on paper, at which the whole crew was there throughout and answered right."""
        desk = self._as(event, event.by)
        tour = self.scenario.crews[event.crew].tour
        meeting = tailgating.open_paper(desk, event.subject, event.crew, desk.today, tour)
        for person in meeting.people:
            vouching.mark(desk, meeting.tailgate_id, person.hand, THROUGHOUT, passed=True)
        vouching.vouch(desk, meeting.tailgate_id, self.scenario.pin, "demo")

    def _paper_test(self, event: Event) -> None:
        """A paper test of the slip set ``subject`` in the first bowl, printed in full or only at the top."""
        desk = self._as(event, event.by)
        gear = desk.catalogue.site.gear
        bowl = next(name for name, item in gear.items() if item.kind == BOWL)
        third = (1.0, 1.0, 1.0) if event.passes else (0.75, 0.5, 0.0)
        imprint = [third] * gear[event.subject].segments
        gearing.note_test(desk, event.subject, bowl, imprint, "520", "", desk.today, desk.new_id())

    def _move(self, event: Event) -> None:
        people.move(self._at(event), event.who, event.crew, event.position)
        self.joined[event.who] = replace(self.joined[event.who], crew=event.crew, position=event.position)

    def _void(self, event: Event) -> None:
        desk = self._as(event, self.scenario.coordinator.id)
        voiding.void(desk, self.written[event.record], event.reason)


def _named(catalogued: Iterable[str], subject: str) -> Iterator[str]:
    """The one ``subject``, or all where it is empty."""
    return (each for each in catalogued if subject in ("", each))


def _outside_parts(needs: object) -> Iterator[str]:
    if getattr(needs, "knowledge", None):
        yield _OUTSIDE[0]
    if getattr(needs, "practical", None):
        yield _OUTSIDE[1]


def _needs(needs: Needs, part: Part) -> bool:
    return (needs.knowledge if part is Part.KNOWLEDGE else needs.practical) is not None


def _right_in(playing: learning.Playing) -> Answer:
    """The right answer to the scene that a lesson stands in, in handles."""
    scene = playing.scene
    if scene is None or scene.task is None:
        return ONWARD
    right = right_answer(scene.task, playing.play.parameters(scene), FUNCTIONS)
    return to_handles(scene.task, playing.play.order(scene), right)


def _right(item: Item, drawn: DrawnItem) -> Answer:
    return to_handles(item.task, drawn.options, right_answer(item.task, drawn.parameters, FUNCTIONS))


def _wrong(item: Item, drawn: DrawnItem) -> Answer:
    """An answer that misses: another option, one too few, or two the wrong way round."""
    right = _right(item, drawn)
    match right:
        case str() if not drawn.options:
            # A number: ten times too much.
            return f"9{right.lstrip('-')}"
        case str():
            options = [f"o{place}" for place in range(1, len(drawn.options) + 1)]
            return next(each for each in options if each != right)
        case tuple():
            return right[1:] if not _is_order(item) else (right[1], right[0], *right[2:])
        case _:
            return right


def _is_order(item: Item) -> bool:
    return isinstance(item.task, PutInOrder)
