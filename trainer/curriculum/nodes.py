"""What a YAML file holds, with the line of everything: scalars, lists, and keys with their values."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from trainer.core.records import Json

__all__ = ["Fields", "Listed", "Node", "Path", "Scalar", "from_plain", "label", "locate", "origin", "plain", "spelled"]

Path: TypeAlias = "tuple[str | int, ...]"
"""Where something stands: keys, and for the entries of a list their id or number."""


@dataclass(frozen=True, slots=True)
class Scalar:
    """One value. ``text`` is what was written; ``value`` is true, false, a whole number, ``None``, else the text.

    ``file`` is the file beside this one that a translation came from, empty for what stands in this file itself.
    """

    value: str | int | bool | None
    text: str
    line: int
    file: str = ""


@dataclass(frozen=True, slots=True)
class Listed:
    """A list."""

    entries: tuple[Node, ...]
    line: int


@dataclass(frozen=True, slots=True)
class Fields:
    """Keys with their values, in the order written."""

    pairs: tuple[tuple[Scalar, Node], ...]
    line: int

    def get(self, name: str) -> Node | None:
        """What stands under ``name``, or ``None``."""
        return next((node for key, node in self.pairs if key.text == name), None)

    def key(self, name: str) -> Scalar | None:
        """The key ``name`` itself, for its line, or ``None``."""
        return next((key for key, _ in self.pairs if key.text == name), None)


Node = Scalar | Listed | Fields


def plain(node: Node) -> Json:
    """The same as JSON data; decimals and dates stay the text that was written."""
    match node:
        case Scalar(value=value):
            return value
        case Listed(entries=entries):
            return [plain(each) for each in entries]
        case Fields(pairs=pairs):
            return {key.text: plain(value) for key, value in pairs}


def from_plain(data: object, line: int = 1) -> Node:
    """The node that ``data`` (JSON data, as a record holds it) would have been read from."""
    if isinstance(data, Mapping):
        pairs = tuple((Scalar(str(key), str(key), line), from_plain(value, line)) for key, value in data.items())
        return Fields(pairs, line)
    if isinstance(data, Sequence) and not isinstance(data, str):
        return Listed(tuple(from_plain(each, line) for each in data), line)
    if data is None or isinstance(data, (bool, int)):
        return Scalar(data, "" if data is None else str(data).lower(), line)
    return Scalar(str(data), str(data), line)


def label(entry: Node, number: int) -> str | int:
    """How an entry of a list is named in a problem: by its id or part, else by its ``number``, from 1."""
    if isinstance(entry, Fields):
        for name in ("id", "part"):
            found = entry.get(name)
            if isinstance(found, Scalar) and found.text:
                return found.text
    return number


def locate(root: Node, path: Path) -> int:
    """The line where ``path`` stands below ``root``, or of the nearest thing above it that is there."""
    node, line = root, root.line
    for step in path:
        found = _step(node, step)
        if found is None:
            return line
        line, node = found
    return line


def origin(root: Node, path: Path) -> str:
    """The file beside that the sentence at ``path`` came from; empty where it stands in the file of ``root`` itself."""
    node: Node | None = root
    for step in path:
        found = _step(node, step) if node is not None else None
        node = found[1] if found else None
    return node.file if isinstance(node, Scalar) else ""


def _step(node: Node, step: str | int) -> tuple[int, Node] | None:
    """The line and node one step down; a key's line is its own, not that of its value."""
    if isinstance(node, Fields):
        key, value = node.key(str(step)), node.get(str(step))
        return None if key is None or value is None else (key.line, value)
    if isinstance(node, Listed):
        named = ((label(entry, number), entry) for number, entry in enumerate(node.entries, 1))
        return next(((entry.line, entry) for name, entry in named if name == step), None)
    return None


def spelled(root: Node | None, path: Path) -> str:
    """``path`` as a problem shows it: ``steps[2].minutes``; entries of a list stand in brackets."""
    text, node = "", root
    for step in path:
        listed = isinstance(node, Listed) or isinstance(step, int)
        text += f"[{step}]" if listed and text else f".{step}" if text else str(step)
        found = _step(node, step) if node is not None else None
        node = found[1] if found else None
    return text or "file"
