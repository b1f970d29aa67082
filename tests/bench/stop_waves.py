"""The wave solution of a stopping string against finite differences that are as exact, as a line of the table."""

from __future__ import annotations

from collections.abc import Sequence

from tests.bench.lines import Line, Wrong, at_least
from tests.bench.mechanics_stop import compare

__all__ = ["measure"]


def measure(full: bool) -> Sequence[Line]:
    """The same small comparison in either size."""
    found = compare()
    if found["finite_difference_difference"] > found["tolerance"]:
        raise Wrong("the finite differences are not as exact as they are meant to be")
    return [
        at_least(
            "load in the slips after a stop, ten periods of 3000 m",
            found["characteristics_s"],
            found["finite_difference_s"],
            "finite differences within 1 %",
            10,
        )
    ]
