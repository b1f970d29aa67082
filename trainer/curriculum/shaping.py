"""Nodes -> the core's frozen types, by the types' own annotations: one definition of each thing, all problems at once.

A type's fields are its keys; what differs stands in ``spelling``. An unknown key, a missing one and a value of the
wrong sort are each noted with their line and what to write. Nothing is guessed: ``many`` is not a number, ``yes`` is
not true.
"""

from __future__ import annotations

import dataclasses
import re
import types
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from difflib import get_close_matches
from functools import cache
from types import MappingProxyType
from typing import Annotated, Any, Final, TypeVar, Union, get_args, get_origin, get_type_hints

from trainer.core.durations import Duration, parse
from trainer.core.tasks import Task
from trainer.core.text import DEFAULT_LANGUAGE
from trainer.core.units import EXAMPLES, Kind, read
from trainer.curriculum.hints import CURLY, for_duration, for_id, for_key, for_list, for_number, for_word, stuck
from trainer.curriculum.nodes import Fields, Listed, Node, Path, Scalar, label
from trainer.curriculum.report import Report
from trainer.curriculum.spelling import CHOICES, IMPLIED, KINDS, LEAST, NOT_WRITTEN, YAML_NAMES

__all__ = ["ID", "LANGUAGE", "NO_LANGUAGE", "hints_of", "is_required", "keys_of", "shape", "shape_list", "shape_map"]

T = TypeVar("T")

ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,63}")
"""An id: it also stands in records, in file names and as part of a key, so no spaces, dots or colons."""

LANGUAGE = re.compile(r"[a-z]{2,3}(?:-[A-Z][A-Za-z]{1,3})?")
"""A language code."""

NO_LANGUAGE: Final = "a sentence without its language"
"""What is said of it: a warning when it is read, more than that where the site calls other languages complete."""

# Text is an alias of Mapping[str, str] in the core; read under this name, it can be told from other mappings.
_TEXT: Final = Annotated[Mapping[str, str], "text"]
_TASK_TYPES: Final = frozenset(get_args(Task))


class _Bad:
    """Stands for what could not be read; its problem has been noted."""


_BAD: Final = _Bad()


def shape(node: Node, cls: type[T], report: Report, path: Path = ()) -> T | None:
    """The ``cls`` (a dataclass of the core) that ``node`` holds; ``None`` with its problems in ``report``."""
    made = _dataclass(node, cls, _At(report, path), {})
    return made if isinstance(made, cls) else None


def shape_list(node: Node, cls: type[T], report: Report) -> tuple[T, ...]:
    """The entries of a list that can be read; those that cannot have their problems in ``report``."""
    if not isinstance(node, Listed):
        _At(report, ()).expected("a list of entries, each starting with -", node, "- id: ...")
        return ()
    made = (shape(each, cls, report, (label(each, number),)) for number, each in enumerate(node.entries, 1))
    return tuple(each for each in made if each is not None)


def shape_map(node: Node, cls: type[T], report: Report) -> Mapping[str, T]:
    """The values of a mapping that can be read, by key; those that cannot have their problems in ``report``."""
    if not isinstance(node, Fields):
        _At(report, ()).expected("keys with values", node, "name: ...")
        return {}
    made = ((key.text, shape(value, cls, report, (key.text,))) for key, value in node.pairs)
    return MappingProxyType({name: each for name, each in made if each is not None})


@dataclass(frozen=True, slots=True)
class _At:
    """A place in the file being read, and where its problems go."""

    report: Report
    path: Path

    def __truediv__(self, step: str | int) -> _At:
        return _At(self.report, (*self.path, step))

    def bad(self, what: str, todo: str, line: int | None = None) -> _Bad:
        self.report.add(self.path, what, todo, line=line)
        return _BAD

    def expected(self, what: str, node: Node, example: str) -> _Bad:
        return self.wanted(what, node, f"write e.g. {example}")

    def wanted(self, what: str, node: Node, todo: str) -> _Bad:
        return self.bad(f"expected {what}, got {_seen(node)}", todo)


def _seen(node: Node) -> str:
    match node:
        case Scalar(value=None):
            return "nothing"
        case Scalar(text=text):
            return f'"{text if len(text) <= 40 else text[:37] + "..."}"'
        case Listed(entries=entries):
            return f"a list of {len(entries)}"
        case Fields():
            return "keys with values"


@cache
def hints_of(cls: type) -> Mapping[str, Any]:
    """The annotation of each field that YAML may hold."""
    hints = get_type_hints(cls, localns={"Text": _TEXT}, include_extras=True)
    return {each.name: hints[each.name] for each in dataclasses.fields(cls) if each.name not in NOT_WRITTEN}


