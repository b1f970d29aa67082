"""A crew's matrix opened with few and with many records behind it: at first, and again after one more record."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Sequence
from functools import partial
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import thread_time

from tests.bench import big_store, crew_first
from tests.bench.crew_first import desk_on, opened
from tests.bench.lines import Line, Wrong, alternating, text
from tests.contract import ledgers
from trainer.actions import look
from trainer.actions.desk import Desk
from trainer.store import open_store

__all__ = ["measure"]

REPEATS = 9
STARTS = 5
_WITHIN = 0.25


def measure(full: bool) -> Sequence[Line]:
    """Ten thousand and two million records, a hundred thousand when not ``full``."""
    many = 2_000_000 if full else 100_000
    with TemporaryDirectory() as folder:
        places = [Path(folder) / name for name in ("few", "many")]
        for place, count in zip(places, (10_000, many), strict=True):
            big_store.filled(place, count).close()
        firsts = [[_first(place) for place in places] for _ in range(STARTS)]
        few_first, many_first = (median(each) for each in zip(*firsts, strict=True))
        stores = [open_store(ledgers.settings_in(place)) for place in places]
        few, more = (desk_on(each) for each in stores)
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


def _first(folder: Path) -> float:
    """Seconds of a first opening in a new process."""
    command = (sys.executable, "-m", crew_first.__name__, str(folder))
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    if done.returncode:
        raise Wrong(f"the crew's matrix could not be opened: {done.stderr.strip()}")
    return float(done.stdout)


def _after_one_more(desks: Sequence[Desk]) -> list[float]:
    """The median time of each desk's crew matrix right after a record was appended there."""
    times: list[list[float]] = [[] for _ in desks]
    for _ in range(REPEATS):
        for own, desk in zip(times, desks, strict=True):
            _one_more(desk)
            own.append(alternating([partial(opened, desk)], 1)[0])
    return [median(each) for each in times]


def _one_more(desk: Desk) -> None:
    with desk.store.transaction() as writing:
        writing.append(desk.new_record(ledgers.quiz(), hand="h00003"))


def _everybody(desk: Desk, count: int) -> Line:
    """Everybody's matrix: all read at first, then only what is new; the crew's cells are the same in both."""
    began = thread_time()
    known = look.brought_forward(desk)
    whole = look.matrix(desk, known=known)
    read = thread_time() - began
    if whole.of_crew(big_store.CREW).cells() != opened(desk).cells():
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
