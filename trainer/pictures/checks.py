"""What may stand in a drawing, and what is wrong with one. Anything not listed here is refused."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from contextlib import suppress
from typing import NamedTuple, TypeAlias
from xml.etree import ElementTree
from xml.parsers import expat

from trainer.pictures import advice
from trainer.pictures.motions import ATTRIBUTES, motion_problems
from trainer.pictures.palette import LIGHT

NAMESPACE = "http://www.w3.org/2000/svg"
LONGEST = 300_000
ELEMENTS = frozenset("svg g defs use path rect circle ellipse line polyline polygon pattern clipPath".split())

_NUMBER = r"-?(?:\d+\.?\d*|\.\d+)"
_NUMBERS = re.compile(rf"\s*{_NUMBER}(?:[\s,]+{_NUMBER})*\s*")
_ID = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
_IDS = re.compile(r"[a-z0-9-]+(?: [a-z0-9-]+)*")
_PATH = re.compile(r"[MmLlHhVvCcSsQqTtAaZz0-9eE+\-.,\s]+")
_TRANSFORM = re.compile(r"\s*(?:(?:translate|rotate|scale|matrix|skewX|skewY)\([0-9eE+\-.,\s]+\)\s*)+")
_COLOUR = re.compile(r"none|var\(--pic-([a-z-]+)\)|url\(#([a-z0-9-]+)\)")
_LOCAL = re.compile(r"url\(#([a-z0-9-]+)\)")
_HREF = re.compile(r"#([a-z0-9-]+)")
_WORD = re.compile(r"[a-zA-Z]+")

_NUMERIC = "x y x1 y1 x2 y2 cx cy r rx ry width height points viewBox stroke-width stroke-dasharray data-spot"
_WORDS = "stroke-linecap stroke-linejoin fill-rule clip-rule patternUnits clipPathUnits data-shown"
_ATTRIBUTES: dict[str, re.Pattern[str]] = {
    **dict.fromkeys(_NUMERIC.split(), _NUMBERS),
    **dict.fromkeys(_WORDS.split(), _WORD),
    "id": _ID,
    "d": _PATH,
    "transform": _TRANSFORM,
    "patternTransform": _TRANSFORM,
    "fill": _COLOUR,
    "stroke": _COLOUR,
    "clip-path": _LOCAL,
    "href": _HREF,
    "data-instead": _IDS,
    "data-redraws": _IDS,
    **ATTRIBUTES,
}

Placed: TypeAlias = tuple[ElementTree.Element, str, str]
"""An element, what is wrong with it and what to do."""


class Flaw(NamedTuple):
    """Something wrong with a drawing: the line, from 1, of the element it is about, what it is and what to do."""

    line: int
    what: str
    todo: str


def problems(svg: str) -> list[str]:
    """Everything wrong with this drawing, one plain sentence each; empty when it may be shown."""
    return [each.what for each in flaws(svg)]


def flaws(svg: str) -> list[Flaw]:
    """The same with the line and what to do; line 1 for the drawing on the whole."""
    if len(svg) > LONGEST:
        return [Flaw(1, f"longer than {LONGEST} characters", "draw it with fewer shapes")]
    if "<!DOCTYPE" in svg or "<!ENTITY" in svg or "<?xml-stylesheet" in svg:
        what = "a document type, an entity or a style sheet is declared: leave it out"
        return [Flaw(1, what, "take the lines out that begin with <! or <?")]
    try:
        root = ElementTree.fromstring(svg)
    except ElementTree.ParseError as error:
        return [_unreadable(svg, error)]
    if root.tag != f"{{{NAMESPACE}}}svg":
        what = f"the outermost element is <{root.tag}>, not <svg> in the SVG namespace"
        return [Flaw(1, what, f'begin the file with <svg xmlns="{NAMESPACE}" ...>')]
    lines = dict(zip(root.iter(), _lines(svg), strict=True))
    found = [Flaw(1, what, todo) for what, todo in _root_problems(root)]
    for element, line in lines.items():
        found.extend(Flaw(line, what, todo) for what, todo in _element_problems(element))
    # What is badly written is not read any further.
    below = (*_id_problems(root), *_spot_problems(root))
    found += [Flaw(lines[element], what, todo) for element, what, todo in below]
    return found or [Flaw(1, what, advice.OTHERWISE) for what in motion_problems(root)]


def _unreadable(svg: str, error: ElementTree.ParseError) -> Flaw:
    """The place where a drawing is no longer one: the group that was never closed, or the line that breaks off."""
    line = error.position[0]
    still_open = _open_at_end(svg)
    if "mismatched tag" in str(error) and still_open:
        name, since = still_open[-1]
        return Flaw(since, f"this <{name}> is not closed", f"write </{name}> where it ends, or /> at its own end")
    written = [*svg.splitlines(), ""]
    return Flaw(line, *advice.for_xml(written[min(line, len(written)) - 1]))


def _open_at_end(svg: str) -> list[tuple[str, int]]:
    """The elements that are still open where a drawing breaks off, each with its line."""
    found: list[tuple[str, int]] = []
    parser = expat.ParserCreate()
    parser.StartElementHandler = lambda name, _: found.append((name, parser.CurrentLineNumber))
    parser.EndElementHandler = lambda _: found.pop()
    with suppress(expat.ExpatError):
        parser.Parse(svg, True)
    return found


def _lines(svg: str) -> list[int]:
    """The line of each element, in document order."""
    found: list[int] = []
    parser = expat.ParserCreate()
    parser.StartElementHandler = lambda *_: found.append(parser.CurrentLineNumber)
    parser.Parse(svg, True)
    return found


def tag(element: ElementTree.Element) -> str:
    """The element's name without the SVG namespace; any other namespace stays visible."""
    return element.tag.removeprefix(f"{{{NAMESPACE}}}")


