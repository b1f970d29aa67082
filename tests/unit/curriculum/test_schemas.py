"""The schemas that editors read: as the types are, fitting all of the content, marking what ``check`` refuses."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from trainer.core.records import Json
from trainer.curriculum.nodes import plain
from trainer.curriculum.overlays import overlay_language
from trainer.curriculum.schemas import FOLDER, schemas, text
from trainer.curriculum.yaml_reader import read

APP = Path(__file__).parents[3]
WRITTEN = (
    ("lesson.json", "content/lessons/*.yaml"),
    ("quiz.json", "quizzes/*.yaml"),
    ("checklist.json", "content/checklists/*.yaml"),
    ("competencies.json", "content/competencies.yaml"),
    ("site.json", "content/site.yaml"),
    ("pictures.json", "content/pictures.yaml"),
    ("terms.json", "content/terms.yaml"),
)


def data_of(written: bytes) -> Json:
    node, problems = read(written, "file.yaml")
    assert node is not None, problems
    return plain(node)


def files() -> Iterator[tuple[str, Path]]:
    for schema, pattern in WRITTEN:
        for file in sorted(APP.glob(pattern)):
            if overlay_language(file) is None:
                yield schema, file


@pytest.mark.parametrize("name", sorted(schemas()))
def test_the_schema_in_the_folder_is_the_one_that_the_types_give(name: str) -> None:
    made = text(schemas()[name])
    Draft202012Validator.check_schema(json.loads(made))
    assert (APP / FOLDER / name).read_text("utf-8") == made, "write them anew: python3 -m trainer check --schemas"


def test_no_schema_lies_about_that_no_type_gives() -> None:
    assert {each.name for each in (APP / FOLDER).iterdir()} == set(schemas())


@pytest.mark.parametrize(("schema", "file"), [*files()], ids=lambda each: getattr(each, "stem", ""))
def test_every_file_of_the_content_fits_its_schema(schema: str, file: Path) -> None:
    found = Draft202012Validator(schemas()[schema]).iter_errors(data_of(file.read_bytes()))
    assert [(list(each.absolute_path), each.message) for each in found] == []


@pytest.mark.parametrize(("schema", "file"), [*files()], ids=lambda each: getattr(each, "stem", ""))
def test_every_file_of_the_content_names_its_schema_to_editors(schema: str, file: Path) -> None:
    first = file.read_text("utf-8").splitlines()[0]
    assert first.startswith("# yaml-language-server: $schema=")
    assert (file.parent / first.partition("=")[2]).resolve() == APP / FOLDER / schema


LESSON = """
id: grip
competency: hands
title: {en: Grip}
objective: {en: Grip well}
minutes: 5
scenes:
  - id: one
    title: {en: One}
    text: {en: The pipe is stopped.}
    task:
      kind: choose-one
      options:
        - {id: a, right: true, why: {en: Yes.}, text: {en: Wait}}
"""


def errors(written: str) -> list[str]:
    found = Draft202012Validator(schemas()["lesson.json"]).iter_errors(data_of(written.encode()))
    return [each.message for each in found]


def test_a_small_lesson_fits() -> None:
    assert errors(LESSON) == []


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("minutes: 5", "minuts: 5"),
        ("minutes: 5", "minutes: many"),
        ("minutes: 5", "minutes: 0"),
        ("title: {en: Grip}", "title: {es: Agarre}"),
        ("kind: choose-one", "kind: choose-two"),
        ("right: true", "right: yes please"),
        ("id: grip", "id: my grip"),
        ("objective: {en: Grip well}", "hash: abc"),
    ],
)
def test_what_check_refuses_is_marked_in_the_editor(right: str, wrong: str) -> None:
    assert errors(LESSON.replace(right, wrong, 1))
