"""The set from above with its people, and on each hand what it lifts."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from trainer.pictures.strokes import Point, drawing, path, shape, words

__all__ = ["hand_shares"]

SIZE = 600
_BAR, _PERSON, _LABEL = 112.0, 258.0, 172.0
_HATS = ("hat", "hat-b", "hat-c")
_HANDS_APART, _LABELS_APART = 15.0, 24.0

Held: TypeAlias = Sequence[tuple[int, Sequence[str]]]
"""A person's hands: the handle that each is on, and the lines to write on it."""


@dataclass(frozen=True, slots=True)
class _Hand:
    """One hand: whose, at which angle its glove and its label stand, and what is written there."""

    person: int
    angle: float
    label_angle: float
    lines: Sequence[str]


def hand_shares(angles: Sequence[float], people: Sequence[Held], letters: Sequence[str]) -> str:
    """Handles at ``angles`` [degrees, from the right, counted against the clock] round the pipe, and who holds which.

    Each person has a letter. Two people on one handle stand on either side of it.
    """
    middle = [_heading(angles, held) for held in people]
    hands = list(_hands(angles, people, middle))
    parts = [*_set(angles)]
    for number, heading in enumerate(middle):
        parts += _person(
            number, letters[number], heading, [_at(each.angle, _BAR) for each in hands if each.person == number]
        )
    parts += (each for hand in hands for each in _glove(hand))
    parts += (each for hand in hands for each in _label(hand))
    return drawing(SIZE, SIZE, parts)


def _at(angle: float, radius: float) -> Point:
    turn = math.radians(angle)
    return SIZE / 2 + radius * math.cos(turn), SIZE / 2 - radius * math.sin(turn)


def _heading(angles: Sequence[float], held: Held) -> float:
    """Where somebody with these handles stands: in the middle of them."""
    across = sum(math.cos(math.radians(angles[handle])) for handle, _ in held)
    along = sum(math.sin(math.radians(angles[handle])) for handle, _ in held)
    return math.degrees(math.atan2(along, across))


def _hands(angles: Sequence[float], people: Sequence[Held], middle: Sequence[float]) -> Iterator[_Hand]:
    for number, held in enumerate(people):
        for handle, lines in held:
            shared = sum(other == handle for each in people for other, _ in each) > 1
            side = _side(middle[number] - angles[handle])
            apart = side if shared else 0
            yield _Hand(number, angles[handle] + apart * _HANDS_APART, angles[handle] + apart * _LABELS_APART, lines)


def _side(turn: float) -> int:
    """On which side of a handle somebody stands who is ``turn`` degrees round from it."""
    turn = (turn + 180) % 360 - 180
    return 0 if abs(turn) < 1 else 1 if turn > 0 else -1


def _set(angles: Sequence[float]) -> Iterator[str]:
    centre = SIZE / 2
    yield shape("circle", cx=centre, cy=centre, r=70, fill="var(--pic-slip)", stroke="var(--pic-ink)", stroke_width=3)
    for angle in angles:
        (x0, y0), (x1, y1) = _at(angle + 60, 42), _at(angle + 60, 70)
        yield path(f"M{x0:.0f} {y0:.0f}L{x1:.0f} {y1:.0f}", "ink", 3)
        yield from _handle(angle)
    yield shape("circle", cx=centre, cy=centre, r=42, fill="var(--pic-pipe)", stroke="var(--pic-ink)", stroke_width=3)
    yield shape("circle", cx=centre, cy=centre, r=28, fill="var(--pic-void)", stroke="var(--pic-ink)", stroke_width=2)


def _handle(angle: float) -> Iterator[str]:
    (a, b), (c, d) = _at(angle + 16, 66), _at(angle + 20, _BAR)
    (e, f), (g, h) = _at(angle - 20, _BAR), _at(angle - 16, 66)
    loop = f"M{a:.0f} {b:.0f}L{c:.0f} {d:.0f}L{e:.0f} {f:.0f}L{g:.0f} {h:.0f}"
    yield path(loop, "ink", 16, stroke_linejoin="round")
    yield path(loop, "handle", 10, stroke_linejoin="round")


def _person(number: int, letter: str, heading: float, hands: Sequence[Point]) -> Iterator[str]:
    x, y = _at(heading, _PERSON)
    for across, down in hands:
        for colour, width in (("ink", 24), ("coverall", 18)):
            yield path(f"M{x:.0f} {y:.0f}L{across:.0f} {down:.0f}", colour, width, stroke_linecap="round")
    yield shape(
        "circle", cx=x, cy=y, r=34.0, fill=f"var(--pic-{_HATS[number]})", stroke="var(--pic-ink)", stroke_width=3
    )
    yield words(x, y + 11, letter, 32, is_bold=True)


def _glove(hand: _Hand) -> Iterator[str]:
    x, y = _at(hand.angle, _BAR)
    yield shape("circle", cx=x, cy=y, r=15.0, fill="var(--pic-glove)", stroke="var(--pic-ink)", stroke_width=3)


def _label(hand: _Hand) -> Iterator[str]:
    across, down = _at(hand.label_angle, _LABEL)
    wide = 15.5 * max(map(len, hand.lines)) + 18
    yield shape(
        "rect", x=across - wide / 2, y=down - 34, width=wide, height=68.0, rx=10, fill="var(--pic-paper)",
        stroke="var(--pic-ink)", stroke_width=2,
    )  # fmt: skip
    for place, line in enumerate(hand.lines):
        yield words(across, down - 5 + 30 * place, line, 28 if place == 0 else 24, is_bold=place == 0)
