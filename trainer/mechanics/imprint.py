"""The slip test (paper test): reading the imprint, and what comes next.

Every figure here is a site setting that the maker's manual overrides; no public pass mark was found. Nothing is
destroyed on a drawing's or a photo's word alone.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias, get_args

import numpy as np
from numpy.typing import ArrayLike

from trainer.errors import MechanicsRangeError
from trainer.mechanics.ranges import CONTACT_LENGTH, SHARE, FloatArray

Verdict: TypeAlias = Literal["no record", "full", "uneven", "top only", "bottom only", "partial"]
"""What an imprint can show, in the order in which the first that applies is the verdict."""

NextStep: TypeAlias = Literal[
    "do the test again",
    "in service, recorded",
    "out of service until repeated with new slips of the right size, or a named competent person decides",
    "old slips worn or bent: destroyed and tagged",
    "bushing, bowl or table worn: inspect, replace, retest",
    "wrong size or bowl",
    "mixed segments or dies, bent pipe: retest",
]
"""What to do next."""

_FIRST_STEPS: dict[Verdict, NextStep] = {"no record": "do the test again", "full": "in service, recorded"}
_REPEAT: NextStep = (
    "out of service until repeated with new slips of the right size, or a named competent person decides"
)
_SECOND_STEPS: dict[Verdict, NextStep] = {
    "no record": "do the test again",
    "full": "old slips worn or bent: destroyed and tagged",
    "uneven": "mixed segments or dies, bent pipe: retest",
    "top only": "bushing, bowl or table worn: inspect, replace, retest",
    "bottom only": "wrong size or bowl",
    "partial": "bushing, bowl or table worn: inspect, replace, retest",
}


@dataclass(frozen=True, slots=True)
class Reading:
    """What an imprint says.

    `coverage` C [-]; `thirds` means of top, middle and bottom [-]; `evenness` spread of the segments over C [-], 0 for
    a blank sheet; `effective_length` C·Ls [m]; `verdict`, the first that applies; `findings`, every one that does.
    """

    coverage: float
    thirds: tuple[float, float, float]
    evenness: float
    effective_length: float
    verdict: Verdict
    findings: tuple[Verdict, ...]


def read_imprint(contact: ArrayLike, contact_length: float) -> Reading:
    """The reading of a paper test.

    `contact`, shaped (segments, 3), is the share of each third of each segment that printed, 0 to 1, thirds top to
    bottom; Ls `contact_length` [m]. C = mean; evenness = population σ of segment means / C. `no record` C < .05; `full`
    C ≥ .90, each third ≥ .80, evenness ≤ .10; `uneven` evenness > .25; `top only` T − B ≥ .40 and B ≤ .20; `bottom
    only` T − B ≤ −.40; else `partial`. Valid for one segment or more. Source: this project's proposal.

    >>> reading = read_imprint([[0.90, 0.35, 0.05], [0.85, 0.30, 0.0], [0.88, 0.40, 0.05]], 0.4191)
    >>> round(reading.coverage, 3), reading.verdict
    (0.42, 'top only')
    """
    CONTACT_LENGTH.check("contact_length", contact_length)
    prints = _prints(contact)
    coverage = float(prints.mean())
    top, middle, bottom = (float(third) for third in prints.mean(axis=0))
    evenness = float(prints.mean(axis=1).std()) / coverage if coverage > 0 else 0.0
    findings = _findings(coverage, (top, middle, bottom), evenness)
    return Reading(coverage, (top, middle, bottom), evenness, coverage * contact_length, findings[0], findings)


def _prints(contact: ArrayLike) -> FloatArray:
    SHARE.check("contact", contact)
    prints = np.asarray(contact, dtype=np.float64)
    if prints.ndim != 2 or prints.shape[0] == 0 or prints.shape[1] != 3:
        raise MechanicsRangeError("contact", contact, "one row a segment, three thirds a row")
    return prints


def _findings(coverage: float, thirds: tuple[float, float, float], evenness: float) -> tuple[Verdict, ...]:
    # Marks are decimals and means are binary: without rounding .60 − .20 would fall short of .40.
    covered, spread, least = round(coverage, 9), round(evenness, 9), round(min(thirds), 9)
    slope, bottom = round(thirds[0] - thirds[2], 9), round(thirds[2], 9)
    applies: dict[Verdict, bool] = {
        "no record": covered < 0.05,
        "full": covered >= 0.90 and least >= 0.80 and spread <= 0.10,
        "uneven": spread > 0.25,
        "top only": slope >= 0.40 and bottom <= 0.20,
        "bottom only": slope <= -0.40,
    }
    return tuple(verdict for verdict, does in applies.items() if does) or ("partial",)


def next_step(first: Reading | Verdict, second: Reading | Verdict | None = None) -> NextStep:
    """What to do after the `first` test, or after the `second`, made with new slips of the right size.

    Either is a reading or its verdict. A second test belongs only to a first that was neither blank nor full; with
    another it is refused. After every retest the readings start afresh. Nothing is destroyed on this word alone.
    Source: common practice; this project's proposal.

    >>> next_step("partial", "full")
    'old slips worn or bent: destroyed and tagged'
    """
    before = _verdict("first", first)
    if second is None:
        return _FIRST_STEPS.get(before, _REPEAT)
    after = _verdict("second", second)
    if before in _FIRST_STEPS:
        raise MechanicsRangeError("second", after, f"no second test after a first that was {before}")
    return _SECOND_STEPS[after]


def _verdict(argument: str, given: Reading | Verdict) -> Verdict:
    verdict = given.verdict if isinstance(given, Reading) else given
    if verdict not in get_args(Verdict):
        raise MechanicsRangeError(argument, given, ", ".join(get_args(Verdict)))
    return verdict
