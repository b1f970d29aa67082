"""Rules on ids: each stands once in its list, and is spelt so that it reads the same wherever it is named."""

from __future__ import annotations

from collections.abc import Iterator

from trainer.curriculum.hints import plain_id
from trainer.curriculum.loaded import Loaded
from trainer.curriculum.nodes import Fields, Listed, Node, Path, Scalar, label, spelled
from trainer.curriculum.shaping import ID
from trainer.errors import Problem

__all__ = ["ids_twice", "plain_ids", "repeated"]

_FOLDERS = ("content/lessons/", "content/checklists/", "quizzes/")


def ids_twice(loaded: Loaded) -> list[Problem]:
    """Entries of one list of a lesson, bank or sheet under the same id, or spots on the same part."""
    return [
        problem
        for file, root in _files(loaded)
        for path, node in _walk(root)
        if isinstance(node, Listed)
        for problem in repeated(file, root, path, node)
    ]


def repeated(file: str, root: Node, path: Path, entries: Listed) -> Iterator[Problem]:
    """Each entry of ``entries``, at ``path`` below ``root``, whose id stands further up in the same list."""
    key = "part" if path[-1:] == ("spots",) else "id"
    first: dict[str, int] = {}
    for entry in entries.entries:
        found = entry.get(key) if isinstance(entry, Fields) else None
        if isinstance(found, Scalar) and found.text:
            line = first.setdefault(found.text, found.line)
            if line != found.line:
                what = f'"{found.text}" stands here twice, first in line {line}'
                where = spelled(root, (*path, found.text, key))
                yield Problem(file, found.line, where, what, "give each its own")


def plain_ids(loaded: Loaded) -> list[Problem]:
    """Ids of lessons, banks and sheets in other than small letters, digits and hyphens.

    Those of competencies may be an office's own, and are left to it.
    """
    return [
        loaded.problem(file, (*path, "id"), f'expected small letters, digits and hyphens, got "{found.text}"', todo)
        for file, root in _files(loaded)
        for path, node in _walk(root)
        if isinstance(node, Fields) and isinstance(found := node.get("id"), Scalar)
        if ID.fullmatch(found.text) and found.text != plain_id(found.text)
        if (todo := f"write {plain_id(found.text)}, and the same wherever it is named")
    ]


def _files(loaded: Loaded) -> Iterator[tuple[str, Node]]:
    return ((file, node) for file, node in loaded.nodes.items() if file.startswith(_FOLDERS))


def _walk(node: Node, path: Path = ()) -> Iterator[tuple[Path, Node]]:
    """Everything below ``node`` with its place."""
    yield path, node
    if isinstance(node, Fields):
        for key, value in node.pairs:
            yield from _walk(value, (*path, key.text))
    elif isinstance(node, Listed):
        for number, entry in enumerate(node.entries, 1):
            yield from _walk(entry, (*path, label(entry, number)))
