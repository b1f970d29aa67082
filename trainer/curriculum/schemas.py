"""JSON Schemas (draft 2020-12) of the content files, made from the same types that the files are read into.

An editor that knows YAML picks them up by the first line of a file and then offers keys, marks what is misspelt and
shows what a key means. ``check`` stays the judge: a schema cannot know whether a scene is reachable.
"""

from __future__ import annotations

import dataclasses
import inspect
import json
import types
from collections.abc import Callable, Mapping
from datetime import date
from typing import Annotated, Any, Final, Union, get_args, get_origin

from trainer.core.banks import Bank
from trainer.core.catalogue import Competency, Site
from trainer.core.checklists import Checklist
from trainer.core.durations import Duration
from trainer.core.glossary import LanguageTerms
from trainer.core.lessons import Lesson
from trainer.core.records import Json
from trainer.core.units import EXAMPLES, Kind
from trainer.curriculum.pictures_text import PictureText
from trainer.curriculum.shaping import ID, LANGUAGE, hints_of, is_required, keys_of
from trainer.curriculum.spelling import CHOICES, IMPLIED, KINDS, LEAST

__all__ = ["FOLDER", "schemas", "text"]

FOLDER: Final = "content/schemas"
"""Where the schemas stand, relative to the root."""

Schema = dict[str, Json]

_DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
_SENTENCE: Final[Schema] = {
    "description": "A sentence by language, e.g. {en: Hands off., es: Manos fuera.}",
    "type": "object",
    "properties": {"en": {"type": "string", "minLength": 1}},
    "patternProperties": {f"^(?:{LANGUAGE.pattern})$": {"type": "string", "minLength": 1}},
    "required": ["en"],
    "additionalProperties": False,
}
# Dates, times and figures may stand unquoted, and an editor then reads them as something else than text.
_WRITTEN: Final[Schema] = {"type": ["string", "number"]}
_PLAIN: Final[Mapping[object, Schema]] = {
    str: _WRITTEN,
    bool: {"type": "boolean"},
    date: {"type": "string", "pattern": r"^\d{4}-\d\d-\d\d$", "description": "A day, e.g. 2026-01-05"},
    Duration: {
        "type": "string",
        "pattern": r"^P(?!$)(\d+Y)?(\d+M)?(\d+W)?(\d+D)?$",
        "description": "Whole years, months, weeks or days, e.g. P12M or P30D",
    },
}


def schemas() -> Mapping[str, Schema]:
    """Each schema by its file's name below ``FOLDER``: one for every family of files under content/ and quizzes/."""
    return {
        "lesson.json": _file("A lesson", Lesson, _Types.one),
        "quiz.json": _file("An item bank", Bank, _Types.one),
        "checklist.json": _file("An observation sheet", Checklist, _Types.one),
        "competencies.json": _file("Who must hold what", Competency, _Types.listed),
        "site.json": _file("The site's own figures", Site, _Types.one),
        "terms.json": _file("Trade words that a site may replace", LanguageTerms, _Types.named),
        "pictures.json": _file("Titles and part names of the drawings", PictureText, _Types.named),
    }


def text(schema: Schema) -> str:
    """``schema`` as its file holds it."""
    return json.dumps(schema, indent=1, ensure_ascii=False, sort_keys=False) + "\n"


def _file(title: str, cls: type, form: Callable[[_Types, type], Schema]) -> Schema:
    collected = _Types()
    whole = form(collected, cls)
    return {"$schema": _DIALECT, "title": title, **whole, "$defs": dict(sorted(collected.defs.items()))}


