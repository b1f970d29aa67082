"""What each printed sheet is given: read through the actions at the moment it is asked for, in the words on screen.

No screen in here: a sheet is made after the page was drawn, when the browser fetches it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import date, datetime

import trainer
from trainer.actions import dispensed, leaving_off, look, printing, starting, tailgating, tailgating_held
from trainer.actions.desk import Desk
from trainer.actions.look import Told
from trainer.actions.tailgating import SheetQuestion
from trainer.actions.tailgating_held import Asked as AskedThen
from trainer.actions.tailgating_held import Talk
from trainer.core.catalogue import PAPER_FIGURE
from trainer.core.crewlist import known_people
from trainer.core.lessons import TalkPoint
from trainer.core.matrix import Cell, Standing
from trainer.core.records import Effect, Record
from trainer.core.tasks import Picture
from trainer.export import LedgerHead, procedure_line, titles_of
from trainer.export.printed.orientation import Orientation, calls_said, learned
from trainer.export.printed.pocket import PocketCard
from trainer.export.printed.record import Proof, RecordCard
from trainer.export.printed.source import Source, day, language_name
from trainer.export.printed.tailgate import Asked, Point, Signer, TailgateSheet
from trainer.export.printed.talk import Present, Question, TalkSheet
from trainer.export.printed.wall import CrewWall, WallHand
from trainer.export.printed.watch import Void, WatchSheet
from trainer.export.titles import Titles
from trainer.pictures import LIGHT, render
from trainer.web import cached
from trainer.words import Words

__all__ = [
    "crew_wall",
    "held_talk",
    "orientation",
    "pocket_card",
    "record_card",
    "source",
    "tailgate_sheet",
    "watch_sheet",
]

# White costs no ink; everything else is as on a light screen.
_PRINT = {**LIGHT, "paper": "#ffffff"}
_COUNTS = (Effect.PASS, Effect.DOWN, Effect.UP)
_TRIES = ("quiz", "observation")


def source(desk: Desk) -> Source:
    """What every sheet says of itself."""
    heads = tuple(LedgerHead(head.site, head.seq, head.hash, head.at) for head in printing.heads(desk))
    paper = desk.catalogue.site.figures.get(PAPER_FIGURE, "")
    return Source(desk.store.site, desk.store.tz, heads, trainer.VERSION, paper)


def pocket_card(desk: Desk, words: Words, checklist: str, hand: str = "") -> PocketCard:
    """A blank card of that sheet, with the hand's name where one is chosen."""
    titles = titles_of(desk.catalogue, words)
    name, observer = (_name(desk, each) if each else "" for each in (hand, desk.actor.hand))
    sheet = desk.catalogue.checklists[checklist]
    return PocketCard(source(desk), sheet, titles.competencies, name, observer, titles.procedures)


def _name(desk: Desk, hand: str) -> str:
    person = desk.store.person(hand)
    return person.name if person else hand


def tailgate_sheet(
    desk: Desk, words: Words, competency: str, crew: str, tailgate_id: str = "", tour: str = ""
) -> TailgateSheet:
    """A sheet for that topic, crew and tour; of an open tailgate with its form, questions and people."""
    made, titles = tailgating.sheet(desk, competency, crew, tailgate_id), titles_of(desk.catalogue, words)
    site_crew = desk.catalogue.site.crews.get(made.crew)
    return TailgateSheet(
        source=source(desk),
        title=words.pick(made.title),
        objective=words.pick(made.objective),
        points=tuple(_point(each, words) for each in made.points),
        questions=tuple(_asked(each, words) for each in made.questions),
        header=made.header,
        number=made.number,
        revision=made.revision,
        job=made.job,
        tour=tour or (site_crew.tour if site_crew else ""),
        crew=titles.crew(made.crew) if made.crew else "",
        leader=_name(desk, desk.actor.hand),
        signers=tuple(Signer(name, titles.position(position)) for name, position in _crew_of(desk, made.crew)),
        lines=made.lines,
        procedure=procedure_line(titles.procedures_of([competency]), words),
    )