@cache
def keys_of(cls: type) -> Mapping[str, dataclasses.Field[Any]]:
    """Each key that YAML may hold with the field that it fills."""
    renamed = {name: key for owner, name, key in YAML_NAMES if owner is cls}
    return {renamed.get(each.name, each.name): each for each in dataclasses.fields(cls) if each.name in hints_of(cls)}


def is_required(field: dataclasses.Field[Any]) -> bool:
    """Whether the field has no default, so that its key must stand in the file."""
    return field.default is dataclasses.MISSING and field.default_factory is dataclasses.MISSING


def _dataclass(node: Node, cls: type, at: _At, implied: Mapping[str, object]) -> object:
    if isinstance(node, Scalar) and node.value is None:
        node = Fields((), node.line)
    if not isinstance(node, Fields):
        return at.expected("keys with values", node, _example_of(cls))
    made: dict[str, object] = dict(implied)
    for key, value in node.pairs:
        field = keys_of(cls).get(key.text)
        if field is None:
            made["?"] = _unknown(key, node, cls, at)
        elif not _left_empty(value, field):
            made[field.name] = _field(value, cls, field.name, at / key.text)
    for name, field in keys_of(cls).items():
        if is_required(field) and field.name not in made:
            example = _choices(cls, field.name)[:1] or (_example(hints_of(cls)[field.name]),)
            made["?"] = at.bad(f'"{name}" is missing', f"add it, e.g. {name}: {example[0]}", node.line)
    return _BAD if any(each is _BAD for each in made.values()) else cls(**made)


def _left_empty(node: Node, field: dataclasses.Field[Any]) -> bool:
    """Whether a key stands there with nothing after it and has a default for that."""
    return isinstance(node, Scalar) and node.value is None and not is_required(field)


def _unknown(key: Scalar, node: Fields, cls: type, at: _At) -> _Bad:
    if todo := stuck(key.text):
        return at.bad("a blank is missing after the colon", todo, key.line)
    is_task = cls in _TASK_TYPES
    known = [*keys_of(cls), *(["kind"] if is_task else [])]
    lacking = [name for name, field in keys_of(cls).items() if is_required(field) and node.key(name) is None]
    return at.bad(f'unknown key "{key.text}"', for_key(key.text, cls, known, lacking, is_task=is_task), key.line)


def _field(node: Node, cls: type, name: str, at: _At) -> object:
    """A field's value, with the rules that hold for this field only."""
    hint = hints_of(cls)[name]
    if name == "id" and hint is str:
        return _id(node, at)
    if choices := _choices(cls, name):
        return _choice(node, choices, at)
    if hint is int:
        least = next((least for owner, field, least in LEAST if (owner, field) == (cls, name)), 0)
        return _whole(node, at, least, _usual(cls, name))
    implied = {key: value for owner, field, key, value in IMPLIED if (owner, field) == (cls, name)}
    return _value(node, hint, at, implied)


def _usual(cls: type, name: str) -> int:
    """The field's own default, as an example of what is meant: any other number might be a dangerous one."""
    default = next(each.default for each in dataclasses.fields(cls) if each.name == name)
    return default if isinstance(default, int) else 0


def _choices(cls: type, name: str) -> tuple[str, ...]:
    return next((choices for owner, field, choices in CHOICES if (owner, field) == (cls, name)), ())


def _value(node: Node, hint: object, at: _At, implied: Mapping[str, object] = MappingProxyType({})) -> object:
    """What ``node`` holds, as ``hint`` (an annotation of the core) asks for."""
    origin, args = get_origin(hint), get_args(hint)
    if origin in (Union, types.UnionType):
        return _either(node, args, at)
    if origin is Annotated:
        return _measure(node, args[1], at) if isinstance(args[1], Kind) else _text(node, at)
    if origin is tuple:
        return _tuple(node, args, at, implied)
    if origin is not None:
        return _mapping(node, args[1], at)
    if isinstance(hint, type) and dataclasses.is_dataclass(hint) and hint is not Duration:
        return _dataclass(node, hint, at, implied)
    return _plain(node, hint, at)


def _plain(node: Node, hint: object, at: _At) -> object:
    if hint is str:
        return _word(node, at)
    if hint is bool:
        fits = isinstance(node, Scalar) and isinstance(node.value, bool)
        return node.value if fits and isinstance(node, Scalar) else at.wanted("true or false", node, for_word(node))
    if hint is int:
        return _whole(node, at, 0)
    if hint is date:
        return _date(node, at)
    return _duration(node, at)


