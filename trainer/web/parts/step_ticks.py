"""The steps of an observation sheet, each with its states as big segments."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict

from trainer.web.look import SHAPES, STATE_LOOKS
from trainer.web.parts.mounting import NO_VERDICTS, mount, newest, said, verdict_data
from trainer.web.parts.shapes import Tick, Ticked, Verdict
from trainer.words import Words

__all__ = ["step_ticks"]

_LONGEST_NOTE = 400
_SAID = ("critical", "note", "note-needed", "own-act", "own-act-yes", "own-act-no", "right", "wrong", "missed")


def step_ticks(
    steps: Sequence[Tick],
    ticked: Mapping[str, Ticked],
    *,
    words: Words,
    key: str,
    locked: bool = False,
    noted: bool = True,
    verdicts: Mapping[str, Verdict] = NO_VERDICTS,
) -> Mapping[str, Ticked] | None:
    """Every step ticked so far, when that changed since the last run; ``None`` otherwise.

    A note can be put on every state but *met*; on a critical step *not met* the sheet asks whether it was the hand's
    own act. Where a watch is only told, nothing is ``noted``, and the ``verdicts`` stand under their steps.
    """
    data = {
        "steps": [asdict(step) for step in steps],
        "ticked": {step: asdict(each) for step, each in ticked.items()},
        "states": _states(words),
        "locked": locked,
        "noted": noted,
        "verdicts": verdict_data(verdicts),
        "longest": _LONGEST_NOTE,
        "words": said(words, *_SAID),
    }
    return checked(newest(key, mount("step_ticks", key, data)), [step.id for step in steps])


def _states(words: Words) -> list[dict[str, str]]:
    return [
        {"id": state, "word": words.say(f"parts.state-{state.replace(' ', '-')}"), "path": SHAPES[shape], "tone": tone}
        for state, shape, tone in STATE_LOOKS
    ]


def checked(value: object, steps: Sequence[str]) -> Mapping[str, Ticked] | None:
    """``value`` as step -> tick when every name and state is known."""
    if not isinstance(value, dict) or not all(step in steps for step in value):
        return None
    ticks = {step: _ticked(each) for step, each in value.items()}
    return None if None in ticks.values() else {step: tick for step, tick in ticks.items() if tick}


def _ticked(value: object) -> Ticked | None:
    states = [state for state, _, _ in STATE_LOOKS]
    if not isinstance(value, dict) or value.get("state") not in states:
        return None
    note = value.get("note") or ""
    if not isinstance(note, str) or len(note) > _LONGEST_NOTE:
        return None
    return Ticked(value["state"], bool(value.get("own_act", True)), note)
