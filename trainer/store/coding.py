"""Bodies to JSON and back, and the one canonical form that is hashed.

pydantic reads each kind by its dataclass: a field too many, too few or of another type is refused. What comes back
must encode to exactly what was read, so that a record can be hashed again from its decoded form, today and in years.
A field that came later says since which version of its body, ``field(default=..., metadata={"since": 2})``: in a record
of an older one it neither stands nor is looked for.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import lru_cache
from typing import Any, cast, get_type_hints

import rfc8785
from pydantic import BaseModel, ConfigDict, JsonValue, ValidationError, create_model

from trainer.core.records import BODIES, Body, Json, Record
from trainer.errors import StoreDamaged

__all__ = [
    "canonical", "canonical_plain", "decode", "digest", "encode", "fields_json", "hash_of", "kind_of", "plain",
    "record_json",
]  # fmt: skip

LARGEST = 2**53 - 1
"""The largest integer that every JSON reader holds exactly (RFC 8785)."""

SINCE = "since"
"""In a field's metadata: the version of its body from which on records hold it."""

# What ``plain`` gives is new, so that nothing in it can be inside itself: that is not looked for.
_WRITER = json.JSONEncoder(
    ensure_ascii=False, allow_nan=False, sort_keys=True, separators=(",", ":"), check_circular=False
)

_NO_BODY = b',"body":null'

_STRICT = ConfigDict(extra="forbid", strict=True)
_KINDS: Mapping[str, type[Body]] = dict(BODIES)


def kind_of(body: Body) -> str:
    """The record kind whose body type this is; raises ``KeyError`` for any other type."""
    return {body_type: kind for kind, body_type in BODIES}[type(body)]


def plain(value: object, version: int = LARGEST) -> Json:
    """``value`` as JSON of strings, booleans, null, integers below 2**53, lists and maps with string keys only.

    Dataclasses become maps, of the fields that a body of that ``version`` has, and tuples lists. Raises ``TypeError``
    or ``ValueError`` for anything else, floats too: they have more than one spelling, so a number with a fraction is
    kept as a decimal string.
    """
    # Most values by far are of these very types, and are done without asking what else they could be; a text that is
    # also one of an Enum is not of this very type.
    kind = type(value)
    if kind in _AS_IT_IS:
        return cast("Json", value)
    if kind is int:
        return _exact(cast("int", value))
    if kind is tuple or kind is list:
        return _list(cast("Sequence[Any]", value), version)
    if kind is dict:
        return _map(cast("Mapping[Any, Any]", value), version)
    if is_dataclass(kind):
        return _fields(value, _names(kind, version), version)
    return _of_rarer_kind(value, version)


_AS_IT_IS = frozenset({str, bool, type(None)})


def _list(value: Sequence[Any], version: int) -> list[Json]:
    return [each if type(each) in _AS_IT_IS else plain(each, version) for each in value]


def _fields(value: object, names: Sequence[str], version: int) -> dict[str, Json]:
    given = [(name, getattr(value, name)) for name in names]
    return {name: each if type(each) in _AS_IT_IS else plain(each, version) for name, each in given}


def _map(value: Mapping[Any, Any], version: int) -> dict[str, Json]:
    return {
        name if type(name) is str else _key(name): each if type(each) in _AS_IT_IS else plain(each, version)
        for name, each in value.items()
    }


def _of_rarer_kind(value: object, version: int) -> Json:
    if isinstance(value, Enum):
        return plain(value.value)
    if isinstance(value, str | bool):
        return value
    if isinstance(value, int):
        return _exact(value)
    if isinstance(value, Mapping):
        return _map(value, version)
    if isinstance(value, tuple | list):
        return _list(value, version)
    raise TypeError(f"{type(value).__name__} cannot stand in a record")


@lru_cache(maxsize=256)
def _names(shape: type[Any], version: int) -> tuple[str, ...]:
    """The fields of that dataclass that a body of that version has, in order."""
    return tuple(field.name for field in fields(shape) if field.metadata.get(SINCE, 0) <= version)


def _exact(value: int) -> int:
    if abs(value) > LARGEST:
        raise ValueError(f"{value} is too large to stand in a record")
    return value


