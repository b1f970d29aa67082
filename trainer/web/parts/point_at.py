"""Point at parts of a picture: real toggle buttons over it, as many as wanted."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict

from trainer.web.parts.mounting import NO_VERDICTS, known, mount, newest, said, verdict_data
from trainer.web.parts.shapes import Spot, Verdict
from trainer.words import Words

__all__ = ["point_at"]

_SAID = (
    "point", "pointed", "none-pointed", "right", "wrong", "missed",
    "spot-danger", "spot-safe", "spot-fault", "spot-sound",
)  # fmt: skip


def point_at(
    svg: str,
    spots: Sequence[Spot],
    chosen: Sequence[str],
    *,
    words: Words,
    key: str,
    ask: str = "",
    locked: bool = False,
    verdicts: Mapping[str, Verdict] = NO_VERDICTS,
) -> tuple[str, ...] | None:
    """The parts pointed at, sorted, when that changed since the last run; ``None`` otherwise.

    ``ask`` names the group to a screen reader. Once ``locked`` nothing moves and each verdict stands under the picture.
    """
    data = {
        "svg": svg,
        "spots": [asdict(spot) for spot in spots],
        "chosen": list(chosen),
        "ask": ask,
        "locked": locked,
        "verdicts": verdict_data(verdicts),
        "words": said(words, *_SAID),
    }
    value = newest(key, mount("point_at", key, data))
    found = known(value, [spot.id for spot in spots])
    return None if found is None else tuple(sorted(found))