def _either(node: Node, args: tuple[object, ...], at: _At) -> object:
    """One of several types: a task by its kind, or something that may be absent."""
    if types.NoneType in args and isinstance(node, Scalar) and node.value is None:
        return None
    kinds = [each for each in args if each is not types.NoneType]
    return _task(node, at) if len(kinds) > 1 else _value(node, kinds[0], at)


def _task(node: Node, at: _At) -> object:
    names = [name for name, _ in KINDS]
    if not isinstance(node, Fields):
        return at.expected("a task", node, "{kind: choose-one, options: [...]}")
    kind = node.get("kind")
    if kind is None:
        return at.bad('"kind" is missing', f"add one of {', '.join(names)}", node.line)
    chosen = _choice(kind, tuple(names), at / "kind")
    if chosen is _BAD:
        return _BAD
    rest = Fields(tuple(pair for pair in node.pairs if pair[0].text != "kind"), node.line)
    return _dataclass(rest, next(cls for name, cls in KINDS if name == chosen), at, {})


def _tuple(node: Node, args: tuple[object, ...], at: _At, implied: Mapping[str, object]) -> object:
    if args[-1] is not Ellipsis:
        return _row(node, args, at)
    if get_origin(args[0]) is tuple and get_args(args[0])[-1] is not Ellipsis:
        made = _mapping(node, get_args(args[0])[1], at)
        return tuple(made.items()) if isinstance(made, Mapping) else made
    if not isinstance(node, Listed):
        inside = node.text if isinstance(node, Scalar) and node.text else _example(args[0])
        return at.expected("a list", node, f"[{inside}]")
    entries = [_value(each, args[0], at / label(each, number), implied) for number, each in enumerate(node.entries, 1)]
    return _BAD if any(each is _BAD for each in entries) else tuple(entries)


def _row(node: Node, args: tuple[object, ...], at: _At) -> object:
    """A list of a fixed length, each place with its own type."""
    if not isinstance(node, Listed) or len(node.entries) != len(args):
        return at.expected(f"a list of {len(args)}", node, f"[{', '.join(_example(each) for each in args)}]")
    entries = [_value(each, hint, at / (n + 1)) for n, (each, hint) in enumerate(zip(node.entries, args, strict=True))]
    return _BAD if any(each is _BAD for each in entries) else tuple(entries)


def _mapping(node: Node, hint: object, at: _At) -> object:
    if not isinstance(node, Fields):
        return at.expected("keys with values", node, f"{{name: {_example(hint)}}}")
    made = {key.text: _value(value, hint, at / key.text) for key, value in node.pairs}
    return _BAD if any(each is _BAD for each in made.values()) else MappingProxyType(made)


def _text(node: Node, at: _At) -> object:
    """A sentence by language; one without languages is English, with a warning.

    Where a sentence breaks off, its rest would be told as further languages: only the first of them is.
    """
    if isinstance(node, Scalar) and isinstance(node.value, str | int) and not isinstance(node.value, bool):
        at.report.add(at.path, NO_LANGUAGE, "write {en: ..., es: ...}", warning=True)
        return MappingProxyType({DEFAULT_LANGUAGE: node.text})
    if not isinstance(node, Fields):
        return at.expected("a sentence", node, "{en: ..., es: ...}")
    if broken := next((key for key, _ in node.pairs if " " in key.text or stuck(key.text)), None):
        return _breaks_off(broken, node, at)
    made = {key.text: _sentence(key, value, at / key.text) for key, value in node.pairs}
    if not made.get(DEFAULT_LANGUAGE):
        return at.bad("the English sentence is missing", "add en: ...", node.line)
    return _BAD if any(each is _BAD for each in made.values()) else MappingProxyType(made)


def _breaks_off(key: Scalar, node: Fields, at: _At) -> _Bad:
    """A key that is part of a sentence, or has its sentence stuck to it."""
    if todo := stuck(key.text):
        return at.bad("a blank is missing after the colon", todo, key.line)
    told = (value.text for _, value in node.pairs if isinstance(value, Scalar))
    is_curly = any(text.strip()[:1] in tuple(CURLY) for text in told)
    because = "straight quotes, curly ones do not count" if is_curly else "quotes, because of its comma or colon"
    return (at / key.text).bad("the sentence breaks off here", f"put it in {because}", key.line)


