"""Sheets that are read, as figures: what each drawing is drawn from, and the named questions that may be asked of it.

A *drawing* is a family: a paper test, a column of dies, a straight-edge on a surface, a dial with a board of limits.
Its *figures* are decimal strings drawn for one person. A *reading* gives the answer that a sheet with such figures has,
and whether it is *clear*: far enough from every limit that an honest eye cannot come to another answer. Pictures draw
the same figures. Add a reading by adding a function and its line in ``READINGS``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from types import MappingProxyType

from trainer.core.forms import unit_hash
from trainer.core.tasks import GRAIN
from trainer.mechanics import read_imprint

__all__ = [
    "DIVISION",
    "DRAWINGS",
    "READINGS",
    "Drawing",
    "Figure",
    "Read",
    "Reading",
    "contact_of",
    "filled",
    "reading",
]


@dataclass(frozen=True, slots=True)
class Figure:
    """What a drawing is drawn from: its range, and its value where content gives none."""

    least: str
    most: str
    default: str = "0"
    is_whole: bool = False


Drawing = Mapping[str, Figure]
"""A family of drawings: each of its figures by name."""

_SHARE = Figure("0", "1")
_GAP = Figure("0", "3")
_GRAIN = Figure("0", "9999", is_whole=True)

DRAWINGS: Mapping[str, Drawing] = MappingProxyType(
    {
        # Contact of the thirds, 0 to 1; segment number `weak` (0: none) lacks `loss` of it.
        "paper-test": {
            "segments": Figure("2", "6", "3", is_whole=True),
            "top": _SHARE,
            "middle": _SHARE,
            "bottom": _SHARE,
            "weak": Figure("0", "6", is_whole=True),
            "loss": _SHARE,
            GRAIN: _GRAIN,
        },
        # Wear of all teeth and filling of all grooves, 0 to 1; the number, from the top, of a die gone or turned over.
        "dies": {
            "count": Figure("4", "8", "6", is_whole=True),
            "wear": _SHARE,
            "packed": _SHARE,
            "missing": Figure("0", "8", is_whole=True),
            "reversed": Figure("0", "8", is_whole=True),
            GRAIN: _GRAIN,
        },
        # Gaps under the edge [mm] at the top, in the middle and at the bottom, and the limit that the question states;
        # `tick` [mm] is the step of the drawn scale; the surface is 1 a back, 2 a face, 3 a bowl.
        "straight-edge": {
            "top": _GAP,
            "middle": _GAP,
            "bottom": _GAP,
            "limit": Figure("0.1", "3", "1"),
            "tick": Figure("0.05", "0.5", "0.2"),
            "surface": Figure("1", "3", "1", is_whole=True),
            GRAIN: _GRAIN,
        },
        # All in t: the needle of the weight indicator, what block and top drive weigh, the limits of pipe with one, two
        # and three bands, falling. `bands` is what the joint in the slips shows, 0 where mud hides it; from `near`
        # under the limit on the driller is told, as the question says.
        "load-board": {
            "indicator": Figure("0", "160", "100", is_whole=True),
            "block": Figure("1", "60", "20", is_whole=True),
            "limit-1": Figure("10", "160", "120", is_whole=True),
            "limit-2": Figure("10", "160", "100", is_whole=True),
            "limit-3": Figure("10", "160", "80", is_whole=True),
            "bands": Figure("0", "3", "1", is_whole=True),
            "near": Figure("1", "60", "10", is_whole=True),
            GRAIN: _GRAIN,
        },
    }
)
"""Every family of drawings by the name that content gives it."""


@dataclass(frozen=True, slots=True)
class Read:
    """The answer of one sheet, and whether it is clear to any honest eye."""

    key: str
    is_clear: bool


@dataclass(frozen=True, slots=True)
class Reading:
    """A question that may be asked of a ``drawing``: all ``answers`` that it can have, and which a sheet has."""

    drawing: str
    answers: tuple[str, ...]
    read: Callable[[Mapping[str, float]], Read]


def filled(drawing: str, figures: Mapping[str, str]) -> dict[str, float]:
    """All figures of a sheet as numbers, the defaults among them."""
    return {name: float(figures.get(name, figure.default)) for name, figure in DRAWINGS[drawing].items()}


def reading(function: str, figures: Mapping[str, str]) -> Read:
    """What the reading called ``function`` makes of a sheet with these figures."""
    asked = READINGS[function]
    return asked.read(filled(asked.drawing, figures))


# --- Paper test -------------------------------------------------------------------------------------------------------

_SCATTER = 0.02
"""How far the contact of one third of one segment is moved by the grain, either way."""

_EYE = 0.02
"""How far an honest eye may be out beside that."""

_LENGTH = 0.4
"""Contact length [m]: a verdict does not depend on it."""

Contact = tuple[tuple[float, float, float], ...]
"""The share of each third, top to bottom, that printed, by segment."""


def contact_of(figures: Mapping[str, float]) -> Contact:
    """The contact that a paper test with these figures shows."""
    grain = f"{figures[GRAIN]:.0f}"

    def scattered(segment: int, third: int, contact: float) -> float:
        # Paper that saw nothing shows nothing, whatever the grain.
        return min(1.0, max(0.0, contact + _moved(grain, segment, third))) if contact > 0 else 0.0

    top, middle, bottom = range(3)
    return tuple(
        (scattered(n, top, row[top]), scattered(n, middle, row[middle]), scattered(n, bottom, row[bottom]))
        for n, row in enumerate(_even_contact(figures))
    )


@lru_cache(maxsize=1024)
def _moved(grain: str, segment: int, third: int) -> float:
    """How far this grain moves that third."""
    return _SCATTER * float(2 * unit_hash(grain, str(segment), str(third)) - 1)


def _even_contact(figures: Mapping[str, float]) -> Contact:
    """The same without the grain."""

    def row(segment: int) -> tuple[float, float, float]:
        lost = figures["loss"] if segment == figures["weak"] else 0.0
        return (
            max(0.0, figures["top"] - lost),
            max(0.0, figures["middle"] - lost),
            max(0.0, figures["bottom"] - lost),
        )

    return tuple(row(segment) for segment in range(1, int(figures["segments"]) + 1))


def imprint_verdict(figures: Mapping[str, float]) -> Read:
    """Which imprint it is: the verdict of ``mechanics.read_imprint``, clear where scatter and eye cannot change it."""
    verdict = read_imprint(contact_of(figures), _LENGTH).verdict
    return Read(verdict.replace(" ", "-"), _is_certain(_even_contact(figures)))


def _is_certain(contact: Contact) -> bool:
    """Whether every contact within scatter and eye of this one has the same verdict."""
    reach = _SCATTER + _EYE
    read = read_imprint(contact, _LENGTH)
    spread, covered = read.evenness * read.coverage, read.coverage
    if covered == 0:
        return True
    (top, _, bottom), least = read.thirds, min(read.thirds)
    low, high = max(0.0, spread - reach) / (covered + reach), (spread + reach) / max(1e-9, covered - reach)
    tests = (
        # The verdicts in the order in which the first that applies is it: surely so, surely not so.
        (covered + reach < 0.05, covered - reach >= 0.05),
        (
            covered - reach >= 0.90 and least - reach >= 0.80 and high <= 0.10,
            covered + reach < 0.90 or least + reach < 0.80 or low > 0.10,
        ),
        (low > 0.25, high <= 0.25),
        (
            top - bottom - 2 * reach >= 0.40 and bottom + reach <= 0.20,
            top - bottom + 2 * reach < 0.40 or bottom - reach > 0.20,
        ),
        (top - bottom + 2 * reach <= -0.40, top - bottom - 2 * reach > -0.40),
    )
    return _decided(tests)


def _decided(tests: Iterable[tuple[bool, bool]]) -> bool:
    """Whether the first of ``tests`` that is not surely false is surely true; also when all are surely false."""
    for is_so, is_not in tests:
        if not is_not:
            return is_so
    return True


_FIRST_STEP = {"no-record": "test-again", "full": "in-service"}
_SECOND_STEP = {
    "no-record": "test-again",
    "full": "old-slips-out",
    "uneven": "segments-or-pipe",
    "top-only": "bowl-or-bushing",
    "bottom-only": "size-or-bowl",
    "partial": "bowl-or-bushing",
}


def imprint_step(figures: Mapping[str, float]) -> Read:
    """What comes next after a first paper test, as ``mechanics.next_step`` has it."""
    read = imprint_verdict(figures)
    return Read(_FIRST_STEP.get(read.key, "out-of-service"), read.is_clear)


def imprint_second_step(figures: Mapping[str, float]) -> Read:
    """What comes next after a second paper test, with new slips, when the first was not full."""
    read = imprint_verdict(figures)
    return Read(_SECOND_STEP[read.key], read.is_clear)


# --- Dies -------------------------------------------------------------------------------------------------------------

_SHARP_TO, _WORN_FROM = 0.2, 0.6
_CLEAN_TO, _PACKED_FROM = 0.05, 0.5


def dies_verdict(figures: Mapping[str, float]) -> Read:
    """What is the matter with a column of dies; clear where it is one thing and plain to see."""
    wear, packed, count = figures["wear"], figures["packed"], figures["count"]
    found = [
        name
        for name, is_there in (
            ("missing", figures["missing"] > 0),
            ("reversed", figures["reversed"] > 0),
            ("worn", wear > _SHARP_TO),
            ("packed", packed > _CLEAN_TO),
        )
        if is_there
    ]
    is_plain = (wear <= _SHARP_TO or wear >= _WORN_FROM) and (packed <= _CLEAN_TO or packed >= _PACKED_FROM)
    is_there = max(figures["missing"], figures["reversed"]) <= count
    return Read(found[0] if found else "sound", is_plain and is_there and len(found) <= 1)


def dies_step(figures: Mapping[str, float]) -> Read:
    """What comes next for such a column of dies: go on, clean and look again, or out."""
    read = dies_verdict(figures)
    return Read({"sound": "go-on", "packed": "clean"}.get(read.key, "out"), read.is_clear)


# --- Straight-edge ----------------------------------------------------------------------------------------------------


_LEAVES_MOST = 15
"""More leaves than that are not counted on a small screen."""


def gap_limit(figures: Mapping[str, float]) -> Read:
    """Whether the largest gap is within the limit, or over it; clear from a whole step of the scale on."""
    over = max(figures[place] for place in ("top", "middle", "bottom")) - figures["limit"]
    is_clear = round(abs(over) - figures["tick"], 9) >= 0 and _stands(figures)
    return Read("over" if over > 0 else "within", is_clear)


def gap_place(figures: Mapping[str, float]) -> Read:
    """Where the gap is over the limit: at the top, in the middle or at the bottom; or that none is."""
    limit = gap_limit(figures)
    largest, second = sorted(((figures[name], name) for name in ("top", "middle", "bottom")), reverse=True)[:2]
    if limit.key == "within":
        return limit
    is_alone = round(figures["limit"] - second[0] - figures["tick"], 9) >= 0
    return Read(largest[1], limit.is_clear and is_alone)


def _stands(figures: Mapping[str, float]) -> bool:
    """Whether the figures are whole leaves, not too many to count, and the edge touches somewhere, as an edge does."""
    gaps = [figures[place] for place in ("top", "middle", "bottom")]
    steps = [Fraction(str(each)) / Fraction(str(figures["tick"])) for each in (*gaps, figures["limit"])]
    return min(gaps) == 0 and max(steps) <= _LEAVES_MOST and all(each.denominator == 1 for each in steps)


# --- Load and board ---------------------------------------------------------------------------------------------------

DIVISION = 2
"""What one division of the weight indicator's dial is [t]."""

