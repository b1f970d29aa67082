"""What two sets of site figures say differently, place by place, and what it does to standings and people."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from trainer.core.matrix import Cell
from trainer.core.records import Json
from trainer.core.text import DEFAULT_LANGUAGE

__all__ = ["Change", "Moved", "Standings", "changes", "leaves", "moved", "standings", "told"]

_ABSENT = object()


@dataclass(frozen=True, slots=True)
class Change:
    """One place that differs: the keys down to it, what stood there and what stands there now, ``None`` for nothing."""

    path: tuple[str, ...]
    was: str | None
    now: str | None


@dataclass(frozen=True, slots=True)
class Standings:
    """How many cells of the matrix have another standing or due date, and how many come and go; ``hands`` concerned."""

    changed: int
    new: int
    gone: int
    hands: int


@dataclass(frozen=True, slots=True)
class Moved:
    """One cell of the matrix before and after; ``None`` where it was not on it, or would not be."""

    hand: str
    competency: str
    was: Cell | None
    now: Cell | None


def changes(was: Json, now: Json) -> tuple[Change, ...]:
    """Every place that differs, in the order of ``was``, then what is new. A figure is the same however it is quoted.

    Lists are one place each. What stands on one side only is one change, however much it holds; of a whole part with
    entries of their own, such as the sets under ``gear``, each entry is.
    """
    return tuple(_changes((), was, now))


def _changes(path: tuple[str, ...], was: object, now: object) -> Iterator[Change]:
    if isinstance(was, Mapping) and isinstance(now, Mapping):
        for key in dict.fromkeys((*was, *now)):
            pair = was.get(key, _ABSENT), now.get(key, _ABSENT)
            yield from _changes((*path, str(key)), *(pair if path else _by_entry(*pair)))
    elif _same(was) != _same(now):
        yield Change(path, _shown(was), _shown(now))


def _by_entry(was: object, now: object) -> tuple[object, object]:
    """A part on both sides; on the one that lacks it an empty one, where the other has entries in it."""
    if _shown(was) is None and _has_entries(now):
        return {}, now
    return (was, {}) if _shown(now) is None and _has_entries(was) else (was, now)


def _has_entries(value: object) -> bool:
    return isinstance(value, Mapping) and bool(value) and all(isinstance(each, Mapping) for each in value.values())


def leaves(data: Json) -> tuple[tuple[tuple[str, ...], str], ...]:
    """Every figure with the keys down to it, in its order; a list is one figure, and so is a sentence by language."""
    return tuple(_leaves((), data))


def _leaves(path: tuple[str, ...], value: object) -> Iterator[tuple[tuple[str, ...], str]]:
    if isinstance(value, Mapping) and DEFAULT_LANGUAGE not in value and value:
        for key, each in value.items():
            yield from _leaves((*path, str(key)), each)
    elif value is not None:
        yield path, told(value)


def _shown(value: object) -> str | None:
    """The value in one line; ``None`` where there is nothing, which an empty key says, too."""
    return None if value is _ABSENT or value is None else told(value)


def _same(value: object) -> object:
    """What of a value decides whether another says the same: no quotes, and keys in any order."""
    if isinstance(value, Mapping):
        return {str(key): _same(each) for key, each in value.items()}
    if isinstance(value, Sequence) and not isinstance(value, str):
        return [_same(each) for each in value]
    return _shown(value)


def told(value: object) -> str:
    """``value`` (JSON data) in one line, as a reader of the file would say it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, Mapping):
        return ", ".join(f"{key}: {told(each)}" for key, each in value.items()) or "{}"
    if isinstance(value, Sequence) and not isinstance(value, str):
        is_deep = any(isinstance(each, Mapping) for each in value)
        return ("; " if is_deep else ", ").join(told(each) for each in value) or "[]"
    return str(value)


def standings(was: Sequence[Cell], now: Sequence[Cell]) -> Standings:
    """How many of the cells of one day become another; see ``moved``."""
    found = moved(was, now)
    new, gone = sum(each.was is None for each in found), sum(each.now is None for each in found)
    return Standings(len(found) - new - gone, new, gone, len({each.hand for each in found}))


def moved(was: Sequence[Cell], now: Sequence[Cell]) -> tuple[Moved, ...]:
    """The cells of one day that come, go, or have another standing, due date or day to do it by, in their order."""
    before, after = ({(cell.hand, cell.competency): cell for cell in cells} for cells in (was, now))
    pairs = ((key, before.get(key), after.get(key)) for key in dict.fromkeys((*before, *after)))
    return tuple(
        Moved(hand, competency, old, new)
        for (hand, competency), old, new in pairs
        if old is None or new is None or _said(old) != _said(new)
    )


def _said(cell: Cell) -> tuple[object, ...]:
    return cell.standing, cell.due, cell.do_by, cell.late