def held_talk(desk: Desk, words: Words, tailgate_id: str) -> TalkSheet:
    """The sheet of the actor's tailgate of that id, from its records. Raises ``NotFound("no-record")``."""
    found, titles = tailgating_held.talk(desk, tailgate_id), titles_of(desk.catalogue, words)
    record, body = found.held.record, found.held.body
    crews = Counter(place.crew for place in found.places.values() if place.crew)
    return TalkSheet(
        source=source(desk),
        title=words.pick(found.lesson.title) if found.lesson else titles.competency(body.competency),
        competency=titles.competency(body.competency),
        day=record.day,
        vouched=datetime.fromisoformat(record.at),
        people=_present(found, titles, words),
        record_id=record.record_id,
        seq=record.seq,
        hash=record.hash,
        guests=tuple(each or words.say("evidence.why-erased") for each in found.held.guests),
        questions=tuple(_question(each, words) for each in found.questions),
        header=found.header,
        number=found.number,
        revision=found.revision,
        procedure=procedure_line(titles.procedures_of([body.competency]), words),
        job=found.held.job or (words.say("evidence.why-erased") if body.job else ""),
        tour=body.tour,
        crew=", ".join(titles.crew(crew) for crew, _ in crews.most_common()),
        paper=body.paper,
        entered=date.fromisoformat(body.entered) if body.entered not in ("", record.day.isoformat()) else None,
    )


def _present(found: Talk, titles: Titles, words: Words) -> tuple[Present, ...]:
    """Everybody of the site who was there: whoever held the talk, then by name."""

    def row(hand: str, how: str, record: Record, passed: bool, answered: int, right: int) -> Present:
        place, void = found.places.get(hand), found.voided.get(record.record_id)
        told = (titles.position(place.position), titles.crew(place.crew) if place.crew else "") if place else ()
        return Present(
            found.names.get(hand) or words.say("export.erased"), ", ".join(each for each in told if each), how, passed,
            answered, right, record.seq, Void(void.by, void.day, void.why or "") if void else None,
        )  # fmt: skip

    held = found.held
    others = [row(each.hand, each.how, each.record, each.passed, each.answered, each.right) for each in held.people]
    led = row(held.body.vouched, held.body.present, held.record, False, 0, 0)
    return (led, *sorted(others, key=lambda each: (each.name.casefold(), each.number)))


def _question(asked: AskedThen, words: Words) -> Question:
    gone = words.say("prints.talk-reworded", item=asked.item, version=asked.version)
    return Question(words.pick(asked.text) if asked.text else gone, asked.answered, asked.right)


def _point(point: TalkPoint, words: Words) -> Point:
    return Point(words.pick(point.title), words.pick(point.text), _drawn(point.picture))


def _asked(asked: SheetQuestion, words: Words) -> Asked:
    options = tuple(words.pick(option) for option in asked.options)
    return Asked(words.pick(asked.text), options, asked.right, words.pick(asked.why), _drawn(asked.picture))


def _drawn(picture: Picture | None) -> str:
    """The drawing in its state, with every colour written out; empty for none."""
    if picture is None:
        return ""
    # On paper nothing moves: a motion is shown where it begins.
    show = frozenset(picture.show) | (frozenset({picture.move}) if picture.move else frozenset())
    drawing = cached.drawing(picture.name)
    return render(drawing, show=show, hide=frozenset(picture.hide), marks=picture.marks, palette=_PRINT)


def _crew_of(desk: Desk, crew: str) -> list[tuple[str, str]]:
    """Name and position of everybody of that crew here today but whoever holds the talk, as the site lists them."""
    positions, people = desk.catalogue.site.ladder(), desk.store.people()
    places = known_people({}, (stay for stay in desk.store.stay_rows() if stay.day <= desk.today))
    found = [
        (people[hand].name, place.position)
        for hand, place in places.items()
        if place.crew == crew and crew and hand in people and hand != desk.actor.hand and place.is_here(desk.today)
    ]
    return sorted(found, key=lambda pair: (_rank(pair[1], positions), pair[0].casefold()))


def _rank(position: str, positions: Sequence[str]) -> int:
    return positions.index(position) if position in positions else len(positions)


def crew_wall(desk: Desk, words: Words, crew: str) -> CrewWall:
    """That crew today, by position, with what stands beside a standing and is none."""
    matrix, names = look.matrix(desk), look.names(desk)
    positions = desk.catalogue.site.ladder()
    cells: dict[str, list[Cell]] = {}
    for cell in matrix.cells():
        cells.setdefault(cell.hand, []).append(cell)
    own = [
        (hand, position)
        for hand, of, position in zip(matrix.hands, matrix.crews, matrix.positions, strict=True)
        if of == crew
    ]
    own.sort(key=lambda pair: (_rank(pair[1], positions), names.get(pair[0], "").casefold(), pair[0]))
    beside = _beside(desk, words, names)
    rotation = desk.catalogue.site.crews.get(crew)
    return CrewWall(
        source=source(desk),
        as_of=matrix.as_of,
        crew=crew,
        hands=tuple(
            _wall_hand(desk, names.get(hand) or words.say("export.erased"), position, cells.get(hand, []), beside, hand)
            for hand, position in own
        ),
        titles=titles_of(desk.catalogue, words),
        where=rotation.tour if rotation else "",
    )


