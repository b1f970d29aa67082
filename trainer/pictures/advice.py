"""What to write instead of what may not stand in a drawing: one sentence for each kind of slip."""

from __future__ import annotations

from typing import Final

from trainer.pictures.palette import LIGHT

__all__ = ["COLOURS", "FIT", "OTHERWISE", "for_attribute", "for_element", "for_value", "for_xml"]

OTHERWISE: Final = "keep to plain shapes in our colours, no scripts, links or words; content/WRITING.md says how"
COLOURS: Final = f"write one of: {', '.join(LIGHT)}"
FIT: Final = "give each a name of its own"

_IN_COLOUR: Final = 'fill="var(--pic-NAME)" and stroke="var(--pic-NAME)"'
_PROGRAM: Final = "take it out: only a drawing program reads it"
_ELEMENTS: Final[tuple[tuple[str, str], ...]] = (
    ("script", "take it out: nothing runs in a drawing"),
    ("style", f"take it out, and write {_IN_COLOUR} on each shape"),
    ("text tspan textPath title desc", "take it out: a drawing holds no words, content/pictures.yaml does"),
    ("image foreignObject", "take it out, and draw its shapes"),
    ("a", "take it out: a drawing holds no links"),
    ("metadata", _PROGRAM),
    ("linearGradient radialGradient filter mask marker", "take it out: each shape has one plain colour"),
    ("animate animateTransform animateMotion set", "take it out: what moves is written with data-frames"),
)
_ATTRIBUTES: Final[tuple[tuple[str, str], ...]] = (
    ("style class", f"write {_IN_COLOUR} instead"),
    ("version", "take it out"),
    ("opacity fill-opacity stroke-opacity", "take it out: a colour covers what lies under it"),
)


def for_element(name: str, allowed: str) -> str:
    """What to do about the element ``name``; ``allowed`` names those there may be."""
    if name.startswith("{"):
        return _PROGRAM
    return next((todo for names, todo in _ELEMENTS if name in names.split()), f"draw it with one of: {allowed}")


def for_attribute(name: str) -> str:
    """What to do about an attribute that there is not."""
    if name.startswith("on"):
        return "take it out: nothing runs in a drawing"
    if name.startswith("{"):
        return _PROGRAM
    return next((todo for names, todo in _ATTRIBUTES if name in names.split()), "take it out")


def for_value(name: str) -> str:
    """What to write as the value of the attribute ``name``."""
    match name:
        case "fill" | "stroke":
            return f'write {name}="var(--pic-NAME)", where NAME is one of: {", ".join(LIGHT)}'
        case "id":
            return "write small letters, digits and hyphens, a letter first"
        case "href":
            return 'write href="#NAME", where NAME is the id of a shape in this file'
        case "x" | "y" | "cx" | "cy" | "r" | "rx" | "ry" | "width" | "height" | "stroke-width" | "data-spot" | "points":
            return "write plain numbers, without px or %"
        case _:
            return OTHERWISE


def for_xml(line: str) -> tuple[str, str]:
    """What is likely wrong in a ``line`` that cannot be read, and what to do."""
    if any(each in line for each in "\u201c\u201d\u201e\u2018\u2019"):
        return "curly quotes do not hold a value", 'type straight ones: "'
    if "&" in line:
        return "a & cannot stand in a drawing", "take it out"
    todo = "look at this line and the one above: each < has its >, each value its two quotes, each <g> its </g>"
    return "the drawing cannot be read from here on", todo
