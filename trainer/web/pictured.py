"""Content's pictures as parts draw them: SVG text, and the same thing in words for whoever does not see it.

Pure: ``cached.pictured`` and ``cached.part_name`` are what views call.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from hashlib import sha256

from trainer.core.tasks import Picture
from trainer.core.text import Text
from trainer.curriculum import PictureText
from trainer.pictures import Drawing, missing, render
from trainer.words import Words

__all__ = ["Pictured", "drawn", "name_of", "state_of"]

_MARKS = ("right", "wrong", "look")


@dataclass(frozen=True, slots=True)
class Pictured:
    """A drawing in one state and language. ``alt`` says what it shows, also what was added or marked."""

    svg: str
    alt: str


def drawn(drawing: Drawing, text: PictureText, picture: Picture, words: Words) -> Pictured:
    """``picture`` of ``drawing`` with the words that ``text`` has for it. Raises ``ValueError`` for an unknown part."""
    show, hide, move = frozenset(picture.show), frozenset(picture.hide), picture.move
    # Several drawings may stand in one list of tiles: the state keeps their ids apart.
    prefix = f"p{sha256(state_of(picture).encode()).hexdigest()[:8]}-"
    gone = missing(drawing, show | frozenset({move} - {""}), hide)
    svg = render(drawing, show=show, hide=hide, marks=picture.marks, move=move, prefix=prefix)
    return Pictured(svg, " ".join(_sentences(text, picture, gone, words)))


def state_of(picture: Picture) -> str:
    """The drawing and its state as one string, the same for whatever looks the same."""
    return repr((picture.name, sorted(picture.show), sorted(picture.hide), sorted(picture.marks.items()), picture.move))


def name_of(names: Mapping[str, Text], part: str, words: Words) -> str:
    """What ``part`` is called in the language of ``words``; its id where content has no name for it."""
    return words.called(names[part]) if part in names else part


def _sentences(text: PictureText, picture: Picture, gone: Collection[str], words: Words) -> list[str]:
    def named(parts: Iterable[str]) -> str:
        return "; ".join(name_of(text.parts, part, words) for part in parts)

    said = [f"{words.called(text.title)}.", words.called(text.alt)]
    if picture.show:
        said.append(words.say("pictured.shown", parts=named(picture.show)))
    if picture.move:
        said.append(words.say("pictured.moving", parts=named([picture.move])))
    if gone:
        said.append(words.say("pictured.not-shown", parts=named(sorted(gone))))
    marked = {mark: [part for part, its in picture.marks.items() if its == mark] for mark in _MARKS}
    said += [words.say(f"pictured.marked-{mark}", parts=named(parts)) for mark, parts in marked.items() if parts]
    return said
