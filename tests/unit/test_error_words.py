"""Every error that the code can raise has its sentence, and fills each place in it."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from trainer import errors, words

APP = Path(words.__file__).resolve().parent.parent
NOT_CODED = {"BadCell", "MechanicsRangeError", "Problem"}
TREE = {name for name in errors.__all__ if isinstance(getattr(errors, name), type)} - NOT_CODED
COMPLETE = ("en", "es")
LANGUAGES = {code: each for code, each in words.load(APP, APP).items() if code in COMPLETE}

Raised = tuple[str, frozenset[str]]


def calls() -> Iterator[ast.Call]:
    for path in sorted((APP / "trainer").rglob("*.py")):
        yield from (node for node in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(node, ast.Call))


def text(node: ast.expr) -> str:
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else ""


def given(call: ast.Call) -> frozenset[str]:
    return frozenset(keyword.arg for keyword in call.keywords if keyword.arg)


def errors_raised() -> set[Raised]:
    """Each ``Refused("code", value=...)`` and its like."""
    found = (call for call in calls() if isinstance(call.func, ast.Name) and call.func.id in TREE and call.args)
    return {(f"error.{text(call.args[0])}", given(call)) for call in found if text(call.args[0])}


def cells_refused() -> set[Raised]:
    """Each ``row.bad(column, "code", value=...)`` and ``BadCell(row, column, value, "code")``."""
    found: set[Raised] = set()
    for call in calls():
        if (
            isinstance(call.func, ast.Attribute)
            and call.func.attr == "bad"
            and ast.unparse(call.func.value).endswith("row")
        ):
            codes = [text(node) for node in ast.walk(call.args[1]) if isinstance(node, ast.expr) and text(node)]
            found |= {(f"import.{code}", given(call) | {"value"}) for code in codes}
        elif isinstance(call.func, ast.Name) and call.func.id == "BadCell" and len(call.args) == 4:
            found.add((f"import.{text(call.args[3])}", frozenset({"value"})))
    return found


@pytest.mark.parametrize("language", sorted(LANGUAGES))
@pytest.mark.parametrize("raised", [errors_raised(), cells_refused()], ids=["errors", "cells"])
def test_every_error_has_a_sentence_that_it_can_fill(raised: set[Raised], language: str) -> None:
    assert len(raised) > 20
    said = LANGUAGES[language]
    without = {key for key, _ in raised if not said.has(key)}
    assert without == set()
    unfilled = {(key, place) for key, values in raised for place in places(said.sentences.get(key, "")) - values}
    assert unfilled == set()


def places(sentence: str) -> set[str]:
    return set(re.findall(r"\{([a-z][a-z0-9_]*)\}", sentence))
