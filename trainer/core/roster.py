"""Who is on the matrix on a day, in which crew and position, what that needs, and from when first due dates run."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
import numpy.typing as npt

from trainer.core.catalogue import Competency, Rotation, Site
from trainer.core.columns import JOINED, LEFT, MOVED, Codes, Rows, StayColumns
from trainer.core.durations import Days
from trainer.core.hitch import Hitches, hitches
from trainer.core.latest import NO_ROW, days_of, put_last, with_no_day

__all__ = ["Roster", "roster"]

_NO_ROTATION = Rotation()


@dataclass(frozen=True, slots=True)
class Roster:
    """The hands on the matrix, by hand_id, each with crew, position and rotation.

    ``needed`` and ``start`` are arrays (competencies, hands): whether the position needs the competency, and the day
    from which ``within`` counts as far as joining and moving say.
    """

    hands: tuple[str, ...]
    crews: tuple[str, ...]
    positions: tuple[str, ...]
    rotations: Hitches
    needed: npt.NDArray[np.bool_]
    start: Days

    def of_hand(self, hand: str) -> Roster:
        """That hand alone; nobody where he is not on the matrix."""
        return self.between(bisect_left(self.hands, hand), bisect_right(self.hands, hand))

    def between(self, start: int, stop: int) -> Roster:
        """The hands from place ``start`` to before ``stop``."""
        own = slice(start, stop)
        return Roster(
            self.hands[own],
            self.crews[own],
            self.positions[own],
            self.rotations.between(start, stop),
            self.needed[:, own],
            self.start[:, own],
        )


def roster(site: Site, competencies: Sequence[Competency], stays: StayColumns, as_of: date) -> Roster:
    """The roster on ``as_of``; coordinators have no place on it."""
    rows = np.flatnonzero(stays.day <= as_of.toordinal())
    kind = stays.kind[rows]
    joined = _last(rows[kind == JOINED], stays)
    places = rows[kind != LEFT]
    place = _last(places, stays)
    left = _last(rows[(kind == LEFT) & (stays.day[rows] < as_of.toordinal())], stays)
    is_coordinator = np.array([_is_coordinator(site, each) for each in stays.positions], dtype=np.bool_)
    # ``left`` names the last day on the matrix; only a later ``joined`` brings the hand back.
    on = np.flatnonzero((place > NO_ROW) & (left <= joined))
    on = on[~is_coordinator[stays.position[place[on]]]]
    needs = _needs(competencies, stays.positions)
    at, days = place[on], with_no_day(stays.day)
    moved = days_of(days, _last_moves(places, needs, stays).take(on, axis=1))
    return Roster(
        hands=_named(stays.hands, on),
        crews=_named(stays.crews, stays.crew[at]),
        positions=_named(stays.positions, stays.position[at]),
        rotations=hitches([site.crews.get(crew, _NO_ROTATION) for crew in stays.crews], stays.crew[at]),
        needed=needs.take(stays.position[at], axis=1),
        start=np.maximum(moved, days_of(days, joined[on]), out=moved),
    )


def _is_coordinator(site: Site, position: str) -> bool:
    known = site.position(position)
    return known is not None and known.role == "coordinator"


def _named(table: tuple[str, ...], codes: npt.NDArray[np.integer]) -> tuple[str, ...]:
    return tuple(map(table.__getitem__, codes.tolist()))


def _last(rows: npt.NDArray[np.intp], stays: StayColumns) -> Rows:
    """The last of ``rows`` for each hand."""
    table = np.full(len(stays.hands), NO_ROW, dtype=np.int32)
    put_last(table, stays.hand[rows], rows.astype(np.int32))
    return table


def _needs(competencies: Sequence[Competency], positions: tuple[str, ...]) -> npt.NDArray[np.bool_]:
    """For each competency and position, whether the position needs it."""
    pairs = [[position in each.positions for position in positions] for each in competencies]
    return np.array(pairs, dtype=np.bool_).reshape(len(competencies), len(positions))


def _last_moves(places: npt.NDArray[np.intp], needs: npt.NDArray[np.bool_], stays: StayColumns) -> Rows:
    """For each competency and hand the last ``moved`` to another position, one that needs the competency.

    ``places`` are the rows of joined and moved, which stand hand by hand.
    """
    hand, position = stays.hand[places], stays.position[places]
    is_other = np.ones(len(places), dtype=np.bool_)
    is_other[1:] = _differs(hand) | _differs(position)
    moves = places[is_other & (stays.kind[places] == MOVED)]
    table = np.full((len(needs), len(stays.hands)), NO_ROW, dtype=np.int32)
    line, move = np.nonzero(needs[:, stays.position[moves]])
    cell = line.astype(np.int32) * np.int32(len(stays.hands)) + stays.hand[moves[move]]
    put_last(table.reshape(-1), cell, moves[move].astype(np.int32))
    return table


def _differs(codes: Codes) -> npt.NDArray[np.bool_]:
    """Of each but the first, whether it differs from the one before."""
    different: npt.NDArray[np.bool_] = codes[1:] != codes[:-1]
    return different
