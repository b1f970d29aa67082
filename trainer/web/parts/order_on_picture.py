"""Put steps in order on a picture: tap each where it is done, one after the other."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict

from trainer.web.parts.mounting import NO_VERDICTS, known, mount, newest, said, verdict_data
from trainer.web.parts.shapes import Choice, Spot, Verdict
from trainer.words import Words

__all__ = ["order_on_picture"]

_SAID = ("plan-start", "plan-number", "plan-open", "plan-taken", "plan-back", "plan-all", "right", "wrong", "missed")


def order_on_picture(
    svg: str,
    steps: Sequence[Choice],
    spots: Sequence[Spot],
    order: Sequence[str],
    *,
    words: Words,
    key: str,
    ask: str = "",
    locked: bool = False,
    verdicts: Mapping[str, Verdict] = NO_VERDICTS,
) -> tuple[str, ...] | None:
    """The ids of the steps tapped so far, in that order, when that changed since the last run; ``None`` otherwise.

    ``spots`` say where each step is done, in the order of ``steps``; several may share one place.
    """
    placed = zip(steps, spots, strict=True)
    data = {
        "svg": svg,
        "steps": [{**asdict(step), "where": spot.label, "x": spot.x, "y": spot.y} for step, spot in placed],
        "order": list(order),
        "ask": ask,
        "locked": locked,
        "verdicts": verdict_data(verdicts),
        "words": said(words, *_SAID),
    }
    return known(newest(key, mount("order_on_picture", key, data)), [step.id for step in steps])
