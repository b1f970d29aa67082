"""A drawn sheet as it is shown: SVG text, the same thing in words for whoever does not see it, and what its scale is.

The words tell what an eye would see, part by part, and never what it amounts to: that is the question.
Pure: ``cached.sheet`` is what views call.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from hashlib import sha256

from trainer.core.beside import BESIDE, beside
from trainer.core.readings import DIVISION, contact_of, filled
from trainer.core.shown import Sheet
from trainer.pictures import exaggeration, render, sheet
from trainer.words import Words

__all__ = ["SheetDrawn", "drawn", "state_of"]

_AMOUNTS = (
    (0.005, "none"), (0.13, "few"), (0.38, "quarter"), (0.63, "half"), (0.88, "most"), (0.985, "nearly"), (2.0, "all"),
)  # fmt: skip
"""Up to which share of a third each amount is said."""

_PLACES = ("top", "middle", "bottom")


@dataclass(frozen=True, slots=True)
class SheetDrawn:
    """A sheet in one language; ``caption`` stands under it for everybody."""

    svg: str
    alt: str
    caption: str


def state_of(given: Sheet) -> str:
    """The sheet as one string, the same for whatever looks the same."""
    return repr((given.drawing, sorted(given.figures.items())))


def drawn(given: Sheet, words: Words) -> SheetDrawn:
    """``given`` with its words."""
    prefix = f"s{sha256(state_of(given).encode()).hexdigest()[:8]}-"
    figures = filled(given.drawing, given.figures)
    sentences, caption = _TOLD[given.drawing](figures, words)
    return SheetDrawn(render(sheet(given.drawing, given.figures), prefix=prefix), " ".join(sentences), caption)


def _paper_test(figures: Mapping[str, float], words: Words) -> tuple[list[str], str]:
    contact = contact_of(figures)
    said = [words.say("sheets.paper-alt", segments=len(contact))]
    for number, thirds in enumerate(contact, 1):
        amounts = {place: _amount(share, words) for place, share in zip(_PLACES, thirds, strict=True)}
        said.append(words.say("sheets.paper-segment", number=number, **amounts))
    return said, words.say("sheets.paper-caption")


def _amount(share: float, words: Words) -> str:
    return words.say(f"sheets.amount-{next(name for most, name in _AMOUNTS if share < most)}")


def _dies(figures: Mapping[str, float], words: Words) -> tuple[list[str], str]:
    said = [words.say("sheets.dies-alt", count=f"{figures['count']:.0f}")]
    return [*said, *_dies_seen(figures, words)], words.say("sheets.dies-caption")


def _dies_seen(figures: Mapping[str, float], words: Words) -> Iterator[str]:
    tips = "sharp" if figures["wear"] < 0.3 else "blunt" if figures["wear"] < 0.6 else "flat"
    yield words.say(f"sheets.dies-{tips}")
    grooves = "clean" if figures["packed"] < 0.1 else "some" if figures["packed"] < 0.5 else "full"
    yield words.say(f"sheets.dies-grooves-{grooves}")
    turned, gone = (f"{figures[name]:.0f}" for name in ("reversed", "missing"))
    yield words.say("sheets.dies-up") if turned == "0" else words.say("sheets.dies-turned", number=turned)
    yield words.say("sheets.dies-all-there") if gone == "0" else words.say("sheets.dies-gone", number=gone)


def _straight_edge(figures: Mapping[str, float], words: Words) -> tuple[list[str], str]:
    tick = f"{figures['tick']:g}"
    leaves = {place: round(figures[place] / figures["tick"]) for place in _PLACES}
    surface = words.say(f"sheets.edge-surface-{figures['surface']:.0f}")
    said = [words.say("sheets.edge-alt", surface=surface), words.say("sheets.edge-gaps", **leaves)]
    caption = words.say(
        "sheets.edge-caption",
        surface=surface, leaf=tick, leaf_in=beside(tick, BESIDE["in"]), times=exaggeration(figures["tick"]),
    )  # fmt: skip
    return [*said, caption], caption


def _load_board(figures: Mapping[str, float], words: Words) -> tuple[list[str], str]:
    shown = {name.replace("-", "_"): f"{value:.0f}" for name, value in figures.items()}
    limits = {name: shown[name] for name in ("limit_1", "limit_2", "limit_3")}
    said = [
        words.say("sheets.load-alt", indicator=shown["indicator"]),
        words.say("sheets.load-board", block=shown["block"], **limits),
        words.say(f"sheets.load-bands-{shown['bands']}"),
    ]
    return said, words.say("sheets.load-caption", division=DIVISION)


_TOLD = {
    "paper-test": _paper_test, "dies": _dies, "straight-edge": _straight_edge, "load-board": _load_board,
}  # fmt: skip
