"""Sheets that are read, drawn from the figures of ``core.readings``: nothing in them says how they are to be read."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from trainer.core.readings import contact_of, filled
from trainer.core.tasks import GRAIN
from trainer.pictures.die_column import die_column
from trainer.pictures.drawing import Drawing, parse
from trainer.pictures.load_board import load_board
from trainer.pictures.paper_test import paper_test
from trainer.pictures.straight_edge import straight_edge

__all__ = ["SHEETS", "sheet"]


def _paper_test(figures: Mapping[str, float]) -> str:
    return paper_test(contact_of(figures), int(figures[GRAIN]))


def _dies(figures: Mapping[str, float]) -> str:
    count, missing, turned = (int(figures[name]) for name in ("count", "missing", "reversed"))
    return die_column(count, figures["wear"], figures["packed"], missing, turned, int(figures[GRAIN]))


def _straight_edge(figures: Mapping[str, float]) -> str:
    leaves = [round(figures[place] / figures["tick"]) for place in ("top", "middle", "bottom")]
    return straight_edge(leaves, int(figures["surface"]), int(figures[GRAIN]))


def _load_board(figures: Mapping[str, float]) -> str:
    indicator, block, bands, grain = (int(figures[name]) for name in ("indicator", "block", "bands", GRAIN))
    return load_board(indicator, block, [int(figures[f"limit-{row}"]) for row in (1, 2, 3)], bands, grain)


SHEETS: Mapping[str, Callable[[Mapping[str, float]], str]] = MappingProxyType(
    {"paper-test": _paper_test, "dies": _dies, "straight-edge": _straight_edge, "load-board": _load_board}
)
"""Each drawing of ``core.readings.DRAWINGS``."""


def sheet(drawing: str, figures: Mapping[str, str]) -> Drawing:
    """The drawing called ``drawing`` with these figures, as decimal strings, the defaults for the others."""
    return parse(SHEETS[drawing](filled(drawing, figures)))