def part_elements(root: ElementTree.Element) -> Iterator[ElementTree.Element]:
    """Every element that is a part, in document order: it has an id and is not inside `defs`."""
    for child in root:
        if tag(child) == "defs":
            continue
        if "id" in child.attrib:
            yield child
        yield from part_elements(child)


def numbers(text: str) -> tuple[float, ...]:
    """The numbers in an attribute such as `viewBox` or `data-spot`."""
    return tuple(float(number) for number in re.findall(_NUMBER, text))


def _root_problems(root: ElementTree.Element) -> list[tuple[str, str]]:
    found = []
    box = numbers(root.get("viewBox", ""))
    if len(box) != 4 or box[:2] != (0, 0) or min(box[2:]) <= 0:
        found.append(('viewBox must be "0 0 WIDTH HEIGHT"', 'write e.g. viewBox="0 0 360 240" on <svg>'))
    if "fill" not in root.attrib:
        what = 'the outermost element needs fill="none", or a shape without fill turns black'
        found.append((what, 'write fill="none" on <svg>'))
    return found


def _element_problems(element: ElementTree.Element) -> Iterator[tuple[str, str]]:
    name = tag(element)
    if name not in ELEMENTS:
        yield f"<{name}> is not allowed", advice.for_element(name, ", ".join(sorted(ELEMENTS - {"svg", "defs"})))
        return
    if (element.text or "").strip() or (element.tail or "").strip():
        what = f"words in or after <{name}>: a drawing holds none"
        yield what, "take them out: what a part is called stands in content/pictures.yaml"
    for key, value in element.attrib.items():
        pattern = _ATTRIBUTES.get(key)
        if pattern is None:
            yield f"attribute {key.rpartition('}')[2]} on <{name}> is not allowed", advice.for_attribute(key)
        elif not (match := pattern.fullmatch(value)):
            yield f"{key}={value!r} on <{name}> is not allowed", advice.for_value(key)
        elif pattern is _COLOUR and match[1] and match[1] not in LIGHT:
            yield f"unknown colour {match[1]!r} on <{name}>", advice.COLOURS


def _id_problems(root: ElementTree.Element) -> Iterator[Placed]:
    yield from _twice(root)
    ids = {element.attrib["id"] for element in root.iter() if "id" in element.attrib}
    parts = {element.attrib["id"] for element in part_elements(root)}
    for element in root.iter():
        for key, pattern in (("href", _HREF), ("fill", _LOCAL), ("stroke", _LOCAL), ("clip-path", _LOCAL)):
            match = pattern.fullmatch(element.get(key, ""))
            if match and match[1] not in ids:
                what = f"{key} points to {match[1]!r}, which is not here"
                yield element, what, "write the id of something in this file"
        for key in ("data-instead", "data-redraws"):
            for name in element.get(key, "").split():
                if name not in parts:
                    yield element, f"{key} names {name!r}, which is not a part", "write the id of a group in this file"


def _twice(root: ElementTree.Element) -> Iterator[Placed]:
    ids = Counter(element.attrib["id"] for element in root.iter() if "id" in element.attrib)
    told: set[str] = set()
    for element in root.iter():
        name = element.get("id", "")
        if ids[name] > 1 and name in told:
            yield element, f"id {name!r} is used {ids[name]} times", advice.FIT
        told.add(name)


def _spot_problems(root: ElementTree.Element) -> Iterator[Placed]:
    box = numbers(root.get("viewBox", ""))
    for element in root.iter():
        if "data-spot" not in element.attrib:
            continue
        name, spot = element.get("id", "?"), numbers(element.attrib["data-spot"])
        if name == "?":
            yield element, "data-spot on an element without id", 'add id="..."'
        if len(spot) != 2:
            yield element, f"data-spot of {name!r} needs two numbers", 'write e.g. data-spot="120 80"'
        elif len(box) == 4 and not (0 <= spot[0] <= box[2] and 0 <= spot[1] <= box[3]):
            what = f"data-spot of {name!r} lies outside the view"
            yield element, what, f"keep to 0 to {box[2]:g} across and 0 to {box[3]:g} down"
