"""Content as the site has it: its words put into every sentence and its procedures over the content's, once.

That is where the catalogue is made.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from types import MappingProxyType
from typing import TypeVar, cast

from trainer.core.catalogue import Competency, Procedure
from trainer.core.glossary import Say
from trainer.core.text import DEFAULT_LANGUAGE

__all__ = ["in_own_words", "under_own_procedures"]

Content = TypeVar("Content")


def under_own_procedures(
    competencies: tuple[Competency, ...], own: Mapping[str, Procedure], *, are_examples: bool = False
) -> tuple[Competency, ...]:
    """The competencies, each under the site's ``own`` procedure where it names one, number and revision together.

    The others keep the content's, marked where those ``are_examples``.
    """
    return tuple(
        dataclasses.replace(each, procedure=own.get(each.id) or _as(each.procedure, are_examples))
        for each in competencies
    )


def _as(procedure: Procedure | None, is_example: bool) -> Procedure | None:
    return dataclasses.replace(procedure, example=True) if procedure and is_example else procedure


def in_own_words(content: Content, say: Mapping[str, Say]) -> Content:
    """``content`` (frozen types, lists and maps of them) with each sentence as the site says it; ids stay as they are.

    ``say`` is by language. What does not change is the same object as before, so the hash of a wording, which names
    what the files hold, stays with it.
    """
    return cast("Content", _said(content, say)) if say else content


def _said(content: object, say: Mapping[str, Say]) -> object:
    if isinstance(content, Mapping):
        return _mapping(content, say)
    if isinstance(content, tuple):
        made = tuple(_said(each, say) for each in content)
        return made if any(a is not b for a, b in zip(made, content, strict=True)) else content
    if dataclasses.is_dataclass(content) and not isinstance(content, type):
        return _dataclass(content, say)
    return content


def _mapping(content: Mapping[object, object], say: Mapping[str, Say]) -> object:
    if isinstance(content.get(DEFAULT_LANGUAGE), str):
        made = {key: say[key](value) if key in say else value for key, value in cast("dict[str, str]", content).items()}
        return MappingProxyType(made) if made != content else content
    below = {key: _said(value, say) for key, value in content.items()}
    return MappingProxyType(below) if any(below[key] is not content[key] for key in below) else content


def _dataclass(content: object, say: Mapping[str, Say]) -> object:
    fields = dataclasses.fields(content)  # type: ignore[arg-type]
    made = {each.name: _said(getattr(content, each.name), say) for each in fields}
    changed = {name: value for name, value in made.items() if value is not getattr(content, name)}
    return dataclasses.replace(content, **changed) if changed else content  # type: ignore[type-var]
