"""What a measurement gives: one line of the table, and how time is taken."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import median
from time import perf_counter, thread_time

__all__ = ["Line", "Wrong", "alternating", "at_least", "at_most", "seconds_of", "text"]


class Wrong(Exception):
    """A result that is not what it must be: the only thing that fails a run."""


@dataclass(frozen=True, slots=True)
class Line:
    """One measured thing against its baseline of the same run, both in words, and whether the aim was reached."""

    what: str
    figure: str
    baseline: str
    ratio: str
    aim: str
    is_reached: bool


def at_most(what: str, seconds: float, baseline: float, of: str, times: float) -> Line:
    """A line that aims at no more than so many times the baseline."""
    ratio = seconds / baseline
    return Line(what, text(seconds), f"{text(baseline)} {of}", f"{ratio:.1f}x", f"at most {times:g}x", ratio <= times)


def at_least(what: str, seconds: float, baseline: float, of: str, times: float) -> Line:
    """A line that aims at being at least so many times faster than the baseline."""
    ratio = baseline / seconds
    return Line(
        what, text(seconds), f"{text(baseline)} {of}", f"{ratio:.1f}x faster", f"at least {times:g}x", ratio >= times
    )


def text(seconds: float) -> str:
    """Seconds, milliseconds or microseconds, as it reads best."""
    if seconds >= 1:
        return f"{seconds:.2f} s"
    return f"{seconds * 1e3:.1f} ms" if seconds >= 1e-2 else f"{seconds * 1e6:.0f} us"


def seconds_of(run: Callable[[], object], repeats: int, clock: Callable[[], float] = perf_counter) -> float:
    """The median of several runs, by the clock on the wall unless ``thread_time`` is given."""
    return alternating([run], repeats, clock)[0]


def alternating(
    runs: Sequence[Callable[[], object]], repeats: int, clock: Callable[[], float] = thread_time
) -> list[float]:
    """The median time of each of ``runs``, which take turns, so that whatever else the computer does meets them alike.

    Time is that of the processor in this thread: for work in memory, which waits for nothing.
    """
    times: list[list[float]] = [[] for _ in runs]
    for _ in range(repeats):
        for own, run in zip(times, runs, strict=True):
            began = clock()
            run()
            own.append(clock() - began)
    return [median(each) for each in times]
