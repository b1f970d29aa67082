"""Evidence and stays as columns: one NumPy array a field, hand by hand in the one order in which standing is decided.

All rows of a hand stand together, because no hand's standing rests on another's rows: what is asked of one hand or of
one crew is a slice, and whatever works through everybody stays within a few thousand cells at a time. Within a hand
the order is (day, at, site, seq): the civil day on which a record counts comes first, because a paper sheet entered
late belongs to the day of the watch; then when it was written; then site and place in its chain, which are never
equal for two records. Rows of one record (a sheet that covers several competencies) follow by competency and part, so
that the same rows give the same columns however they were read.

Ids are codes into sorted tables. Days are ordinals (``durations.Days``). Columns are never changed after they are
made: ``added`` and ``without`` give new ones, so that a cache need only read what is new.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from functools import cache
from itertools import pairwise
from typing import Any, TypeVar

import numpy as np
import numpy.typing as npt

from trainer.core import recordids
from trainer.core.durations import Days
from trainer.core.records import Effect, EvidenceRow, Part, StayRow

__all__ = [
    "EFFECTS",
    "JOINED",
    "LEFT",
    "MOVED",
    "PARTS",
    "STAYS",
    "Codes",
    "EvidenceColumns",
    "Rows",
    "StayColumns",
    "added",
    "evidence_columns",
    "indexed",
    "stay_columns",
    "without",
]

Codes = npt.NDArray[np.int32]
"""Codes into a table of ids."""

Rows = npt.NDArray[np.int32]
"""Row numbers into columns, -1 where there is no row."""

PARTS: tuple[Part, ...] = tuple(Part)
"""A part's code is its place here."""

EFFECTS: tuple[Effect, ...] = tuple(Effect)
"""An effect's code is its place here."""

STAYS = ("joined", "moved", "left")
"""A stay's code is its place here."""

JOINED, MOVED, LEFT = range(3)


@dataclass(frozen=True, slots=True)
class EvidenceColumns:
    """All evidence of a store.

    Rows ``hand_starts[h]`` to before ``hand_starts[h + 1]`` are those of the hand with code ``h``, in order. ``at``
    counts milliseconds from 1970. ``record`` is as ``recordids`` packs it.
    """

    hands: tuple[str, ...]
    competencies: tuple[str, ...]
    people: tuple[str, ...]
    sites: tuple[str, ...]
    hand: Codes
    competency: Codes
    part: npt.NDArray[np.int8]
    effect: npt.NDArray[np.int8]
    day: Days
    by: Codes
    at: npt.NDArray[np.int64]
    site: Codes
    seq: npt.NDArray[np.int64]
    record: recordids.Packed
    hand_starts: Codes

    def __len__(self) -> int:
        return len(self.day)

    def of_hand(self, hand: str) -> EvidenceColumns:
        """The rows of one hand as columns of their own, in the same order."""
        return self.between(hand, hand)

    def between(self, first: str, last: str) -> EvidenceColumns:
        """The rows of all hands from ``first`` to ``last`` by hand_id; nothing of them is copied but the hands."""
        return _between(self, first, last)


@dataclass(frozen=True, slots=True)
class StayColumns:
    """Every joined, moved and left of a store; ``kind`` holds codes of ``STAYS``."""

    hands: tuple[str, ...]
    crews: tuple[str, ...]
    positions: tuple[str, ...]
    sites: tuple[str, ...]
    hand: Codes
    kind: npt.NDArray[np.int8]
    day: Days
    crew: Codes
    position: Codes
    at: npt.NDArray[np.int64]
    site: Codes
    seq: npt.NDArray[np.int64]
    record: recordids.Packed
    hand_starts: Codes

    def __len__(self) -> int:
        return len(self.day)

    def of_hand(self, hand: str) -> StayColumns:
        """The rows of one hand as columns of their own, in the same order."""
        return self.between(hand, hand)

    def between(self, first: str, last: str) -> StayColumns:
        """The rows of all hands from ``first`` to ``last`` by hand_id; nothing of them is copied but the hands."""
        return _between(self, first, last)


_Columns = TypeVar("_Columns", EvidenceColumns, StayColumns)

_TABLES = {
    "hand": "hands",
    "competency": "competencies",
    "by": "people",
    "site": "sites",
    "crew": "crews",
    "position": "positions",
}
"""Each column of codes with its table of ids."""

_NOT_ROWS = frozenset({*_TABLES.values(), "hand_starts"})


