"""Sheets to print, with names in four writings and everything on them that may overflow."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from functools import cache

from tests.unit.export.reports import ROOT
from trainer import curriculum, words
from trainer.core.catalogue import Catalogue, Competency, Needs, Practical
from trainer.core.checklists import Checklist, Step
from trainer.core.durations import Duration
from trainer.core.matrix import Cell, Reason, Rule, Standing
from trainer.core.progress import PartProgress
from trainer.core.records import Observation, Part, Signature, StepSeen
from trainer.export import MATRIX_FORMATS, LedgerHead, MatrixReport, Titles, titles_of
from trainer.export.printed import orientation, pocket, record, tailgate, wall, watch
from trainer.export.printed import talk as talk_sheet
from trainer.export.printed.orientation import Learned, Orientation
from trainer.export.printed.pocket import PocketCard
from trainer.export.printed.record import Proof, RecordCard
from trainer.export.printed.source import Source
from trainer.export.printed.tailgate import Asked, Point, Signer, TailgateSheet
from trainer.export.printed.talk import Present, Question, TalkSheet
from trainer.export.printed.wall import CrewWall, WallHand
from trainer.export.printed.watch import Void, WatchSheet
from trainer.words import Words

NOW = datetime(2026, 3, 2, 18, 0, tzinfo=UTC)
TODAY = date(2026, 3, 2)
WORDS: Mapping[str, Words] = words.load(ROOT, ROOT)
CONTENT = curriculum.load(ROOT, ROOT)
SOURCE = Source("rig-7", "America/Denver", (LedgerHead("rig-7", 812, "3fa4c1d29bb0" + "0" * 52, ""),), "0.1")
NAMES = (
    "Nguyễn Văn Minh",
    "María Fernanda de la Concepción Rodríguez-Villanueva Echeverría",
    "محمد عبد الله",
    "Олександр Коваль",
    "Leland Begay",
)
SEVENTEEN = (
    "Stop and report", "Calls and signals", "Hand placement", "Lifting, footing, housekeeping", "Crewing and handles",
    "Setting the slips", "Pulling the slips", "Collars and clamp", "Check before the trip", "Dies",
    "Bowls, bushings, straight-edge", "Lubrication", "Slip test (paper test)", "Load and pipe", "Driller's part",
    "Observing fairly", "Supervising a learner",
)  # fmt: skip
DRAWING = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 720 540"><rect x="9" y="9" width="700" height="500" '
    'fill="#c79a63"/></svg>'
)


def titles(many: int = 17) -> Titles:
    """Titles of so many competencies, and of a site's positions and crews."""
    return Titles(
        {f"c{number}": title for number, title in enumerate(SEVENTEEN[:many])},
        {"floorhand": "Floorhand", "assistant-driller": "Assistant driller"},
        {f"crew-{number}": f"Crew {number}" for number in range(5)},
        {f"c{number}": f"OP-{number + 101}, revision B" for number in range(many)},
    )


def cell(hand: str, number: int, standing: Standing, crew: str = "crew-0", **other: object) -> Cell:
    """One cell; due in a month unless ``other`` says another day."""
    reason = Reason(Rule.HOLDS, Part.KNOWLEDGE, "r1", TODAY)
    plain: dict[str, object] = {"due": TODAY + timedelta(days=30), "do_by": None, "late": False, **other}
    return Cell(hand, f"c{number}", "floorhand", crew, standing, reason=reason, **plain)  # type: ignore[arg-type]


def cells(hand: str, many: int, crew: str = "crew-0") -> tuple[Cell, ...]:
    """A hand's cells: every standing in turn."""
    return tuple(cell(hand, number, tuple(Standing)[number % 6], crew, late=number % 5 == 0) for number in range(many))


def matrix(hands: int, competencies: int) -> MatrixReport:
    """So many hands in crews of eight, each with every competency."""
    found = [each for number in range(hands) for each in cells(f"h{number:02}", competencies, f"crew-{number // 8}")]
    names = {f"h{number:02}": f"{number} {NAMES[number % 5]}" for number in range(hands)}
    return MatrixReport(
        "rig-7", TODAY, tuple(found), names, SOURCE.heads, "0.1", titles=titles(competencies), zone="America/Denver"
    )


