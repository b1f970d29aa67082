"""A site's own file is judged line by line, and what can be used is what the ledger would give again."""

from __future__ import annotations

import pkgutil
from datetime import UTC, datetime
from importlib import import_module
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from trainer import curriculum, words
from trainer.core.records import Json
from trainer.curriculum import checks, read_site, site_from
from trainer.curriculum.nodes import plain
from trainer.curriculum.site_text import SITE_CHECKS
from trainer.curriculum.yaml_reader import read
from trainer.errors import BadContent
from trainer.export import siteyaml

ROOT = Path(curriculum.__file__).resolve().parents[2]
CONTENT = curriculum.load(ROOT, ROOT)
TEMPLATE = (ROOT / "content" / "site.yaml").read_bytes()
WORDS = words.load(ROOT, ROOT)
NOW = datetime(2026, 3, 2, 18, 0, tzinfo=UTC)


def said(text: bytes) -> list[str]:
    """The problems of a file that cannot be used."""
    with pytest.raises(BadContent) as caught:
        read_site(CONTENT, text, "mine.yaml")
    return [str(each) for each in caught.value.problems]


def written(data: dict[str, Json], language: str = "en") -> bytes:
    return siteyaml.render(data, WORDS[language], NOW, site="rig-7", number=12)


def test_the_template_can_be_used_as_it_stands() -> None:
    found = read_site(CONTENT, TEMPLATE, "mine.yaml")
    assert found.data == CONTENT.site_data
    assert found.catalogue.site == site_from(found.data) == CONTENT.site
    assert found.remarks == ()


@pytest.mark.parametrize("language", ["en", "es"])
def test_what_is_saved_is_read_again_as_the_same_figures(language: str) -> None:
    data = dict(sorted(CONTENT.site_data.items()))
    text = written(data, language)
    assert text.startswith(b"# ")
    assert b"rig-7" in text.splitlines()[0]
    assert read_site(CONTENT, text, "mine.yaml").data == data
    # In the order in which the template has them, and not by the alphabet.
    assert list(yaml.safe_load(text))[:3] == ["positions", "crews", "outside_good_for"]


@pytest.mark.parametrize("language", ["en", "es"])
def test_every_part_of_what_is_saved_says_what_it_is_for(language: str) -> None:
    data = {**CONTENT.site_data, "procedures": {"dies": {"number": "OP-7"}}, "glossary": {"es": {}}}
    lines = written(data, language).decode().splitlines()
    parts = [number for number, line in enumerate(lines) if line[:1].isalpha()]
    assert len(parts) == len(data)
    assert all(lines[number - 1].startswith("# ") for number in parts), [lines[number] for number in parts]


TEXTS = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Zl", "Zp")), max_size=30)
LEAVES = st.none() | st.booleans() | st.integers(-(10**14), 10**14) | TEXTS
DATA = st.recursive(
    LEAVES,
    lambda below: st.lists(below, max_size=3) | st.dictionaries(TEXTS.filter(bool), below, max_size=3),
    max_leaves=12,
)


@given(data=DATA)
def test_whatever_a_record_holds_is_written_so_that_it_is_read_again(data: Json) -> None:
    node, problems = read(written({"rig": data}), "mine.yaml")
    assert problems == []
    assert node is not None
    assert plain(node) == {"rig": data}


def test_every_problem_is_told_with_its_line_in_that_file() -> None:
    text = TEMPLATE.replace(b"on: 14, off: 14", b"on: 1, off: 14", 1).replace(b"  coordinator:", b"  office:")
    text = text.replace(b"role: coordinator", b"role: driller").replace(b"grade: G-105", b"grade: G-999")
    lines = text.decode().splitlines()
    found = said(text)
    for what, part in (("at least 2", "on: 1,"), ("G-999", "G-999")):
        number = next(n for n, line in enumerate(lines, 1) if part in line)
        assert any(each.startswith(f"mine.yaml:{number}: ") and what in each for each in found), found


@pytest.mark.parametrize(
    ("old", "new", "line_has", "what"),
    [
        (b"role: coordinator", b"role: driller", "positions:", "no position with role coordinator"),
        (b"languages: [en, es]", b"languages: []", "languages: []", "no language"),
        (b"06:00-18:00", b"6 to 6", "6 to 6", "is no tour"),
        (b'  watch_connections: "10"', b"  paper: A9", "paper: A9", "no sheet is laid out"),
        (b"nominal: 19.50 lb/ft", b"nominal: 11 lb/ft", "nominal: 11", "no pipe of this size"),
        (b"start: 2026-01-05", b"start: soon", "start: soon", "expected a date"),
    ],
)
def test_what_would_leave_screens_without_sense_is_refused(old: bytes, new: bytes, line_has: str, what: str) -> None:
    text = TEMPLATE.replace(old, new)
    number = next(n for n, line in enumerate(text.decode().splitlines(), 1) if line_has in line)
    assert any(each.startswith(f"mine.yaml:{number}: ") and what in each for each in said(text)), said(text)


@pytest.mark.parametrize("text", [b"", b"- a", b"a: [", b"\xff\xfe", b"positions: *x\n", b"x: " + b"1" * 1_000_001])
def test_what_is_no_site_file_is_refused_whole(text: bytes) -> None:
    assert said(text)


def test_a_remark_stops_nothing() -> None:
    text = TEMPLATE.replace(b"complete: [en, es]", b"complete: [en, pt]")
    [remark] = read_site(CONTENT, text, "mine.yaml").remarks
    assert remark.is_warning
    assert remark.file == "mine.yaml"


def test_every_check_that_speaks_of_the_site_file_is_asked() -> None:
    asked = {check.__module__ for check in SITE_CHECKS}
    modules = [import_module(f"{checks.__name__}.{each.name}") for each in pkgutil.iter_modules(checks.__path__)]
    speak = {module.__name__ for module in modules if hasattr(module, "SITE")}
    assert speak == asked
