"""One name for one wording: SHA-256 over the RFC 8785 form of frozen content."""

from __future__ import annotations

import dataclasses
import hashlib
from collections.abc import Mapping, Sequence
from datetime import date

import rfc8785

from trainer.core.durations import Duration, text
from trainer.core.records import Json
from trainer.curriculum.spelling import NOT_WRITTEN

__all__ = ["content_hash", "json_of"]


def content_hash(content: object) -> str:
    """Lower-case hex SHA-256 of ``content``; any change of a word, figure or order gives another."""
    return hashlib.sha256(rfc8785.dumps(json_of(content))).hexdigest()


def json_of(content: object) -> Json:
    """``content`` as JSON data: types by their fields and name, durations, dates and decimals as text, no ``hash``.

    A field that says of itself that it is no wording is left out.
    """
    if isinstance(content, Duration):
        return text(content)
    if isinstance(content, date):
        return content.isoformat()
    if dataclasses.is_dataclass(content) and not isinstance(content, type):
        # The type's name keeps apart two kinds of task with the same fields.
        worded = [each.name for each in dataclasses.fields(content) if each.metadata.get("is_wording", True)]
        named = {name: json_of(getattr(content, name)) for name in worded}
        return {"type": type(content).__name__, **{k: v for k, v in named.items() if k not in NOT_WRITTEN}}
    if isinstance(content, Mapping):
        return {str(key): json_of(value) for key, value in content.items()}
    if isinstance(content, Sequence) and not isinstance(content, str):
        return [json_of(each) for each in content]
    if content is None or isinstance(content, (bool, int, str)):
        return content
    if isinstance(content, float):
        return repr(content)
    raise TypeError(f"content does not hold {type(content).__name__}")
