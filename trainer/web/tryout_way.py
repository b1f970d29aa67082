"""The page that plays content without a trace: what is shown on it, what this tab keeps, and where a thing is written.

What is tapped stays in the tab and nowhere else. It is kept under the wording that it was tapped on, so that a file
saved meanwhile starts afresh.
"""

from __future__ import annotations

import json
from dataclasses import replace

import streamlit as st

from trainer import curriculum
from trainer.core.answers import from_json, to_json
from trainer.core.tasks import Answer
from trainer.curriculum.nodes import Path, locate
from trainer.web import cached, door, session
from trainer.web.newest import Newest
from trainer.web.plain import plain

__all__ = ["answer_of", "at_desk", "draw_number", "keep_answer", "newest", "seed_of", "turn_over", "written_at"]

_SHOWN = "tryout-shown"
_DRAWS = "tryout-draws"
_ANSWER = "tryout-answer"


def newest(here: door.Here) -> Newest:
    """The content as its files stand now, or what was last shown where they cannot be used."""
    with st.spinner(here.words.say("tryout.reading")):
        found = cached.newest_content(session.kept(_SHOWN))
    if found.is_sound:
        session.keep(_SHOWN, found.stamp)
    return found


def at_desk(here: door.Here, found: Newest) -> door.Here:
    """``here`` with the content of ``found`` under this site's figures and in its own words."""
    made = curriculum.catalogue(found.loaded, here.desk.catalogue.site)
    return replace(here, desk=replace(here.desk, catalogue=made))


def draw_number() -> int:
    """How often things were drawn anew in this tab."""
    return int(session.kept(_DRAWS, "0"))


def turn_over() -> None:
    """Draw the order and the figures anew, and forget every answer."""
    session.keep(_DRAWS, str(draw_number() + 1))
    session.keep(_ANSWER, "")


def seed_of(name: str, wording: str) -> str:
    """What orders the options of the lesson or item called ``name`` in this ``wording``."""
    return f"tryout-{name}-{wording[:16]}-{draw_number()}"


def answer_of(seed: str, step: str) -> Answer | None:
    """What was kept under this seed and ``step``; ``None`` where nothing was, or something else since."""
    held = session.kept(_ANSWER)
    where, answer = json.loads(held) if held else ("", None)
    return from_json(answer) if where == f"{seed}:{step}" else None


def keep_answer(seed: str, step: str, answer: Answer | None) -> None:
    """Keep ``answer`` for the next runs; one at a time, ``None`` for none."""
    session.keep(_ANSWER, "" if answer is None else json.dumps([f"{seed}:{step}", to_json(answer)]))


def written_at(here: door.Here, file: str, path: Path) -> str:
    """Which file and line this stands in, for a caption."""
    node = cached.content().nodes.get(file)
    return here.words.say("tryout.written-at", file=plain(file), line=1 if node is None else locate(node, path))
