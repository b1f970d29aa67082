"""A bundle: one compressed, signed file with all records, heads, names and texts that a store holds.

Lines of JSON in gzip. The first says what it is and whose; the last holds the SHA-256 of everything before it and its
maker's signature. Whole chains are in it, not only what is new to one receiver: whoever gets it, in whatever order, can
check each chain from its first record.
"""

from __future__ import annotations

import gzip
import hashlib
import io
import json
import zlib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import asdict, dataclass, field
from typing import Any

from trainer.core.records import Json
from trainer.errors import BadInput
from trainer.store import coding
from trainer.store.keys import Keys, fits
from trainer.store.shapes import Person, SignedHead

__all__ = ["LARGEST", "Bundle", "TextKept", "pack", "unpack"]

LARGEST = 200_000_000
"""The most bytes that a bundle may unpack to."""

_VERSION = 1
_LONGEST_LINE = 2_000_000


@dataclass(frozen=True, slots=True)
class TextKept:
    """A row of the erasable texts."""

    key: str
    salt: str
    text: str
    hand: str


@dataclass(frozen=True, slots=True)
class Bundle:
    """What a bundle holds.

    ``site`` made it at ``at``. ``records`` are as exported, by site, then seq; ``aside`` are those of other chains of a
    site that its maker knows of and does not count.
    """

    site: str
    at: str
    heads: tuple[SignedHead, ...] = ()
    records: tuple[Mapping[str, Json], ...] = ()
    aside: tuple[Mapping[str, Json], ...] = ()
    people: tuple[Person, ...] = ()
    texts: tuple[TextKept, ...] = ()


def pack(bundle: Bundle, keys: Keys) -> bytes:
    """``bundle`` as a file signed with ``keys``; the same bundle gives the same bytes."""
    lines = [coding.canonical(each) + b"\n" for each in _lines(bundle, keys)]
    body = b"".join(lines)
    digest = coding.digest(body)
    end = coding.canonical({"end": {"digest": digest, "signature": keys.sign_text(digest.encode())}}) + b"\n"
    packed = io.BytesIO()
    with gzip.GzipFile(fileobj=packed, mode="wb", mtime=0) as file:
        file.write(body + end)
    return packed.getvalue()


def _lines(bundle: Bundle, keys: Keys) -> Iterator[Json]:
    yield {"bundle": _VERSION, "site": bundle.site, "at": bundle.at, "key": keys.public()}
    for head in bundle.heads:
        yield {"head": asdict(head)}
    for record in bundle.records:
        yield {"record": dict(record)}
    for record in bundle.aside:
        yield {"aside": dict(record)}
    for person in bundle.people:
        yield {"person": asdict(person)}
    for text in bundle.texts:
        yield {"text": asdict(text)}


def unpack(data: bytes) -> Bundle:
    """The bundle in ``data``, whole and as its maker signed it; whether its chains are right is for ``merging``.

    Raises ``BadInput``: ``bundle-form`` for what is no bundle, ``bundle-newer`` for one of a newer version,
    ``bundle-changed`` for one that was changed or cut short after it was made.
    """
    try:
        return _read(_unzipped(data))
    except (OSError, EOFError, ValueError, LookupError, TypeError, RecursionError, zlib.error) as error:
        raise BadInput("bundle-form") from error


def _unzipped(data: bytes) -> bytes:
    with gzip.GzipFile(fileobj=io.BytesIO(data)) as file:
        # Read to a bound: a small file can unpack to more than any memory.
        body = file.read(LARGEST + 1)
    if len(body) > LARGEST:
        raise BadInput("bundle-large", megabytes=LARGEST // 1_000_000)
    return body


@dataclass(slots=True)
class _Found:
    heads: list[SignedHead] = field(default_factory=list)
    records: list[Mapping[str, Json]] = field(default_factory=list)
    aside: list[Mapping[str, Json]] = field(default_factory=list)
    people: list[Person] = field(default_factory=list)
    texts: list[TextKept] = field(default_factory=list)


def _read(body: bytes) -> Bundle:
    lines = body.splitlines(keepends=True)
    first = json.loads(lines[0])
    if not isinstance(first, dict) or not isinstance(first.get("bundle"), int):
        raise BadInput("bundle-form")
    if first["bundle"] > _VERSION:
        raise BadInput("bundle-newer")
    end = _end(lines[-1])
    digest = hashlib.sha256(b"".join(lines[:-1])).hexdigest()
    if end.get("digest") != digest or not fits(str(first["key"]), digest.encode(), str(end.get("signature"))):
        raise BadInput("bundle-changed")
    found = _Found()
    for line in lines[1:-1]:
        _take(json.loads(line[:_LONGEST_LINE]), found)
    return Bundle(
        str(first["site"]), str(first["at"]), tuple(found.heads), tuple(found.records), tuple(found.aside),
        tuple(found.people), tuple(found.texts),
    )  # fmt: skip


def _end(line: bytes) -> Mapping[str, Json]:
    try:
        end = json.loads(line)["end"]
    except (ValueError, KeyError, TypeError):
        end = None
    # Its last line is gone: somebody cut it, or the copy stopped half way.
    if not isinstance(end, dict):
        raise BadInput("bundle-changed")
    return end


def _take(line: Mapping[str, Any], found: _Found) -> None:
    ((kind, held),) = line.items()
    takers: Mapping[str, Callable[[], object]] = {
        "head": lambda: found.heads.append(SignedHead(**_typed(held, seq=int))),
        "record": lambda: found.records.append(dict(held)),
        "aside": lambda: found.aside.append(dict(held)),
        "person": lambda: found.people.append(Person(**_typed(held))),
        "text": lambda: found.texts.append(TextKept(**_typed(held))),
    }
    takers[kind]()


def _typed(held: Mapping[str, Any], **types: type) -> dict[str, Any]:
    for name, value in held.items():
        if type(value) is not types.get(name, str):
            raise TypeError(name)
    return dict(held)
