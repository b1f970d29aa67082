"""How a part gets into the page: its text files read once, its words picked, its newest move checked.

Scripts and styles are our own files beside this one. Content and people's text only ever travel as ``data``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from functools import cache
from pathlib import Path
from threading import Lock
from typing import Literal

from streamlit.components.v2 import component
from streamlit.components.v2.types import ComponentRenderer

from trainer.web import session
from trainer.web.parts.shapes import Verdict
from trainer.words import Words

__all__ = ["NO_VERDICTS", "fire", "known", "mount", "newest", "said", "verdict_data"]

NO_VERDICTS: Mapping[str, Verdict] = {}

_FOLDER = Path(__file__).parent
_ROOM = "<div class='part'></div>"
_LOCK = Lock()
_PLACES = {name: "{" + name + "}" for name in ("what", "where", "count", "place", "state", "row", "column", "seconds")}


@cache
def _renderer(name: str) -> ComponentRenderer:
    with _LOCK:
        style = _read("common.css") + _read(f"{name}.css")
        script = _read("common.js") + _read(f"{name}.js")
        return component(f"trainer-{name}", html=_ROOM, css=style, js=script)


def _read(name: str) -> str:
    path = _FOLDER / name
    return path.read_text(encoding="utf-8") if path.exists() else ""


def _nothing() -> None:
    """Streamlit wants a callback for each value; presses are handled inline, so it does nothing."""


def mount(name: str, key: str, data: Mapping[str, object], width: Literal["stretch", "content"] = "stretch") -> object:
    """The part's newest ``move`` in this tab, or ``None``; ``data`` is what it draws, ``width`` how wide it lies."""
    sent = {**data, "seq": session.taken(key)}
    return _renderer(name)(key=key, data=sent, width=width, on_move_change=_nothing).get("move")


def fire(name: str, key: str, data: Mapping[str, object]) -> object:
    """What the part said in this very run (``said``), or ``None``: for secrets and one-time answers."""
    return _renderer(name)(key=key, data=data, on_said_change=_nothing).get("said")


def newest(key: str, move: object) -> object:
    """The value of a move that has not been taken yet, or ``None``; it counts as taken from now on."""
    if not isinstance(move, Mapping):
        return None
    seq, value = move.get("seq"), move.get("value")
    if not isinstance(seq, int) or seq <= session.taken(key):
        return None
    session.take(key, seq)
    return value


def known(value: object, allowed: Sequence[str]) -> tuple[str, ...] | None:
    """``value`` as distinct ids, all ``allowed``, in their order; ``None`` otherwise: a browser is not trusted."""
    if not isinstance(value, list) or not all(isinstance(each, str) and each in allowed for each in value):
        return None
    return tuple(value) if len(set(value)) == len(value) else None


def said(words: Words, *names: str) -> dict[str, str]:
    """The sentences ``parts.<name>`` with their places left open for the script to fill."""
    return {name: words.say(f"parts.{name}", **_PLACES) for name in names}


def verdict_data(verdicts: Mapping[str, Verdict]) -> dict[str, dict[str, str]]:
    """Verdicts as the scripts take them."""
    return {name: asdict(verdict) for name, verdict in verdicts.items()}
