"""Motions: what in a drawing moves, and how, written in the drawing itself; a page's script plays it.

A part with `data-lasts="SECONDS"` is a motion. `data-still="AT"` is the moment of it that is its still form, for paper,
tiles and whoever wants nothing to move. Within it `data-frames="AT ACROSS DOWN TURN; ..."` takes an element on its way:
`AT` in percent of the time, `ACROSS` and `DOWN` in the drawing's units from where it stands in the file, `TURN` in
degrees round its own 0 0, clockwise. A word after a frame says how the way to the next one goes: `falls` gathers speed,
`slows` loses it. An element with `data-seen="FROM TO"`, in percent, is there only for that while.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Final
from xml.etree import ElementTree

__all__ = ["ATTRIBUTES", "Frame", "frames_of", "motion_problems", "motions_of", "place_at", "stand_still"]

LASTS, STILL, FRAMES, SEEN = "data-lasts", "data-still", "data-frames", "data-seen"
SHORTEST_S, LONGEST_S = 2, 4
"""A loop shorter than that cannot be followed, a longer one is not waited for."""

_NUMBER = r"-?(?:\d+\.?\d*|\.\d+)"
_FRAME: Final = rf"\s*{_NUMBER}(?:\s+{_NUMBER}){{3}}(?:\s+(?:falls|slows))?\s*"
ATTRIBUTES: Final = {
    LASTS: re.compile(_NUMBER),
    STILL: re.compile(_NUMBER),
    FRAMES: re.compile(rf"{_FRAME}(?:;{_FRAME})+"),
    SEEN: re.compile(rf"{_NUMBER} {_NUMBER}"),
}
"""The attributes of a motion, each with what may stand in it."""


@dataclass(frozen=True, slots=True)
class Frame:
    """Where an element is at ``at`` percent; ``way`` is how it goes on from there."""

    at: float
    across: float
    down: float
    turn: float
    way: str = ""


def frames_of(text: str) -> tuple[Frame, ...]:
    """The frames in a `data-frames`, in their order."""
    fields = (frame.split() for frame in text.split(";"))
    return tuple(Frame(*map(float, each[:4]), *each[4:]) for each in fields)  # type: ignore[arg-type]


def place_at(frames: tuple[Frame, ...], at: float) -> tuple[float, float, float]:
    """Across, down and turn at ``at`` percent: the ways are those of `picture.js`, which plays the same frames."""
    for one, two in pairwise(frames):
        if one.at <= at <= two.at:
            share = (at - one.at) / (two.at - one.at)
            share = {"falls": share**2, "slows": 1 - (1 - share) ** 2}.get(one.way, share)
            ends = ((one.across, two.across), (one.down, two.down), (one.turn, two.turn))
            across, down, turn = (begin + share * (end - begin) for begin, end in ends)
            return across, down, turn
    raise ValueError(f"no frames at {at} percent")


def motions_of(root: ElementTree.Element) -> frozenset[str]:
    """The ids of the parts that are motions."""
    return frozenset(each.attrib["id"] for each in root.iter() if LASTS in each.attrib and "id" in each.attrib)


def stand_still(root: ElementTree.Element) -> None:
    """Put every motion into its still form; what is not there at that moment becomes clear as glass."""
    for part in root.iter():
        if LASTS in part.attrib:
            at = float(part.attrib[STILL])
            for element in part.iter():
                _stand_still(element, at)


def _stand_still(element: ElementTree.Element, at: float) -> None:
    if FRAMES in element.attrib:
        across, down, turn = place_at(frames_of(element.attrib[FRAMES]), at)
        element.set("transform", f"translate({across:g} {down:g}) rotate({turn:g})")
    if SEEN in element.attrib:
        begin, end = _seen(element)
        if not begin <= at <= end:
            element.set("opacity", "0")


def _seen(element: ElementTree.Element) -> tuple[float, float]:
    begin, end = (float(each) for each in element.attrib[SEEN].split())
    return begin, end


def motion_problems(root: ElementTree.Element) -> Iterator[str]:
    """What is wrong with the motions, one sentence each, for a drawing whose attributes are well written."""
    inside: set[ElementTree.Element] = set()
    for part in root.iter():
        if LASTS in part.attrib:
            yield from _part_problems(part)
            inside.update(part.iter())
    for element in root.iter():
        yield from _element_problems(element, is_inside=element in inside)


def _part_problems(part: ElementTree.Element) -> Iterator[str]:
    name = part.get("id", "?")
    if not SHORTEST_S <= float(part.attrib[LASTS]) <= LONGEST_S:
        yield f"motion {name!r} must last {SHORTEST_S} to {LONGEST_S} seconds"
    if "id" not in part.attrib or part.get("data-shown") != "no":
        yield f'motion {name!r} needs an id and data-shown="no": a drawing as it comes stands still'
    if not 0 <= float(part.get(STILL, "-1")) <= 100:
        yield f"motion {name!r} needs a data-still of 0 to 100 percent"
    if not any(FRAMES in each.attrib for each in part.iter()):
        yield f"nothing moves in motion {name!r}"


def _element_problems(element: ElementTree.Element, *, is_inside: bool) -> Iterator[str]:
    moves = [key for key in (FRAMES, SEEN) if key in element.attrib]
    if moves and not is_inside:
        yield f"{moves[0]} outside of a motion"
    if FRAMES in moves:
        if "transform" in element.attrib:
            yield "data-frames and transform on one element: put one of them on a group round it"
        times = [frame.at for frame in frames_of(element.attrib[FRAMES])]
        if times[0] != 0 or times[-1] != 100 or times != sorted(set(times)):
            yield f"data-frames must go from 0 to 100 and never back: {element.attrib[FRAMES]!r}"
    if SEEN in moves:
        begin, end = _seen(element)
        if not 0 <= begin < end <= 100:
            yield f"data-seen must be two percentages, the first one lower: {element.attrib[SEEN]!r}"
