"""Put steps in order by two big buttons a step; nothing is dragged."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict

from trainer.web.parts.mounting import NO_VERDICTS, known, mount, newest, said, verdict_data
from trainer.web.parts.shapes import Choice, Verdict
from trainer.words import Words

__all__ = ["put_in_order"]

_SAID = ("order-up", "order-down", "order-moved", "order-same", "order-left", "right", "wrong", "missed")


def put_in_order(
    steps: Sequence[Choice],
    order: Sequence[str],
    *,
    words: Words,
    key: str,
    ask: str = "",
    locked: bool = False,
    verdicts: Mapping[str, Verdict] = NO_VERDICTS,
) -> tuple[str, ...] | None:
    """All step ids in the order given, when that changed since the last run; ``None`` otherwise.

    ``order`` empty draws the steps as they come: give them shuffled. Until one was moved a button says that the order
    is right as it stands.
    """
    data = {
        "steps": [asdict(step) for step in steps],
        "order": list(order) or [step.id for step in steps],
        "untouched": not order,
        "ask": ask,
        "locked": locked,
        "verdicts": verdict_data(verdicts),
        "words": said(words, *_SAID),
    }
    value = newest(key, mount("put_in_order", key, data))
    found = known(value, [step.id for step in steps])
    return found if found is not None and len(found) == len(steps) else None
