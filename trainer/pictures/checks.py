"""What may stand in a drawing, and what is wrong with one. Anything not listed here is refused."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterator
from xml.etree import ElementTree
from xml.parsers import expat

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


def problems(svg: str) -> list[str]:
    """Everything wrong with this drawing, one plain sentence each; empty when it may be shown."""
    return [what for _, what in located_problems(svg)]


def located_problems(svg: str) -> list[tuple[int, str]]:
    """The same with the line, from 1, of the element that each is about; line 1 for the drawing on the whole."""
    if len(svg) > LONGEST:
        return [(1, f"longer than {LONGEST} characters")]
    if "<!DOCTYPE" in svg or "<!ENTITY" in svg or "<?xml-stylesheet" in svg:
        return [(1, "a document type, an entity or a style sheet is declared: leave it out")]
    try:
        root = ElementTree.fromstring(svg)
    except ElementTree.ParseError as error:
        return [(error.position[0], f"not well-formed XML: {error}")]
    found = [(1, what) for what in _root_problems(root)]
    for line, element in zip(_lines(svg), root.iter(), strict=True):
        found.extend((line, what) for what in _element_problems(element))
    # What is badly written is not read any further.
    found += [(1, what) for what in (*_id_problems(root), *_spot_problems(root))]
    return found or [(1, what) for what in motion_problems(root)]


def _lines(svg: str) -> list[int]:
    """The line of each element, in document order."""
    found: list[int] = []
    parser = expat.ParserCreate()
    parser.StartElementHandler = lambda *_: found.append(parser.CurrentLineNumber)
    parser.Parse(svg, True)
    return found


def naming_problems(parts: Collection[str], named: Collection[str]) -> list[str]:
    """Parts that have no name and names that have no part, one sentence each, in alphabetical order."""
    missing = [f"part {part!r} has no name" for part in sorted(set(parts) - set(named))]
    return missing + [f"name {name!r} belongs to no part" for name in sorted(set(named) - set(parts))]


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


def _root_problems(root: ElementTree.Element) -> list[str]:
    if root.tag != f"{{{NAMESPACE}}}svg":
        return [f"the outermost element is <{root.tag}>, not <svg> in the SVG namespace"]
    found = []
    box = numbers(root.get("viewBox", ""))
    if len(box) != 4 or box[:2] != (0, 0) or min(box[2:]) <= 0:
        found.append('viewBox must be "0 0 WIDTH HEIGHT"')
    if "fill" not in root.attrib:
        found.append('the outermost element needs fill="none", or a shape without fill turns black')
    return found


def _element_problems(element: ElementTree.Element) -> Iterator[str]:
    name = tag(element)
    if name not in ELEMENTS:
        yield f"<{name}> is not allowed"
        return
    if (element.text or "").strip() or (element.tail or "").strip():
        yield f"words in or after <{name}>: a drawing holds none"
    for key, value in element.attrib.items():
        pattern = _ATTRIBUTES.get(key)
        if pattern is None:
            yield f"attribute {key} on <{name}> is not allowed"
        elif not (match := pattern.fullmatch(value)):
            yield f"{key}={value!r} on <{name}> is not allowed"
        elif pattern is _COLOUR and match[1] and match[1] not in LIGHT:
            yield f"unknown colour {match[1]!r} on <{name}>"


def _id_problems(root: ElementTree.Element) -> Iterator[str]:
    ids = Counter(element.attrib["id"] for element in root.iter() if "id" in element.attrib)
    yield from (f"id {name!r} is used {count} times" for name, count in ids.items() if count > 1)
    parts = {element.attrib["id"] for element in part_elements(root)}
    for element in root.iter():
        for key in ("href", "fill", "stroke", "clip-path"):
            match = re.search(r"#([a-z0-9-]+)", element.get(key, ""))
            if match and match[1] not in ids:
                yield f"{key} points to {match[1]!r}, which is not here"
        for key in ("data-instead", "data-redraws"):
            for name in element.get(key, "").split():
                if name not in parts:
                    yield f"{key} names {name!r}, which is not a part"


def _spot_problems(root: ElementTree.Element) -> Iterator[str]:
    box = numbers(root.get("viewBox", ""))
    for element in root.iter():
        if "data-spot" not in element.attrib:
            continue
        name, spot = element.get("id", "?"), numbers(element.attrib["data-spot"])
        if name == "?":
            yield "data-spot on an element without id"
        if len(spot) != 2:
            yield f"data-spot of {name!r} needs two numbers"
        elif len(box) == 4 and not (0 <= spot[0] <= box[2] and 0 <= spot[1] <= box[3]):
            yield f"data-spot of {name!r} lies outside the view"
