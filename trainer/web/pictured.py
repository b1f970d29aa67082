"""Content's pictures as parts draw them: SVG text, and the same thing in words for whoever does not see it.

Pure: ``cached.pictured`` and ``cached.part_name`` are what views call.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from hashlib import sha256

from trainer.core.tasks import Picture
from trainer.core.text import Text, pick
from trainer.curriculum import PictureText
from trainer.pictures import Drawing, left_out, render
from trainer.words import Words

__all__ = ["Pictured", "drawn", "name_of"]

_MARKS = ("right", "wrong", "look")


@dataclass(frozen=True, slots=True)
class Pictured:
    """A drawing in one state and language. ``alt`` says what it shows, also what was added or marked."""

    svg: str
    alt: str


def drawn(drawing: Drawing, text: PictureText, picture: Picture, words: Words) -> Pictured:
    """``picture`` of ``drawing`` with the words that ``text`` has for it. Raises ``ValueError`` for an unknown part."""
    show, hide = frozenset(picture.show), frozenset(picture.hide)
    # Several drawings may stand in one list of tiles: the state keeps their ids apart.
    state = repr((picture.name, sorted(show), sorted(hide), sorted(picture.marks.items())))
    prefix = f"p{sha256(state.encode()).hexdigest()[:8]}-"
    gone = left_out(drawing, show, hide) - drawing.optional
    svg = render(drawing, show=show, hide=hide, marks=picture.marks, prefix=prefix)
    return Pictured(svg, " ".join(_sentences(text, picture, gone, words)))


def name_of(names: Mapping[str, Text], part: str, language: str) -> str:
    """What ``part`` is called in ``language``; its id where content has no name for it."""
    return pick(names[part], language) if part in names else part


def _sentences(text: PictureText, picture: Picture, gone: Iterable[str], words: Words) -> list[str]:
    def named(parts: Iterable[str]) -> str:
        return "; ".join(name_of(text.parts, part, words.language) for part in parts)

    said = [f"{words.pick(text.title)}.", words.pick(text.alt)]
    if picture.show:
        said.append(words.say("pictured.shown", parts=named(picture.show)))
    if missing := sorted(gone):
        said.append(words.say("pictured.not-shown", parts=named(missing)))
    marked = {mark: [part for part, its in picture.marks.items() if its == mark] for mark in _MARKS}
    said += [words.say(f"pictured.marked-{mark}", parts=named(parts)) for mark, parts in marked.items() if parts]
    return said
