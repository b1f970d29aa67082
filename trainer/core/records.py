"""The ledger's records: one envelope, one frozen body type a kind, and the rows that the matrix reads.

A record is written once and never changed. Names, PINs and free text are not in it: a body holds
``HMAC(salt, text)`` and the text itself stands in the erasable ``texts`` table under that value.
Bodies hold strings, booleans, integers, ``None``, lists and maps of these only, so that RFC 8785 gives one form.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from typing import TypeAlias

__all__ = [
    "BODIES", "GENESIS", "Body", "ConsoleActor", "Dispensation", "Effect", "Erased", "EvidenceRow", "Gear", "Joined",
    "Json", "Key", "Left", "LessonTaken", "Moved", "Observation", "Outside", "Part", "QuizTaken", "Record",
    "Reinstated", "Restricted", "Signature", "SiteFigures", "StayRow", "StepSeen", "StoodDown", "Tailgate",
    "Talk", "Void", "WarmUp",
]  # fmt: skip

Json: TypeAlias = "str | int | bool | None | list[Json] | dict[str, Json]"

GENESIS = "0" * 64
"""``prev`` of a site's first record."""

ConsoleActor = "console"
"""``by`` of whatever the command line writes."""


class Part(StrEnum):
    """Which part of a competency an evidence row speaks of; ``NONE`` for stood-down and reinstated."""

    NONE = ""
    KNOWLEDGE = "knowledge"
    TAILGATE = "tailgate"
    PRACTICAL = "practical"
    OUTSIDE_KNOWLEDGE = "outside-knowledge"
    OUTSIDE_PRACTICAL = "outside-practical"


class Effect(StrEnum):
    """What an evidence row does: pass or fail of its part, down (stood down), up (reinstated)."""

    PASS = "pass"
    FAIL = "fail"
    DOWN = "down"
    UP = "up"


@dataclass(frozen=True, slots=True)
class SiteFigures:
    """``site``: the whole site.yaml as data, with the site's time zone; the last one written gives every figure."""

    site: Mapping[str, Json]
    tz: str
    v: int = 1


@dataclass(frozen=True, slots=True)
class Joined:
    """``joined``: the hand comes onto the matrix in this crew (empty for none) and position."""

    crew: str
    position: str
    v: int = 1


@dataclass(frozen=True, slots=True)
class Moved:
    """``moved``: another crew or position from this day on."""

    crew: str
    position: str
    v: int = 1


@dataclass(frozen=True, slots=True)
class Left:
    """``left``: the record's day is the hand's last on the matrix."""

    v: int = 1


@dataclass(frozen=True, slots=True)
class LessonTaken:
    """``lesson``: a lesson played to its end; ``path`` holds ``scene:choice`` in the order tried."""

    lesson: str
    content: str
    language: str
    path: tuple[str, ...]
    minutes: int
    v: int = 1


@dataclass(frozen=True, slots=True)
class QuizTaken:
    """``quiz``: one form answered.

    ``items`` holds ``item:version`` in the order shown; ``options`` the option order of each; ``parameters`` the
    drawn parameters as decimal strings; ``answers`` each answer as the marking functions take it; ``right`` which
    were right; ``critical_missed`` the objectives of missed critical items.
    """

    quiz: str
    competency: str
    seed: str
    items: tuple[str, ...]
    options: Mapping[str, tuple[str, ...]]
    parameters: Mapping[str, Mapping[str, str]]
    answers: Mapping[str, Json]
    right: tuple[str, ...]
    points: int
    cut: int
    critical_missed: tuple[str, ...]
    passed: bool
    language: str
    started: str
    content: str
    read_aloud_by: str | None = None
    v: int = 1


@dataclass(frozen=True, slots=True)
class StepSeen:
    """One step on a sheet: its state, whether the miss was the hand's own act, and the HMAC of a note."""

    step: str
    state: str
    own_act: bool = True
    note: str | None = None


@dataclass(frozen=True, slots=True)
class Signature:
    """Who put a PIN, as what (``observer``, ``hand``, ``second``), when, and what it means."""

    hand: str
    role: str
    at: str
    means: str


@dataclass(frozen=True, slots=True)
class Observation:
    """``observation``: one watch of a run of connections on one sheet.

    ``outcomes`` maps each competency of the sheet with a step observed to ``clean`` or ``not yet``; practice has none.
    ``hand_present``: ``signed``, ``declined`` or ``not present``. ``held`` and ``tour`` are the day and tour of the
    watch, ``entered`` the day it was typed in.
    """

    checklist: str
    content: str
    purpose: str
    steps: tuple[StepSeen, ...]
    conditions: Mapping[str, str]
    overall: str
    observer: str
    brake: str
    hand_present: str
    signatures: tuple[Signature, ...]
    outcomes: Mapping[str, str]
    held: str
    tour: str
    entered: str
    stop_called: bool = False
    note: str | None = None
    v: int = 1