_ROWS = ("limit-1", "limit-2", "limit-3")


def load_verdict(figures: Mapping[str, float]) -> Read:
    """What the load on the slips is to the limit of this joint: under it, near it or over it; unread without its bands.

    The load is the indicator less the block, the limit that of the joint's own row. The commonest mistakes end
    elsewhere: the indicator with the block still in it reads near or over where the load is under, and over where it is
    near. The row of pipe with fewer bands, new pipe's first of all, reads under or near where the load is near or over;
    a row with more bands, near or over where it is under or near. Any row at all where mud hides the bands is a guess.
    Clear where the needle stands on a division, the limits fall, and the load is a division or more from where the
    answer changes; behind mud, where the rows do not all say the same.
    """
    load, bands = figures["indicator"] - figures["block"], int(figures["bands"])
    limits = [figures[row] for row in _ROWS]
    can_be_read = figures["indicator"] % DIVISION == 0 and limits[0] > limits[1] > limits[2]
    if bands == 0:
        return Read("unread", can_be_read and len({_beside_limit(load, each, figures["near"]) for each in limits}) > 1)
    limit = limits[bands - 1]
    is_clear = min(abs(load - limit), abs(load - limit + figures["near"])) >= DIVISION
    return Read(_beside_limit(load, limit, figures["near"]), can_be_read and is_clear)


def _beside_limit(load: float, limit: float, near: float) -> str:
    return "over" if load > limit else "near" if load >= limit - near else "under"


READINGS: Mapping[str, Reading] = MappingProxyType(
    {
        "imprint-verdict": Reading(
            "paper-test", ("no-record", "full", "uneven", "top-only", "bottom-only", "partial"), imprint_verdict
        ),
        "imprint-step": Reading("paper-test", ("test-again", "in-service", "out-of-service"), imprint_step),
        "imprint-second-step": Reading("paper-test", tuple(dict.fromkeys(_SECOND_STEP.values())), imprint_second_step),
        "dies-verdict": Reading("dies", ("sound", "worn", "packed", "missing", "reversed"), dies_verdict),
        "dies-step": Reading("dies", ("go-on", "clean", "out"), dies_step),
        "gap-limit": Reading("straight-edge", ("within", "over"), gap_limit),
        "gap-place": Reading("straight-edge", ("within", "top", "middle", "bottom"), gap_place),
        "load-verdict": Reading("load-board", ("under", "near", "over", "unread"), load_verdict),
    }
)
"""Every reading by the name that content gives it."""
