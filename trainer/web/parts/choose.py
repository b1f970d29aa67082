"""Answer tiles: one of several or all that fit, with words or drawings, and the reason under each afterwards."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict

from trainer.web.parts.mounting import NO_VERDICTS, known, mount, newest, said, verdict_data
from trainer.web.parts.shapes import Choice, Verdict
from trainer.words import Words

__all__ = ["choose"]


def choose(
    options: Sequence[Choice],
    chosen: Sequence[str],
    *,
    words: Words,
    key: str,
    ask: str,
    multiple: bool = False,
    locked: bool = False,
    verdicts: Mapping[str, Verdict] = NO_VERDICTS,
) -> tuple[str, ...] | None:
    """The ids chosen, sorted, when that changed since the last run; ``None`` otherwise.

    With ``multiple`` any number, else one. ``ask`` is the question, said to a screen reader as the group's name: the
    view shows it. Options with a picture are drawn as picture tiles.
    """
    data = {
        "options": [asdict(option) for option in options],
        "chosen": list(chosen),
        "multiple": multiple,
        "ask": ask,
        "locked": locked,
        "verdicts": verdict_data(verdicts),
        "words": said(words, "right", "wrong", "missed", "chosen"),
    }
    value = newest(key, mount("choose", key, data))
    found = known(value, [option.id for option in options])
    if found is None or (not multiple and len(found) > 1):
        return None
    return tuple(sorted(found))
