"""YAML text -> nodes with lines. Narrower than YAML on purpose, so that what is read is what was written.

Only ``true``, ``false``, ``null`` and plain whole numbers are anything but text: ``NO``, ``on``, ``12:30``, ``010``,
``1.10`` and dates stay as written. Duplicate keys, anchors, aliases and tags are refused; so is more than 1 MB or more
than 50 levels. The parser's events are used directly: there is no constructor that could make an object.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path as File

import yaml

from trainer.curriculum.nodes import Fields, Listed, Node, Scalar
from trainer.curriculum.report import Report
from trainer.curriculum.yaml_mistakes import mistake
from trainer.errors import Problem

__all__ = ["DEEPEST", "LARGEST", "read", "read_file"]

LARGEST = 1_000_000
"""Bytes in one file."""

DEEPEST = 50
"""Levels of lists and keys within each other."""

# Fifteen digits stay below 2**53, which the ledger's canonical form can hold exactly.
_WHOLE = re.compile(r"-?(?:0|[1-9][0-9]{0,14})")
# Escapes could smuggle these in; they would break lines on a terminal, or the ledger's canonical form.
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff]")
_WORDS: tuple[tuple[str, bool | None], ...] = (("true", True), ("false", False), ("null", None), ("", None))
_LOADER: type[yaml.SafeLoader] | type[yaml.CSafeLoader] = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class _Stop(Exception):
    """Nothing after this can be read."""


@dataclass(slots=True)
class _Open:
    """A list or a set of keys whose end has not been met yet."""

    line: int
    is_list: bool
    entries: list[Node] = field(default_factory=list)
    pairs: list[tuple[Scalar, Node]] = field(default_factory=list)
    seen: dict[str, int] = field(default_factory=dict)
    key: Scalar | None = None
    lost_dash: bool = False

    def step(self) -> str | int:
        """The key or number that is being filled."""
        return len(self.entries) + 1 if self.is_list else self.key.text if self.key else "key"

    def closed(self) -> Node:
        """The node, once its end is met."""
        return Listed(tuple(self.entries), self.line) if self.is_list else Fields(tuple(self.pairs), self.line)


def read(data: bytes, file: str) -> tuple[Node | None, list[Problem]]:
    """The content of ``file`` and every problem in how it is written; no node where nothing can be read."""
    report = Report(file)
    text = _decoded(data, report)
    if text is None:
        return None, report.problems
    builder = _Builder(report)
    try:
        builder.take(yaml.parse(text, Loader=_LOADER))
    except yaml.MarkedYAMLError as error:
        _mistaken(report, text, error)
    except yaml.YAMLError:
        _no_letter(report, text)
    except _Stop:
        pass
    if builder.root is None and not report.problems:
        report.add((), "nothing is written here", "fill the file or remove it", line=1)
    return (None if report.problems else builder.root), report.problems


def read_file(path: File, file: str) -> tuple[Node | None, list[Problem]]:
    """``read`` of what stands at ``path``, called ``file`` in problems; that it cannot be opened is one, too."""
    try:
        return read(path.read_bytes(), file)
    except OSError as error:
        why = error.strerror or "it cannot be opened"
        return None, [Problem(file, 1, "file", f"cannot be read ({why})", "look at its permissions")]


def _decoded(data: bytes, report: Report) -> str | None:
    if len(data) > LARGEST:
        report.add((), f"larger than {LARGEST // 1_000_000} MB", "split it into smaller files", line=1)
        return None
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        report.add((), "not UTF-8 text", "save the file as UTF-8", line=line)
        return None


def _mistaken(report: Report, text: str, error: yaml.MarkedYAMLError) -> None:
    """The slip of the hand behind a stop of the parser."""
    last = error.problem_mark.line if error.problem_mark is not None else 0
    first = error.context_mark.line if error.context_mark is not None else last
    found = mistake(text, last, first, f"{error.context or ''} {error.problem or ''}")
    report.add((), found.what, found.todo, line=found.line)


def _no_letter(report: Report, text: str) -> None:
    """A character that no file may hold, such as one that a terminal would obey."""
    found = _CONTROL.search(text)
    line = text.count("\n", 0, found.start()) + 1 if found else 1
    report.add((), "a character that cannot be shown", "type that line anew", line=line)


class _Builder:
    """Makes nodes of the parser's events, without recursion."""

    def __init__(self, report: Report) -> None:
        self.report = report
        self.root: Node | None = None
        self._open: list[_Open] = []
        self._documents = 0

    def take(self, events: Iterable[yaml.Event]) -> None:
        """Reads all events; raises ``_Stop`` where going on makes no sense."""
        for event in events:
            self._take_one(event, _line_of(event))

    def _take_one(self, event: yaml.Event, line: int) -> None:
        match event:
            case yaml.DocumentStartEvent():
                self._start_document(line)
            case yaml.AliasEvent():
                self._note(line, "aliases (*) are not read", "write the text out in full")
                self._put(Scalar(None, "", line))
            case yaml.ScalarEvent():
                self._refuse_marks(event, line)
                if _CONTROL.search(event.value):
                    self._note(line, "a control character in the text", "take it out")
                self._put(_scalar(event, line))
            case yaml.SequenceStartEvent() | yaml.MappingStartEvent():
                self._refuse_marks(event, line)
                self._start(line, is_list=isinstance(event, yaml.SequenceStartEvent))
            case yaml.SequenceEndEvent() | yaml.MappingEndEvent():
                self._put(self._open.pop().closed())

    def _start_document(self, line: int) -> None:
        self._documents += 1
        if self._documents > 1:
            self._note(line, "a second document starts here", "keep one document in a file")
            raise _Stop

    def _start(self, line: int, *, is_list: bool) -> None:
        if len(self._open) >= DEEPEST:
            self._note(line, f"nested deeper than {DEEPEST} levels", "make it flatter")
            raise _Stop
        self._open.append(_Open(line, is_list))

    def _refuse_marks(self, event: yaml.NodeEvent, line: int) -> None:
        if event.anchor is not None:
            self._note(line, "anchors (&) are not read", "write the text out in full where it is needed")
        if getattr(event, "tag", None) is not None:
            self._note(line, "tags (!) are not read", "leave the tag out")

    def _put(self, node: Node) -> None:
        if not self._open:
            self.root = node
            return
        top = self._open[-1]
        if top.is_list:
            top.entries.append(node)
        elif top.key is None:
            top.key = self._key(node)
        else:
            self._put_value(top, top.key, node)

    def _key(self, node: Node) -> Scalar:
        if isinstance(node, Scalar) and node.text:
            return node
        self._note(node.line, "a key that is not a word", "write one word or name before the colon")
        return Scalar("?", "?", node.line)

    def _put_value(self, top: _Open, key: Scalar, node: Node) -> None:
        first = top.seen.get(key.text)
        if first is not None:
            self._note_twice(top, key, first)
        else:
            top.seen[key.text] = key.line
            top.pairs.append((key, node))
        top.key = None

    def _note_twice(self, top: _Open, key: Scalar, first: int) -> None:
        """A key that stands twice; where that is the first of an entry of a list, most often its ``-`` is missing."""
        if top.lost_dash:
            return
        begins = bool(top.pairs) and key.text == top.pairs[0][0].text
        top.lost_dash = begins and key.line > first and self._is_entry()
        todo = f'is a - missing before this "{key.text}"?' if top.lost_dash else "keep one of the two"
        self._note(key.line, f'"{key.text}" stands here twice, first in line {first}', todo)

    def _is_entry(self) -> bool:
        return len(self._open) > 1 and self._open[-2].is_list

    def _note(self, line: int, what: str, todo: str) -> None:
        self.report.add(tuple(each.step() for each in self._open), what, todo, line=line)


def _line_of(event: yaml.Event) -> int:
    return 1 if event.start_mark is None else event.start_mark.line + 1


def _scalar(event: yaml.ScalarEvent, line: int) -> Scalar:
    written = str(event.value)
    if not event.implicit[0]:
        return Scalar(written, written, line)
    for word, value in _WORDS:
        if written == word:
            return Scalar(value, written, line)
    return Scalar(int(written) if _WHOLE.fullmatch(written) else written, written, line)
