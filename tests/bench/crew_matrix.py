"""A crew's matrix opened with few and with many records behind it: at first, and again after one more record."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import thread_time

from tests.bench import big_store, rigs
from tests.bench.lines import Line, Wrong, alternating, text
from tests.contract import ledgers
from trainer.actions import look
from trainer.actions.desk import Desk, console
from trainer.core.matrix import Matrix
from trainer.store import open_store

__all__ = ["measure"]

NOW = datetime(2026, 6, 1, 12, 0, tzinfo=UTC)
REPEATS = 9
_WITHIN = 0.25


def measure(full: bool) -> Sequence[Line]:
    """Ten thousand and two million records, a hundred thousand when not ``full``."""
    many = 2_000_000 if full else 100_000
    with TemporaryDirectory() as folder:
        places = [Path(folder) / name for name in ("few", "many")]
        for place, count in zip(places, (10_000, many), strict=True):
            big_store.filled(place, count).close()
        few_first, many_first = alternating([partial(_first, place) for place in places], REPEATS)
        stores = [open_store(ledgers.settings_in(place)) for place in places]
        few, more = (Desk(each, rigs.catalogue(), NOW, lambda: next(ledgers.IDS), console()) for each in stores)
        few_next, many_next = _after_one_more([few, more])
        everybody = _everybody(more, many)
        for store in stores:
            store.close()
    size = f"matrix of a crew of {big_store.HANDS} with {many / 1e6:g} million records behind it"
    return [
        _alike(f"{size}, first opening", many_first, few_first),
        _alike(f"{size}, after one more record", many_next, few_next),
        everybody,
    ]


def _alike(what: str, many: float, few: float) -> Line:
    ratio = many / few
    aim = f"within {_WITHIN:.0%}"
    return Line(what, text(many), f"{text(few)} with ten thousand", f"{ratio:.2f}x", aim, abs(ratio - 1) <= _WITHIN)


def _first(folder: Path) -> None:
    store = open_store(ledgers.settings_in(folder))
    _opened(Desk(store, rigs.catalogue(), NOW, lambda: next(ledgers.IDS), console()))
    store.close()


def _after_one_more(desks: Sequence[Desk]) -> list[float]:
    """The median time of each desk's crew matrix right after a record was appended there."""
    times: list[list[float]] = [[] for _ in desks]
    for _ in range(REPEATS):
        for own, desk in zip(times, desks, strict=True):
            _one_more(desk)
            own.append(alternating([partial(_opened, desk)], 1)[0])
    return [median(each) for each in times]


def _opened(desk: Desk) -> Matrix:
    """All that the page asks of the store for its table."""
    desk.store.heads_digest()
    look.places(desk)
    matrix = look.crew_matrix(desk, big_store.CREW)
    names = look.names(desk, matrix.hands)
    if len(matrix.hands) != big_store.HANDS or len(names) != big_store.HANDS:
        raise Wrong(f"{len(matrix.hands)} hands and {len(names)} names for a crew of {big_store.HANDS}")
    return matrix


def _one_more(desk: Desk) -> None:
    with desk.store.transaction() as writing:
        writing.append(desk.new_record(ledgers.quiz(), hand="h00003"))


def _everybody(desk: Desk, count: int) -> Line:
    """Everybody's matrix: all read at first, then only what is new; the crew's cells are the same in both."""
    began = thread_time()
    known = look.brought_forward(desk)
    whole = look.matrix(desk, known=known)
    read = thread_time() - began
    if whole.of_crew(big_store.CREW).cells() != _opened(desk).cells():
        raise Wrong("the crew's matrix has other cells than everybody's")
    _one_more(desk)
    began = thread_time()
    look.matrix(desk, known=look.brought_forward(desk, known))
    again = thread_time() - began
    what = f"everybody's matrix with {count / 1e6:g} million records, after one more record"
    aim = "at most 0.10x"
    return Line(
        what, text(again), f"{text(read)} to read all at first", f"{again / read:.3f}x", aim, again <= read / 10
    )
