"""A site's file with its bad places filled from the template, so that the rest of it can be judged at the same time."""

from __future__ import annotations

import re
from collections.abc import Iterable

from trainer.core.catalogue import Site
from trainer.curriculum.nodes import Fields, Listed, Node, Path, Scalar, label
from trainer.curriculum.report import Report
from trainer.curriculum.shaping import shape

__all__ = ["PlacedReport", "stand_in"]

_WRITE = "write e.g. "
_ADD = re.compile(r"add it, e\.g\. (\w+): ")


class PlacedReport(Report):
    """A report that also keeps where each problem stands, as a path and a line.

    Its examples are the ``template``'s own figures: any other number might be a dangerous one.
    """

    def __init__(self, file: str, root: Node, template: Node | None) -> None:
        super().__init__(file, root)
        self.template = template
        self.places: list[tuple[Path, int]] = []

    def add(self, path: Path, what: str, todo: str, *, line: int | None = None, warning: bool = False) -> None:
        """As every report does; a warning leaves its place as it is."""
        Report.add(self, path, what, self._with_own_example(path, todo), line=line, warning=warning)
        if not warning:
            self.places.append((path, self.problems[-1].line))

    def _with_own_example(self, path: Path, todo: str) -> str:
        if todo.startswith(_WRITE) and (figure := _figure_at(self.template, path)):
            return f"{_WRITE}{figure}"
        if missing := _ADD.match(todo):
            figure = _figure_at(self.template, (*path, missing[1]))
            return f"{missing[0]}{figure}" if figure else todo
        return todo

    def replaced(self) -> frozenset[str]:
        """Where a figure itself is bad; of a part that lacks a key, or has one too many, the others still stand."""
        errors = (each for each in self.problems if not each.is_warning)
        told = zip(self.places, errors, strict=True)
        return frozenset(each.where for (path, _), each in told if not isinstance(_node_at(self.root, path), Fields))


def _node_at(root: Node | None, path: Path) -> Node | None:
    node = root
    for step in path:
        if isinstance(node, Fields):
            node = node.get(str(step))
        elif isinstance(node, Listed):
            named = ((label(each, number), each) for number, each in enumerate(node.entries, 1))
            node = next((each for name, each in named if name == step), None)
    return node


def _figure_at(template: Node | None, path: Path) -> str:
    """The figure that the template has there, or in the entry that stands for that one; empty where it has none."""
    for step in path:
        template = _below(template, step)
    return template.text if isinstance(template, Scalar) else ""


def stand_in(node: Node, template: Node | None, places: Iterable[tuple[Path, int]]) -> Site | None:
    """The site that ``node`` would be with the template's figures at those ``places``; ``None`` where it is none."""
    for path, line in places:
        node = _mended(node, template, path, line)
    return shape(node, Site, Report("", node))


def _mended(node: Node, template: Node | None, path: Path, line: int) -> Node:
    if not path:
        return _keys_mended(node, template, line)
    match node:
        case Fields(pairs=pairs):
            below = ((key, value, key.text == str(path[0])) for key, value in pairs)
            made = tuple(
                (key, _mended(value, _below(template, path[0]), path[1:], line) if is_it else value)
                for key, value, is_it in below
            )
            return Fields(tuple(pair for pair in made if not _is_empty(pair[1])), node.line)
        case Listed(entries=entries):
            named = ((label(each, number), each) for number, each in enumerate(entries, 1))
            return Listed(
                tuple(
                    _mended(each, _below(template, name), path[1:], line) if name == path[0] else each
                    for name, each in named
                ),
                node.line,
            )
    return node


def _keys_mended(node: Node, template: Node | None, line: int) -> Node:
    """The template's own figure; of a part, what it has of its own, less what is unknown and with what is missing."""
    if not isinstance(node, Fields) or not isinstance(template, Fields):
        return template if template is not None else Fields((), node.line)
    kept = tuple(pair for pair in node.pairs if template.get(pair[0].text) is not None or pair[0].line != line)
    names = {key.text for key, _ in kept}
    return Fields((*kept, *(pair for pair in template.pairs if pair[0].text not in names)), node.line)


def _below(template: Node | None, step: str | int) -> Node | None:
    """What the template has there; for an entry that it does not name, its first one."""
    if isinstance(template, Fields):
        named = template.get(str(step))
        first = next((value for _, value in template.pairs), None)
        return named if named is not None else first if isinstance(first, Fields) else None
    return template.entries[0] if isinstance(template, Listed) and template.entries else None


def _is_empty(node: Node) -> bool:
    return isinstance(node, Fields) and not node.pairs
