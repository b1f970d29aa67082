"""Record ids of many rows, packed: 16 bytes each where all are UUIDs, else the strings themselves.

Five million ids are 80 MB packed and more than 400 MB as strings.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Any, TypeAlias
from uuid import UUID

import numpy as np
import numpy.typing as npt

__all__ = ["Packed", "among", "blank", "inserted", "pack", "taken", "unpack"]

Packed: TypeAlias = npt.NDArray[Any]
"""``V16`` (the bytes of a UUID) or ``object`` (strings), one element a row."""

_UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}", re.ASCII)


def pack(ids: Sequence[str]) -> Packed:
    """The ids as one array; only UUIDs in lower case with hyphens are packed, so that ``unpack`` gives them back."""
    if all(_UUID.fullmatch(each) for each in ids):
        return np.frombuffer(b"".join(map(_bytes, ids)), dtype="V16").copy()
    return np.array(ids, dtype=object)


def unpack(packed: Packed, place: int | tuple[int, ...]) -> str:
    """The id at ``place``."""
    each = packed[place]
    return each if isinstance(each, str) else str(UUID(bytes=each.tobytes()))


def taken(packed: Packed, rows: npt.NDArray[np.int32]) -> Packed:
    """The ids of ``rows`` in the same shape; what stands at a row below zero means nothing."""
    if not len(packed):
        return np.zeros(rows.shape, dtype=packed.dtype)
    return packed.take(rows, mode="clip")


def blank(shape: tuple[int, ...], like: Packed) -> Packed:
    """Room for ids packed as those of ``like``; what stands there means nothing."""
    return np.empty(shape, dtype=like.dtype)


def inserted(packed: Packed, places: Sequence[int], new: Packed) -> Packed:
    """``packed`` with each of ``new`` put in before the row at its place."""
    if packed.dtype != new.dtype:
        packed, new = _loose(packed), _loose(new)
    return np.insert(packed, places, new)


def among(packed: Packed, ids: Iterable[str]) -> npt.NDArray[np.bool_]:
    """Of each row, whether its id is one of ``ids``."""
    wanted = set(ids)
    if packed.dtype == object:
        return np.array([each in wanted for each in packed], dtype=np.bool_)
    known = {_bytes(each) for each in wanted if _UUID.fullmatch(each)}
    first_halves = np.frombuffer(b"".join(known), dtype=np.uint64)[::2]
    found = np.isin(packed.view(np.uint64)[::2], first_halves)
    # Half an id may be shared (two drawn in the same moment): the few left are compared whole.
    for row in np.flatnonzero(found):
        found[row] = packed[row].tobytes() in known
    return found


def _bytes(uuid: str) -> bytes:
    return bytes.fromhex(uuid.replace("-", ""))


def _loose(packed: Packed) -> Packed:
    return np.array([unpack(packed, row) for row in range(len(packed))], dtype=object)