def poster(report: MatrixReport, words: Words) -> bytes:
    """The poster of that matrix."""
    return dict(MATRIX_FORMATS)["pdf"](report, words, NOW)


def card_of(checklist: Checklist, language: str = "en", paper: str = "A4") -> PocketCard:
    """A blank card of that sheet, its procedures the rig's own."""
    said = {each.id: WORDS[language].pick(each.title) for each in CONTENT.competencies}
    assert CONTENT.site
    site = replace(
        CONTENT.site, procedures={each.id: each.procedure for each in CONTENT.competencies if each.procedure}
    )
    entries = titles_of(curriculum.catalogue(CONTENT, site), WORDS[language]).procedures
    return PocketCard(replace(SOURCE, paper=paper), checklist, said, NAMES[1], procedures=entries)


def long_checklist(competencies: int, steps: int) -> Checklist:
    """A made-up sheet with so many steps of so many competencies."""
    sentence = "Sees that number {} is right, and says so out loud to everybody on the floor before the next one begins"
    made = tuple(
        Step(f"s{number}", f"c{number * competencies // steps}", {"en": sentence.format(number + 1)}, number % 2 == 0)
        for number in range(steps)
    )
    return Checklist("long", {"en": "A long sheet"}, made)


def talk(*, signers: int = 5, lines: int = 1, pictures: bool = True) -> TailgateSheet:
    """A sheet for a talk; each of its texts is ``lines`` sentences long."""
    more, drawing = " And that is that, on this floor and on every other one." * (lines - 1), DRAWING * pictures
    point = Point("Only the handles", f"Seven places take fingers.{more}", drawing)
    options = ("On the pipe", "On the tool joint", "Away from the table", "On a handle")
    asked = Asked(f"Where is it safe to lean?{more}", options, 2, "KEYWHY what hangs there can move.", drawing)
    return TailgateSheet(
        SOURCE, "Where your hands go", "Hands on the handles and nowhere else.", (point,) * 3, (asked,) * 3,
        header="Daily safety meeting", number="F-114", revision="C", job="JSA 2231", crew="Crew 0",
        signers=tuple(Signer(NAMES[number % 5], "Assistant driller") for number in range(signers)),
        procedure="Procedure OP-103, revision B",
    )  # fmt: skip


def held_talk(*, people: int = 6, guests: int = 2, **other: object) -> TalkSheet:
    """A talk on record with so many people besides its leader, of whom the last record is void."""
    led = Present(NAMES[3], "Driller, Crew 0", "led", False, 0, 0, 40)
    ways = (("throughout", True, 3), ("late", False, 3), ("left", False, 2), ("throughout", False, 1))
    there = [
        Present(NAMES[number % 5], "Assistant driller, Crew 0", how, passed, 3, right, 41 + number)
        for number, (how, passed, right) in zip(range(people), ways * people, strict=False)
    ]
    there[-1:] = [replace(each, void=Void(NAMES[0], TODAY, "Wrong name")) for each in there[-1:]]
    plain: dict[str, object] = {
        "guests": tuple(f"{NAMES[number % 5]}, cementing company" for number in range(guests)),
        "questions": (Question("Where is it safe to lean?", people, people - 1),) * 3,
        "header": "Daily safety meeting", "number": "F-114", "revision": "C", "job": "JSA 2231",
        "procedure": "Procedure OP-103, revision B", "tour": "18:00-06:00", "crew": "Crew 0",
    }  # fmt: skip
    return TalkSheet(
        SOURCE, "Where your hands go", "Hand placement", TODAY, datetime(2026, 3, 2, 7, 30, tzinfo=UTC),
        (led, *there), "01a2", 40, "9f" * 32, **{**plain, **other},  # type: ignore[arg-type]
    )  # fmt: skip


def crew(hands: int, competencies: int) -> CrewWall:
    """A crew of so many hands; one more of whom nothing is asked."""
    parts = {
        f"c{number}": (
            PartProgress(Part.KNOWLEDGE, None, False),
            PartProgress(Part.PRACTICAL, None, False, 1, 1, 2, 2),
        )
        for number in range(competencies)
    }
    found = tuple(
        WallHand(NAMES[number % 5], "floorhand", cells(f"h{number}", competencies), parts) for number in range(hands)
    )
    calm = WallHand("Dee Calm", "floorhand", (cell("calm", 0, Standing.CURRENT),), {})
    driller = WallHand("Dee Driller", "assistant-driller", (), {})
    return CrewWall(SOURCE, TODAY, "crew-0", (*found, calm, driller), titles(competencies), "06:00-18:00")


