"""Read a drawing and write it again with parts shown, left out or marked."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field
from types import MappingProxyType
from xml.etree import ElementTree

from trainer.pictures.checks import NAMESPACE, numbers, part_elements, problems, tag
from trainer.pictures.marks import MARKS
from trainer.pictures.motions import ATTRIBUTES, motions_of, stand_still

_NOTHING: AbstractSet[str] = frozenset()
_NO_PARTS: frozenset[str] = frozenset()
_NO_MARKS: Mapping[str, str] = MappingProxyType({})
_VARIABLE = re.compile(r"var\(--pic-([a-z-]+)\)")
_REFERENCE = re.compile(r"(?<=#)[a-z0-9-]+")


@dataclass(frozen=True, slots=True)
class Drawing:
    """A checked drawing: its source, its parts in drawing order and where they can be pointed at."""

    svg: str
    parts: tuple[str, ...]
    optional: frozenset[str]
    """Parts left out unless `show` names them."""
    spots: Mapping[str, tuple[float, float]] = field(hash=False)
    """Part -> centre, in percent of width and height from the upper left corner."""
    size: tuple[float, float]
    """Width and height in the drawing's own units."""
    instead: Mapping[str, frozenset[str]] = field(hash=False)
    """Part -> the parts whose place it takes: showing it leaves them out."""
    redraws: Mapping[str, frozenset[str]] = field(hash=False)
    """Part -> the parts that it draws anew, moved or changed: they are left out too, and yet there to be seen."""
    motions: frozenset[str] = frozenset()
    """Parts that can be played."""


def parse(svg: str) -> Drawing:
    """The drawing in this SVG text. Raises ValueError with every problem found when it may not be shown."""
    if found := problems(svg):
        raise ValueError("drawing refused: " + "; ".join(found))
    root = ElementTree.fromstring(svg)
    _, _, width, height = numbers(root.attrib["viewBox"])
    parts = {part.attrib["id"]: part for part in part_elements(root)}
    points = {name: numbers(part.attrib["data-spot"]) for name, part in parts.items() if "data-spot" in part.attrib}
    return Drawing(
        svg=svg,
        parts=tuple(parts),
        optional=frozenset(name for name, part in parts.items() if part.get("data-shown") == "no"),
        spots=MappingProxyType({name: (100 * x / width, 100 * y / height) for name, (x, y) in points.items()}),
        size=(width, height),
        instead=_others(parts, "data-instead"),
        redraws=_others(parts, "data-redraws"),
        motions=motions_of(root),
    )


def _others(parts: Mapping[str, ElementTree.Element], key: str) -> Mapping[str, frozenset[str]]:
    listed = {name: part.attrib[key].split() for name, part in parts.items() if key in part.attrib}
    return MappingProxyType({name: frozenset(others) for name, others in listed.items()})


def render(
    drawing: Drawing,
    *,
    show: AbstractSet[str] = _NOTHING,
    hide: AbstractSet[str] = _NOTHING,
    marks: Mapping[str, str] = _NO_MARKS,
    move: str = "",
    palette: Mapping[str, str] | None = None,
    prefix: str = "",
    label: str = "",
) -> str:
    """SVG text of the drawing as asked for.

    `marks` maps a part with a spot to `right`, `wrong` or `look`. The motion `move` is shown and can be played; named
    in `show` it stands still. With a palette every colour is written out (print, PDF), without one the page's `--pic-`
    variables decide. `prefix` goes before every id, so that several drawings fit on a page. With a label the drawing
    is an image of that name to a screen reader, without one it is decoration.
    Raises ValueError naming a part, a mark, a motion or a colour that does not exist.
    """
    _refuse_unknown(drawing, show, hide, marks)
    moving = frozenset({move} - {""})
    _refuse("motion", sorted(moving - drawing.motions), sorted(drawing.motions))
    root = ElementTree.fromstring(drawing.svg)
    _leave_out(root, left_out(drawing, show | moving, hide))
    stand_still(root)
    for part, mark in marks.items():
        root.append(_mark(drawing, part, mark))
    _tidy(root, prefix, move)
    _introduce(root, label)
    text = ElementTree.tostring(root, encoding="unicode", short_empty_elements=True)
    return text if palette is None else _painted(text, palette)


def left_out(drawing: Drawing, show: AbstractSet[str] = _NOTHING, hide: AbstractSet[str] = _NOTHING) -> frozenset[str]:
    """The parts that do not appear: optional ones not asked for, hidden ones, and those another one replaces."""
    taken = [others.get(part, _NO_PARTS) for part in show for others in (drawing.instead, drawing.redraws)]
    return (drawing.optional - show).union(*taken) | frozenset(hide)


def missing(drawing: Drawing, show: AbstractSet[str] = _NOTHING, hide: AbstractSet[str] = _NOTHING) -> frozenset[str]:
    """The parts of the drawing as it comes that cannot be seen; one that is drawn anew can."""
    redrawn = _NO_PARTS.union(*(drawing.redraws.get(part, _NO_PARTS) for part in show)) - hide
    return left_out(drawing, show, hide) - drawing.optional - redrawn


def _refuse_unknown(drawing: Drawing, show: AbstractSet[str], hide: AbstractSet[str], marks: Mapping[str, str]) -> None:
    known = frozenset(drawing.parts)
    _refuse("part", sorted((show | hide | marks.keys()) - known), drawing.parts)
    _refuse("part with a spot", sorted(marks.keys() - drawing.spots.keys()), tuple(drawing.spots))
    _refuse("mark", sorted(frozenset(marks.values()) - MARKS.keys()), tuple(MARKS))


def _refuse(what: str, wrong: list[str], known: Collection[str]) -> None:
    if wrong:
        raise ValueError(f"no such {what}: {', '.join(wrong)} - there are {', '.join(known)}")


def _leave_out(parent: ElementTree.Element, gone: AbstractSet[str]) -> None:
    for child in list(parent):
        if tag(child) == "defs":
            continue
        if child.get("id") in gone:
            parent.remove(child)
        else:
            _leave_out(child, gone)


def _mark(drawing: Drawing, part: str, mark: str) -> ElementTree.Element:
    (across, down), (width, height) = drawing.spots[part], drawing.size
    place = f"translate({across * width / 100:g} {down * height / 100:g})"
    group = ElementTree.Element("g", {"transform": place, "fill": "none"})
    for name, attributes in MARKS[mark]:
        ElementTree.SubElement(group, name, dict(attributes))
    return group


def _tidy(root: ElementTree.Element, prefix: str, move: str) -> None:
    """Drop what only the source needs, and put the prefix before ids and the references to them."""
    played = {each for part in root.iter() if move and part.get("id") == move for each in part.iter()}
    for element in root.iter():
        element.tag, element.text, element.tail = tag(element), None, None
        for key, value in list(element.attrib.items()):
            if key in ATTRIBUTES and element in played:
                continue
            if key.startswith("data-"):
                del element.attrib[key]
            elif key == "id":
                element.set(key, prefix + value)
            elif "#" in value:
                element.set(key, _REFERENCE.sub(lambda match: prefix + match[0], value))


def _introduce(root: ElementTree.Element, label: str) -> None:
    root.set("xmlns", NAMESPACE)
    if label:
        root.set("role", "img")
        root.set("aria-label", label)
    else:
        root.set("aria-hidden", "true")


def _painted(text: str, palette: Mapping[str, str]) -> str:
    _refuse("colour", sorted(set(_VARIABLE.findall(text)) - palette.keys()), tuple(palette))
    return _VARIABLE.sub(lambda match: palette[match[1]], text)