def _key(name: object) -> str:
    if not isinstance(name, str):
        raise TypeError(f"a map in a record has string keys, not {type(name).__name__}")
    return name


def encode(body: Body) -> dict[str, Json]:
    """``body`` as JSON, every field that its version has; raises as ``plain`` does."""
    return cast("dict[str, Json]", plain(body, body.v))


def decode(kind: str, data: Mapping[str, Json], text: str | bytes | None = None) -> Body:
    """The body of that kind, as ``encode`` wrote it; ``text`` is the same as JSON text, where there is one already.

    Raises ``StoreDamaged("body-form")`` for an unknown kind and for a field too many, too few or of another type.
    """
    body_type = _KINDS.get(kind)
    if body_type is None:
        raise StoreDamaged("body-form", kind=kind, where="kind")
    try:
        # Read as JSON text, because only there is a list a tuple while "7" is still no number.
        read = _reader(kind, _version(body_type, data)).model_validate_json(text or json.dumps(data))
    except ValidationError as error:
        raise StoreDamaged("body-form", kind=kind, where=_where(error)) from None
    # The model's own fields and nothing else: no field too many was let in.
    return body_type(**read.__dict__)


def _where(error: ValidationError) -> str:
    return ".".join(str(step) for step in error.errors()[0]["loc"])


def _version(body_type: type[Body], data: Mapping[str, Json]) -> int:
    """The version that ``data`` says, no later than the one known here; that one where it says none that can be."""
    newest = _newest(cast("Any", body_type))
    said = data.get("v")
    return min(said, newest) if isinstance(said, int) and said > 0 else newest


@lru_cache(maxsize=256)
def _newest(body_type: type[Any]) -> int:
    return next(int(cast("int", field.default)) for field in fields(body_type) if field.name == "v")


@lru_cache(maxsize=256)
def _reader(kind: str, version: int) -> type[BaseModel]:
    """A strict model with the fields of that kind's body type in that version, all of them required."""
    body_type = _KINDS[kind]
    # The recursive Json of core is a plain alias, which pydantic cannot follow; its own JsonValue means the same.
    hints = get_type_hints(body_type, localns={"Json": JsonValue})
    wanted: dict[str, Any] = {name: (hints[name], ...) for name in _names(cast("Any", body_type), version)}
    return create_model(body_type.__name__, __config__=_STRICT, **wanted)


def canonical(value: Json) -> bytes:
    """The RFC 8785 form of ``value``, UTF-8."""
    return rfc8785.dumps(cast("dict[str, Any]", value))


def canonical_plain(value: Json) -> bytes:
    """``canonical`` of what ``plain`` gave, many times quicker.

    Without fractions Python's own writer gives the same form; only names with letters beyond sixteen bits sort
    otherwise, and are left to the other one.
    """
    text = _WRITER.encode(value)
    return text.encode() if text.isascii() or max(text) <= "\uffff" else canonical(value)


def digest(data: bytes) -> str:
    """The lower-case hex SHA-256 of ``data``."""
    return hashlib.sha256(data).hexdigest()


def record_json(record: Record) -> dict[str, Json]:
    """``record`` as JSON: exactly the fields that every export of records has."""
    return fields_json(record, encode(record.body))


def fields_json(record: Record, body: Json) -> dict[str, Json]:
    """The same with the body given, as JSON or as the text of it."""
    return {
        "record_id": record.record_id,
        "site": record.site,
        "seq": record.seq,
        "at": record.at,
        "day": record.day.isoformat(),
        "by": record.by,
        "hand": record.hand,
        "kind": record.kind,
        "body": body,
        "prev": record.prev,
        "hash": record.hash,
    }


def hash_of(fields: Mapping[str, Json], body: str, written: Callable[[Json], bytes] = canonical) -> str:
    """The hash of a record: SHA-256 of its canonical form without ``hash``.

    ``fields`` are all the others as JSON; the canonical text of the body is given apart, because it is worked out
    already and is most of the work. ``written`` is ``canonical_plain`` for fields that were made here.
    """
    rest = {name: value for name, value in fields.items() if name not in ("body", "hash")}
    whole = written({**rest, "body": None})
    # Its name can stand in no text before it: a text's own quotes have a stroke before them.
    return digest(whole.replace(_NO_BODY, b',"body":%b' % body.encode(), 1))