def held(competencies: int = 6, proofs: int = 9) -> RecordCard:
    """A hand's card with so many records behind each competency."""
    proof = Proof(TODAY, "observation", "pass", "practical", NAMES[1], "rig-7", 41)
    other = replace(proof, kind="quiz", part="knowledge", site="rig-9", seq=7, decides=True)
    own = cells("h1", competencies)
    return RecordCard(
        SOURCE, TODAY, "h1", NAMES[0], "floorhand", "crew-0", own, crew(1, competencies).hands[0].parts,
        {each.competency: (other, *[proof] * (proofs - 1)) for each in own}, titles(competencies),
    )  # fmt: skip


def seen(void: Void | None = None, **body: object) -> WatchSheet:
    """The signed sheet of one watch on three steps."""
    steps = (
        Step("a", "c1", {"en": "Answers every call"}, critical=True),
        Step("b", "c1", {"en": "Repeats it back"}),
        Step("c", "c2", {"en": "Hands only on the handles"}, critical=True),
    )
    plain: dict[str, object] = {
        "checklist": "sheet", "content": "as-it-was", "purpose": "assessment",
        "steps": (StepSeen("a", "met"), StepSeen("c", "not met"), StepSeen("gone", "met")),
        "conditions": {}, "overall": "no", "observer": "obs", "brake": "somebody-else", "hand_present": "declined",
        "signatures": (Signature("obs", "observer", "2026-03-02T17:30:00.000Z", "watched"),),
        "outcomes": {"c2": "not yet", "c1": "clean"}, "held": "2026-03-01", "tour": "06:00-18:00",
        "entered": "2026-03-02", "stop_called": True,
    }  # fmt: skip
    return WatchSheet(
        SOURCE, Checklist("sheet", {"en": "Connections"}, steps, hash="now"), Observation(**{**plain, **body}),  # type: ignore[arg-type]
        "h1", date(2026, 3, 1), "rig-7", 528, "01a2", "9f" * 32, {"h1": NAMES[2], "obs": NAMES[3]}, titles(),
        note="Slipped once", notes={"c": "Left hand"}, stood_down=("c2",), void=void,
    )  # fmt: skip


def first_day(competencies: int = 17) -> Orientation:
    """The first day of somebody of whom so many competencies are asked."""
    steps = tuple(
        Learned(title, SEVENTEEN[:1] if number else (), title, 8, TODAY + timedelta(days=number), Standing.NOT_STARTED)
        for number, title in enumerate(SEVENTEEN[:competencies])
    )
    return Orientation(SOURCE, "h1", NAMES[1], "Floorhand", "Crew 0", TODAY, "Spanish", "English", steps)


def catalogue(*competencies: tuple[str, tuple[str, ...]]) -> Catalogue:
    """A catalogue of these competencies, each with what comes after which."""
    need = Needs(practical=Practical("sheet", Duration(months=12)))
    made = tuple(Competency(name, {"en": name}, ("floorhand",), need, after) for name, after in competencies)
    whole = curriculum.catalogue(CONTENT, CONTENT.site) if CONTENT.site else None
    assert whole is not None
    return replace(whole, competencies=made)


EVERY: Mapping[str, Callable[[Words], bytes]] = {
    "pocket": lambda words: pocket.render(card_of(CONTENT.checklists["connections"], words.language), words, NOW),
    "tailgate": lambda words: tailgate.render(talk(), words, NOW),
    "talk": lambda words: talk_sheet.render(held_talk(), words, NOW),
    "wall": lambda words: wall.render(crew(6, 6), words, NOW),
    "poster": lambda words: poster(matrix(31, 6), words),
    "record": lambda words: record.render(held(), words, NOW),
    "watch": lambda words: watch.render(seen(), words, NOW),
    "orientation": lambda words: orientation.render(first_day(), words, NOW),
}
"""Each kind of sheet, made in the language of the words."""


@cache
def made(kind: str, language: str) -> bytes:
    """The sheet of that kind, made once."""
    return EVERY[kind](WORDS[language])