def _wall_hand(
    desk: Desk, name: str, position: str, cells: list[Cell], beside: Mapping[str, list[str]], hand: str
) -> WallHand:
    is_calm = all(cell.standing is Standing.CURRENT for cell in cells)
    parts = {} if is_calm else look.card(desk, hand).parts
    return WallHand(name, position, tuple(cells), parts, tuple(beside.get(hand, ())))


def _beside(desk: Desk, words: Words, names: Mapping[str, str]) -> Mapping[str, list[str]]:
    """By hand: left off the slips for this tour, and what is allowed for a while."""
    titles = titles_of(desk.catalogue, words)
    said: dict[str, list[str]] = {}
    for hand, mark in leaving_off.left_off(desk).items():
        said.setdefault(hand, []).append(words.say("prints.wall-left-off", by=names.get(mark.by, mark.by)))
    for each in dispensed.shown(desk):
        if each.state == dispensed.RUNS:
            told = {"title": titles.competency(each.competency), "day": day(each.until, words)}
            conditions = each.conditions or words.say("evidence.why-erased")
            said.setdefault(each.hand, []).append(words.say("prints.wall-allowed", conditions=conditions, **told))
    return said


def record_card(desk: Desk, words: Words, hand: str) -> RecordCard:
    """That hand's card today, with the records behind it. Raises ``Refused`` for another's."""
    card = look.card(desk, hand)
    return RecordCard(
        source=source(desk),
        as_of=card.as_of,
        hand=hand,
        name=card.name or words.say("export.erased"),
        position=card.position,
        crew=card.crew,
        cells=card.cells,
        parts=card.parts,
        proofs={cell.competency: _proofs(look.evidence_of(desk, hand, cell.competency), cell) for cell in card.cells},
        titles=titles_of(desk.catalogue, words),
    )


def _proofs(told: Sequence[Told], cell: Cell) -> tuple[Proof, ...]:
    """What counts, and the last quiz and the last watch whatever came of them: a card that knows nothing of a try
    looks forgotten."""
    kept = [each for each in told if each.voided is None]
    tried = [next((each for each in kept if each.kind == kind), None) for kind in _TRIES]
    return tuple(
        Proof(
            day=each.day,
            kind=each.kind,
            effect=each.effect,
            part=each.part,
            by=each.by,
            site=each.site,
            seq=each.seq,
            decides=each.record_id == cell.reason.record_id,
        )
        for each in kept
        if each.effect in _COUNTS or each in tried
    )


def watch_sheet(desk: Desk, words: Words, record_id: str) -> WatchSheet:
    """The signed sheet of that record. Raises ``NotFound``, ``Refused`` for another hand's."""
    found = printing.watch(desk, record_id)
    record, body, voided = found.record, found.body, found.voided
    return WatchSheet(
        source=source(desk),
        checklist=desk.catalogue.checklists.get(body.checklist),
        body=body,
        hand=record.hand or "",
        day=record.day,
        site=record.site,
        number=record.seq,
        record_id=record.record_id,
        hash=record.hash,
        names=found.names,
        titles=titles_of(desk.catalogue, words),
        note=found.note,
        notes=found.notes,
        stood_down=found.stood_down,
        void=Void(voided.by, voided.day, voided.why or "") if voided else None,
    )


def orientation(desk: Desk, words: Words, hand: str) -> Orientation:
    """The sheet for the first day of somebody here or to come."""
    titles, site, person = titles_of(desk.catalogue, words), desk.catalogue.site, starting.newcomer(desk, hand)
    return Orientation(
        source=source(desk),
        hand=person.hand,
        name=person.name,
        position=titles.position(person.position),
        crew=titles.crew(person.crew) if person.crew else "",
        joins=person.joined,
        language=language_name(person.language, words),
        calls=language_name(site.calls_language, words),
        called=calls_said(cached.site_words().get(site.calls_language) or cached.all_words().get(site.calls_language)),
        steps=learned(desk.catalogue, person.way, words),
    )