@dataclass(frozen=True, slots=True)
class Tailgate:
    """``tailgate``: one person present at one talk; all of one talk share ``tailgate``, the id of its leader's record.

    ``present``: ``throughout``, ``late``, ``left``, or ``led`` for whoever held the talk. ``answers`` are by item,
    ``items`` the ``item:version`` asked, ``right`` those that were. ``job``, ``form`` and ``guests`` are HMACs: the job
    or permit number, the site's own form, people of no site. ``tour`` and ``entered`` are of a talk held on paper.
    """

    tailgate: str
    competency: str
    topic: str
    answers: Mapping[str, Json]
    present: str
    passed: bool
    vouched: str
    job: str | None = None
    form: str | None = None
    guests: tuple[str, ...] = ()
    items: tuple[str, ...] = ()
    right: tuple[str, ...] = ()
    language: str = ""
    content: str = ""
    paper: bool = False
    tour: str = ""
    entered: str = ""
    v: int = 1


@dataclass(frozen=True, slots=True)
class Outside:
    """``outside``: earlier or outside evidence; ``observer`` is a hand_id or the HMAC of an outside person's name."""

    competency: str
    part: str
    outcome: str
    observer: str
    note: str | None = None
    v: int = 1


@dataclass(frozen=True, slots=True)
class StoodDown:
    """``stood-down``: off the slips for this competency; ``observation`` is the record it was written with."""

    competency: str
    why: str | None = None
    observation: str | None = None
    observer: str | None = None
    v: int = 1


@dataclass(frozen=True, slots=True)
class Reinstated:
    """``reinstated``: back once the parts are passed again; ``done`` is the HMAC of what was done about it."""

    competency: str
    done: str | None = None
    second: str | None = None
    observer: str | None = None
    v: int = 1


@dataclass(frozen=True, slots=True)
class Dispensation:
    """``dispensation``: the hand may do this work for a while without holding it, under conditions; never evidence.

    It is given for the rest of a ``tour`` or a ``hitch``, as ``lasts`` says, and ends with that of ``until``, the day
    on which its last tour begins; ``tour`` are the tour's hours. ``conditions`` is the HMAC of what was set down.
    ``pusher`` and ``coordinator`` are those who allowed it, each by his PIN.
    """

    competency: str
    lasts: str
    until: str
    tour: str
    conditions: str
    pusher: str
    coordinator: str
    v: int = 1


@dataclass(frozen=True, slots=True)
class Void:
    """``void``: takes that record out of every fold, on every date."""

    record: str
    why: str
    second: str | None = None
    v: int = 1


@dataclass(frozen=True, slots=True)
class Talk:
    """``talk``: a missed critical item talked through with the hand."""

    competency: str
    quiz_record: str
    v: int = 1


@dataclass(frozen=True, slots=True)
class WarmUp:
    """``warm-up``: cold answers, kept so that a model can be judged later."""

    competency: str
    answers: Mapping[str, Json]
    v: int = 1


@dataclass(frozen=True, slots=True)
class Gear:
    """``gear``: something done to a slip set or bowl."""

    gear: str
    what: str
    outcome: str
    figures: Mapping[str, str] = field(default_factory=dict)
    note: str | None = None
    v: int = 1


@dataclass(frozen=True, slots=True)
class Erased:
    """``erased``: the person's name and free text are gone; ``why`` is a plain word, never a name."""

    person: str
    why: str
    v: int = 1


@dataclass(frozen=True, slots=True)
class Restricted:
    """``restricted``: the law keeps the record but limits who reads it."""

    person: str
    why: str
    v: int = 1


@dataclass(frozen=True, slots=True)
class Key:
    """``key``: the site's public signing key from now on, base64url."""

    public: str
    v: int = 1


Body = (
    SiteFigures | Joined | Moved | Left | LessonTaken | QuizTaken | Observation | Tailgate | Outside | StoodDown
    | Reinstated | Dispensation | Void | Talk | WarmUp | Gear | Erased | Restricted | Key
)  # fmt: skip

BODIES: tuple[tuple[str, type[Body]], ...] = (
    ("site", SiteFigures),
    ("joined", Joined),
    ("moved", Moved),
    ("left", Left),
    ("lesson", LessonTaken),
    ("quiz", QuizTaken),
    ("observation", Observation),
    ("tailgate", Tailgate),
    ("outside", Outside),
    ("stood-down", StoodDown),
    ("reinstated", Reinstated),
    ("dispensation", Dispensation),
    ("void", Void),
    ("talk", Talk),
    ("warm-up", WarmUp),
    ("gear", Gear),
    ("erased", Erased),
    ("restricted", Restricted),
    ("key", Key),
)
"""Each record kind with its body type; a kind not here is refused by the store."""


@dataclass(frozen=True, slots=True)
class Record:
    """One line of a site's ledger.

    ``at`` is UTC ``YYYY-MM-DDTHH:MM:SS.mmmZ``; ``day`` the civil date on which it counts; ``hand`` is ``None`` where
    there is none; ``prev`` and ``hash`` are lower-case hex SHA-256.
    """

    record_id: str
    site: str
    seq: int
    at: str
    day: date
    by: str
    hand: str | None
    kind: str
    body: Body
    prev: str
    hash: str


@dataclass(frozen=True, slots=True)
class EvidenceRow:
    """One row of the evidence table; ``at`` is no earlier than any ``at`` before it in its site's chain."""

    hand: str
    competency: str
    part: Part
    effect: Effect
    day: date
    at: str
    site: str
    seq: int
    by: str
    record_id: str


@dataclass(frozen=True, slots=True)
class StayRow:
    """One joined, moved or left, as the matrix reads it; ``crew`` and ``position`` are empty for ``left``."""

    hand: str
    kind: str
    day: date
    crew: str
    position: str
    at: str
    site: str
    seq: int
    record_id: str