def evidence_columns(rows: Iterable[EvidenceRow]) -> EvidenceColumns:
    """The rows as columns in order; rows of voided records must be left out already."""
    rows = list(rows)
    hands, hand = _coded(row.hand for row in rows)
    competencies, competency = _coded(row.competency for row in rows)
    people, by = _coded(row.by for row in rows)
    sites, site = _coded(row.site for row in rows)
    columns = EvidenceColumns(
        hands=hands,
        competencies=competencies,
        people=people,
        sites=sites,
        hand=hand,
        competency=competency,
        part=np.array([_PART_CODE[row.part] for row in rows], dtype=np.int8),
        effect=np.array([_EFFECT_CODE[row.effect] for row in rows], dtype=np.int8),
        day=np.array([row.day.toordinal() for row in rows], dtype=np.int32),
        by=by,
        at=_instants([row.at for row in rows]),
        site=site,
        seq=np.array([row.seq for row in rows], dtype=np.int64),
        record=recordids.pack([row.record_id for row in rows]),
        hand_starts=_NO_ROWS,
    )
    return _in_order(columns)


def stay_columns(rows: Iterable[StayRow]) -> StayColumns:
    """The rows as columns in order; rows of voided records must be left out already."""
    rows = list(rows)
    hands, hand = _coded(row.hand for row in rows)
    crews, crew = _coded(row.crew for row in rows)
    positions, position = _coded(row.position for row in rows)
    sites, site = _coded(row.site for row in rows)
    columns = StayColumns(
        hands=hands,
        crews=crews,
        positions=positions,
        sites=sites,
        hand=hand,
        kind=np.array([STAYS.index(row.kind) for row in rows], dtype=np.int8),
        day=np.array([row.day.toordinal() for row in rows], dtype=np.int32),
        crew=crew,
        position=position,
        at=_instants([row.at for row in rows]),
        site=site,
        seq=np.array([row.seq for row in rows], dtype=np.int64),
        record=recordids.pack([row.record_id for row in rows]),
        hand_starts=_NO_ROWS,
    )
    return _in_order(columns)


def added(columns: _Columns, new: _Columns) -> _Columns:
    """Both as one, the same as columns made from all rows at once; quick where ``new`` is short."""
    if not len(new):
        return columns
    came = {name: _unknown(columns, new, _TABLES[name]) for name in _code_fields(columns)}
    tables = {name: _with(getattr(columns, _TABLES[name]), more) for name, more in came.items()}
    old, fresh = _moved_up(columns, came), _looked_up(new, tables)
    order = _order_of(columns)
    old_key, new_key = _key(old, order), _key(fresh, order)
    places = [bisect_left(range(len(columns)), new_key(row), key=old_key) for row in range(len(new))]
    merged: dict[str, Any] = {name: _inserted(old[name], places, fresh[name]) for name in old}
    return _by_hand(columns, {**merged, **{_TABLES[name]: ids for name, ids in tables.items()}})


def without(columns: _Columns, record_ids: Iterable[str]) -> _Columns:
    """The columns less every row of these records, as a void takes them out; ids unknown here change nothing."""
    record_ids = frozenset(record_ids)
    if not record_ids:
        return columns
    gone = recordids.among(columns.record, record_ids)
    return _by_hand(_lean(_taken(columns, np.flatnonzero(~gone).astype(np.int32)))) if gone.any() else columns


_PART_CODE = {part: code for code, part in enumerate(PARTS)}
_EFFECT_CODE = {effect: code for code, effect in enumerate(EFFECTS)}
_NO_ROWS = np.zeros(0, dtype=np.int32)
_AS_IT_IS: Mapping[str, Any] = {}


def _coded(ids: Iterable[str]) -> tuple[tuple[str, ...], Codes]:
    ids = list(ids)
    table = tuple(sorted(set(ids)))
    code = {each: number for number, each in enumerate(table)}
    return table, np.array([code[each] for each in ids], dtype=np.int32)


def _instants(stamps: Sequence[str]) -> npt.NDArray[np.int64]:
    """Milliseconds from 1970 of stamps ``YYYY-MM-DDTHH:MM:SS.mmmZ``."""
    return np.array([stamp.removesuffix("Z") for stamp in stamps], dtype="datetime64[ms]").astype(np.int64)


def _in_order(columns: _Columns) -> _Columns:
    if len(columns) < 2:
        return _by_hand(columns)
    order = np.lexsort([getattr(columns, name) for name in reversed(_order_of(columns))])
    return _by_hand(_taken(columns, order.astype(np.int32)))


def _order_of(columns: EvidenceColumns | StayColumns) -> tuple[str, ...]:
    same_record = ("competency", "part") if isinstance(columns, EvidenceColumns) else ()
    return ("hand", "day", "at", "site", "seq", *same_record)


def _key(arrays: Mapping[str, npt.NDArray[Any]], order: Sequence[str]) -> Callable[[int], tuple[int, ...]]:
    fields_in_order = [arrays[name] for name in order]
    return lambda row: tuple(int(each[row]) for each in fields_in_order)


def _row_fields(columns: EvidenceColumns | StayColumns) -> tuple[str, ...]:
    return _row_fields_of(isinstance(columns, EvidenceColumns))