@dataclasses.dataclass(slots=True)
class _Types:
    """The definitions that one schema needs, collected while its types are walked."""

    defs: dict[str, Json] = dataclasses.field(default_factory=dict)

    def one(self, cls: type) -> Schema:
        return self._dataclass(cls, frozenset())

    def listed(self, cls: type) -> Schema:
        return {"type": "array", "items": self._dataclass(cls, frozenset())}

    def named(self, cls: type) -> Schema:
        return {"type": "object", "additionalProperties": self._dataclass(cls, frozenset())}

    def _dataclass(self, cls: type, implied: frozenset[str]) -> Schema:
        """A reference to the type's definition, made on first use; ``implied`` fields need not be written."""
        name = cls.__name__ + ("Step" if implied else "")
        if name not in self.defs:
            self.defs[name] = {}
            self.defs[name] = self._object(cls, implied)
        return {"$ref": f"#/$defs/{name}"}

    def _object(self, cls: type, implied: frozenset[str]) -> Schema:
        keys = keys_of(cls)
        required: list[Json] = [key for key, each in keys.items() if is_required(each) and each.name not in implied]
        properties: dict[str, Json] = {key: self._field(cls, each) for key, each in keys.items()}
        return {
            "description": inspect.cleandoc(cls.__doc__ or "").replace("``", ""),
            "type": "object",
            "properties": properties,
            "required": required,
            "additionalProperties": False,
        }

    def _field(self, cls: type, field: dataclasses.Field[Any]) -> Schema:
        """One field, with the rules that hold for it only."""
        hint = hints_of(cls)[field.name]
        chosen = next((words for owner, name, words in CHOICES if (owner, name) == (cls, field.name)), None)
        if chosen:
            # Unquoted, a number is one of the words too.
            return {"enum": [*chosen, *(int(each) for each in chosen if each.isdigit())]}
        if field.name == "id" and hint is str:
            return {"type": ["string", "integer"], "pattern": f"^(?:{ID.pattern})$"}
        if hint is int:
            least = next((least for owner, name, least in LEAST if (owner, name) == (cls, field.name)), 0)
            return {"type": "integer", "minimum": least}
        implied = frozenset(key for owner, name, key, _ in IMPLIED if (owner, name) == (cls, field.name))
        found = self._value(hint, implied)
        return found if is_required(field) else {"anyOf": [found, {"type": "null"}]}

    def _value(self, hint: object, implied: frozenset[str] = frozenset()) -> Schema:
        """What may be written where ``hint`` (an annotation of the core) stands."""
        origin, args = get_origin(hint), get_args(hint)
        if origin in (Union, types.UnionType):
            return self._either(args)
        if origin is Annotated and isinstance(args[1], Kind):
            return {**_WRITTEN, "description": f"A {args[1]}, e.g. {EXAMPLES[args[1]]}"}
        if origin is Annotated:
            self.defs["Sentence"] = dict(_SENTENCE)
            return {"$ref": "#/$defs/Sentence"}
        if origin is tuple:
            return self._tuple(args, implied)
        if origin is not None:
            return {"type": "object", "additionalProperties": self._value(args[1])}
        if isinstance(hint, type) and dataclasses.is_dataclass(hint) and hint is not Duration:
            return self._dataclass(hint, implied)
        return {"type": "integer", "minimum": 0} if hint is int else dict(_PLAIN[hint])

    def _tuple(self, args: tuple[Any, ...], implied: frozenset[str]) -> Schema:
        if args[-1] is not Ellipsis:
            places: list[Json] = [self._value(each) for each in args]
            return {"type": "array", "prefixItems": places, "minItems": len(args), "maxItems": len(args)}
        if get_origin(args[0]) is tuple and get_args(args[0])[-1] is not Ellipsis:
            return {"type": "object", "additionalProperties": self._value(get_args(args[0])[1])}
        return {"type": "array", "items": self._value(args[0], implied)}

    def _either(self, args: tuple[object, ...]) -> Schema:
        """A task by its kind, or something that may be absent."""
        kinds = [each for each in args if each is not types.NoneType]
        if len(kinds) == 1:
            return self._value(kinds[0])
        return {"oneOf": [self._task(name, cls) for name, cls in KINDS]}

    def _task(self, kind: str, cls: type) -> Schema:
        if cls.__name__ not in self.defs:
            self.defs[cls.__name__] = {}
            whole = self._object(cls, frozenset())
            properties, required = whole["properties"], whole["required"]
            assert isinstance(properties, dict)
            assert isinstance(required, list)
            tagged: dict[str, Json] = {"kind": {"const": kind}, **properties}
            self.defs[cls.__name__] = {**whole, "properties": tagged, "required": ["kind", *required]}
        return {"$ref": f"#/$defs/{cls.__name__}"}