def _sentence(key: Scalar, node: Node, at: _At) -> object:
    if isinstance(node, Scalar) and node.value is None:
        return at.bad("no sentence", "write it after the colon")
    if not LANGUAGE.fullmatch(key.text):
        return at.bad(f'"{key.text}" is not a language', "write a code such as en, es or pt", key.line)
    found = _string(node, at)
    return at.bad("an empty sentence", "write it, or leave the language out") if found == "" else found


def _string(node: Node, at: _At) -> object:
    if isinstance(node, Scalar) and not isinstance(node.value, bool) and node.value is not None:
        return node.text
    if isinstance(node, Scalar) and isinstance(node.value, bool):
        return at.bad(f"expected text, got {node.text}", f'put it in quotes: "{node.text}"')
    return at.wanted("text", node, for_list(node) or 'write e.g. "..."')


def _word(node: Node, at: _At) -> object:
    """Text that is no sentence: a name of something, which no curly quotes belong to."""
    text = node.text if isinstance(node, Scalar) else ""
    if text[:1] in CURLY and text[-1:] in CURLY and (bare := text.strip(CURLY)):
        return at.bad(f'curly quotes stand round "{bare}"', f"write it without: {bare}")
    return _string(node, at)


def _id(node: Node, at: _At) -> object:
    found = _word(node, at)
    if isinstance(found, str) and not ID.fullmatch(found):
        return at.wanted("an id of small letters, digits and hyphens", node, for_id(node))
    return found


def _choice(node: Node, choices: tuple[str, ...], at: _At) -> object:
    if isinstance(node, Scalar) and node.text in choices:
        return node.text
    near = get_close_matches(node.text, choices, n=1, cutoff=0.6) if isinstance(node, Scalar) else []
    todo = f'did you mean "{near[0]}"?' if near else for_list(node) or "write one of these"
    return at.bad(f"expected one of {', '.join(choices)}, got {_seen(node)}", todo)


def _whole(node: Node, at: _At, least: int, usual: int = 0) -> object:
    if not isinstance(node, Scalar) or not isinstance(node.value, int) or isinstance(node.value, bool):
        return at.wanted("a whole number", node, for_number(node, least, usual))
    if node.value < least:
        return at.expected(f"a whole number of at least {least}", node, str(least))
    return node.value


def _date(node: Node, at: _At) -> object:
    if isinstance(node, Scalar) and re.fullmatch(r"\d{4}-\d\d-\d\d", node.text, re.ASCII):
        try:
            return date.fromisoformat(node.text)
        except ValueError:
            return at.bad(f'"{node.text}" is not a day in the calendar', "write e.g. 2026-01-05")
    return at.expected("a date", node, "2026-01-05")


def _duration(node: Node, at: _At) -> object:
    if isinstance(node, Scalar) and isinstance(node.value, str):
        try:
            return parse(node.text)
        except ValueError:
            pass
    return at.wanted("a duration in whole years, months, weeks or days", node, for_duration(node))


def _measure(node: Node, kind: Kind, at: _At) -> object:
    """A figure with its unit, as SI."""
    if not isinstance(node, Scalar) or isinstance(node.value, bool) or node.value is None:
        return at.expected(f"a {kind} with its unit", node, EXAMPLES[kind])
    try:
        return read(node.text, kind)
    except ValueError as error:
        return at.bad(f"expected a {kind}, got {_seen(node)} ({error})", f"write e.g. {EXAMPLES[kind]}")


def _example(hint: object) -> str:
    """Something that could be written where ``hint`` is asked for."""
    args = [each for each in get_args(hint) if each is not types.NoneType]
    if get_origin(hint) in (Union, types.UnionType):
        return _example(args[0]) if len(args) == 1 else "{kind: choose-one, ...}"
    if get_origin(hint) is Annotated:
        kind = get_args(hint)[1]
        return EXAMPLES[kind].partition(" or ")[0] if isinstance(kind, Kind) else "{en: ..., es: ...}"
    if get_origin(hint) is tuple:
        return f"[{_example(args[0])}]"
    if get_origin(hint) is not None:
        return "{name: ...}"
    if not isinstance(hint, type):
        return "..."
    examples = {str: "...", bool: "true", int: "5", date: "2026-01-05", Duration: "P12M"}
    return examples.get(hint) or _example_of(hint)


def _example_of(cls: type) -> str:
    """The keys that a ``cls`` cannot do without."""
    needed = [name for name, field in keys_of(cls).items() if is_required(field)] or list(keys_of(cls))[:1]
    return "{" + ", ".join(f"{name}: ..." for name in needed) + "}"
