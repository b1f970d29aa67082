"""Answers to JSON and back: what drafts and records hold, as the marking functions take it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import cast

from trainer.core.records import Json
from trainer.core.tasks import Answer

__all__ = ["from_json", "to_json"]


def to_json(answer: Answer | None) -> Json:
    """``answer`` as JSON: tuples become lists; ``None`` is a blank."""
    if answer is None or isinstance(answer, str):
        return answer
    if isinstance(answer, tuple):
        return list(answer)
    return {spot: list(there) for spot, there in answer.items()}


def from_json(value: Json) -> Answer | None:
    """The answer that ``to_json`` wrote; ``None`` for a blank."""
    match value:
        case None | str():
            return value
        case list():
            return tuple(cast("list[str]", value))
        case Mapping():
            return {spot: tuple(cast("list[str]", there)) for spot, there in value.items()}
        case _:
            raise ValueError("not an answer")