@cache
def _row_fields_of(is_evidence: bool) -> tuple[str, ...]:
    shape = fields(EvidenceColumns) if is_evidence else fields(StayColumns)
    return tuple(each.name for each in shape if each.name not in _NOT_ROWS)


def _taken(columns: _Columns, rows: Rows) -> _Columns:
    return replace(columns, **{name: getattr(columns, name)[rows] for name in _row_fields(columns)})


def _between(columns: _Columns, first: str, last: str) -> _Columns:
    start, stop = bisect_left(columns.hands, first), bisect_right(columns.hands, last)
    if (start, stop) == (0, len(columns.hands)):
        return columns
    starts = columns.hand_starts[start : stop + 1] if start < stop else columns.hand_starts[:1]
    rows = slice(starts[0], starts[-1])
    cut: dict[str, Any] = {name: getattr(columns, name)[rows] for name in _row_fields(columns)}
    cut["hand"] = cut["hand"] - np.int32(start)
    return replace(columns, **cut, hands=columns.hands[start:stop], hand_starts=starts - starts[0])


def indexed(columns: _Columns) -> _Columns:
    """The same columns, which must be in order, without ids that no row has, with the index by hand; read-only."""
    return _by_hand(_lean(columns))


def _by_hand(columns: _Columns, changed: Mapping[str, Any] = _AS_IT_IS) -> _Columns:
    """The same columns but for what is ``changed``, with the index by hand, read-only."""
    hand, hands = changed.get("hand", columns.hand), changed.get("hands", columns.hands)
    starts = np.zeros(len(hands) + 1, dtype=np.int32)
    np.cumsum(np.bincount(hand, minlength=len(hands)), out=starts[1:])
    made: _Columns = replace(columns, **changed, hand_starts=starts)
    for name in (*_row_fields(made), "hand_starts"):
        getattr(made, name).setflags(write=False)
    return made


def _lean(columns: _Columns) -> _Columns:
    changed: dict[str, Any] = {}
    for name in _code_fields(columns):
        table = _TABLES[name]
        ids = getattr(columns, table)
        used = np.bincount(getattr(columns, name), minlength=len(ids)) > 0
        if not used.all():
            changed[table] = tuple(each for each, is_used in zip(ids, used, strict=True) if is_used)
            changed[name] = (np.cumsum(used) - 1).astype(np.int32)[getattr(columns, name)]
    return replace(columns, **changed)


def _code_fields(columns: EvidenceColumns | StayColumns) -> list[str]:
    return [name for name in _row_fields(columns) if name in _TABLES]


def _unknown(old: object, new: object, table: str) -> list[str]:
    """The ids of the new table that the old one lacks, in order."""
    known = getattr(old, table)
    return [each for each in getattr(new, table) if _place(each, known) is None]


def _with(ids: tuple[str, ...], more: Sequence[str]) -> tuple[str, ...]:
    return tuple(sorted((*ids, *more))) if more else ids


def _place(each: str, ids: tuple[str, ...]) -> int | None:
    place = bisect_left(ids, each)
    return place if place < len(ids) and ids[place] == each else None


def _arrays(columns: EvidenceColumns | StayColumns) -> dict[str, Any]:
    return {name: getattr(columns, name) for name in _row_fields(columns)}


def _moved_up(columns: EvidenceColumns | StayColumns, came: Mapping[str, Sequence[str]]) -> dict[str, Any]:
    """The fields by name, codes into tables in which ``came`` stand too: from where one came in all move up by one."""
    arrays = _arrays(columns)
    for name, ids in came.items():
        if ids:
            places = np.array([bisect_left(getattr(columns, _TABLES[name]), each) for each in ids], dtype=np.int32)
            arrays[name] = arrays[name] + places.searchsorted(arrays[name], side="right").astype(np.int32)
    return arrays


def _looked_up(columns: EvidenceColumns | StayColumns, tables: Mapping[str, tuple[str, ...]]) -> dict[str, Any]:
    """The fields by name, codes into these tables, which hold all ids of the columns' own."""
    arrays = _arrays(columns)
    for name, ids in tables.items():
        places = [bisect_left(ids, each) for each in getattr(columns, _TABLES[name])]
        arrays[name] = np.array(places, dtype=np.int32)[arrays[name]]
    return arrays


def _inserted(old: npt.NDArray[Any], places: Sequence[int], new: npt.NDArray[Any]) -> npt.NDArray[Any]:
    """``old`` with each of ``new`` before the row at its place; the places rise."""
    if old.dtype != new.dtype:
        return recordids.inserted(old, places, new)
    pieces = [old[: places[0]]]
    for row, (start, stop) in enumerate(pairwise([*places, len(old)])):
        pieces += (new[row : row + 1], old[start:stop])
    return np.concatenate(pieces)
