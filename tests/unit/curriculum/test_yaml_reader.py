"""The YAML reader: what was written is what is read, and nothing it is given breaks it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.core.records import Json
from trainer.curriculum.nodes import Fields, Node, from_plain, locate, plain, spelled
from trainer.curriculum.yaml_reader import DEEPEST, LARGEST, read


def data_of(text: str) -> Json:
    node, problems = read(text.encode(), "f.yaml")
    assert problems == []
    assert node is not None
    return plain(node)


def problems_of(data: bytes | str) -> list[str]:
    node, problems = read(data.encode() if isinstance(data, str) else data, "f.yaml")
    assert (node is None) == bool(problems)
    return [str(each) for each in problems]


@pytest.mark.parametrize(
    "written",
    (
        "NO no on off yes Yes y True TRUE False ~ Null 12:30 1.10 010 0x1F 0o17 1_000 1e3 +5 .5 5. .inf -0.50 "
        "2026-01-05"
    ).split(),
)
def test_what_is_neither_true_false_null_nor_a_whole_number_stays_as_written(written: str) -> None:
    assert data_of(f"a: {written}") == {"a": written}


@pytest.mark.parametrize(
    ("written", "value"),
    [("true", True), ("false", False), ("null", None), ("", None), ("0", 0), ("14", 14), ("-3", -3), ('"14"', "14")],
)
def test_true_false_null_and_whole_numbers_are_read(written: str, value: Json) -> None:
    assert data_of(f"a: {written}") == {"a": value}


def test_a_number_that_the_ledger_could_not_hold_exactly_stays_text() -> None:
    assert data_of("a: 1234567890123456") == {"a": "1234567890123456"}


@pytest.mark.parametrize("key", ["no", "on", "off", "12:30", "1.10", "010", "null", "true"])
def test_keys_stay_as_written(key: str) -> None:
    assert data_of(f"{key}: x") == {key: "x"}


def test_a_byte_order_mark_is_not_part_of_the_first_key() -> None:
    node, problems = read("\ufeffa: ñ".encode(), "f.yaml")
    assert problems == []
    assert isinstance(node, Fields)
    assert plain(node) == {"a": "ñ"}


def test_every_duplicate_key_is_told_with_its_line_and_place() -> None:
    assert problems_of("a: 1\nb:\n  - {c: 1, c: 2}\na: 3\n") == [
        'f.yaml:3: b[1].c: "c" stands here twice, first in line 3 - keep one of the two',
        'f.yaml:4: a: "a" stands here twice, first in line 1 - keep one of the two',
    ]


def test_text_that_is_not_utf_8_is_refused_with_its_line() -> None:
    assert problems_of(b"a: 1\nb: \xf1") == ["f.yaml:2: file: not UTF-8 text - save the file as UTF-8"]


def test_more_than_a_megabyte_is_refused() -> None:
    assert problems_of(b"#" * LARGEST) == ["f.yaml:1: file: nothing is written here - fill the file or remove it"]
    assert problems_of(b"#" * (LARGEST + 1)) == ["f.yaml:1: file: larger than 1 MB - split it into smaller files"]


def test_fifty_levels_are_read_and_one_more_is_refused() -> None:
    assert data_of("[" * DEEPEST + "]" * DEEPEST) is not None
    (problem,) = problems_of("[" * (DEEPEST + 1) + "]" * (DEEPEST + 1))
    assert problem.endswith("nested deeper than 50 levels - make it flatter")


def test_a_hundred_thousand_levels_are_refused_without_harm() -> None:
    assert len(problems_of("[" * 100_000)) == 1
    assert len(problems_of("{a: " * 100_000)) == 1


@pytest.mark.parametrize("text", ["? [a]\n: b", '"": b', "? {a: 1}\n: b"])
def test_a_key_that_is_not_a_word_is_refused(text: str) -> None:
    assert problems_of(text)[-1].endswith("a key that is not a word - write one word or name before the colon")


@pytest.mark.parametrize("text", ["- a\nb: c", "%YAML 9.9\n--- a", "? a\n? b: c: d"])
def test_what_cannot_be_read_is_one_problem_in_plain_words(text: str) -> None:
    (problem,) = problems_of(text)
    assert not any(word in problem for word in ("YAML", "token", "mapping", "scalar", "indicator"))


@pytest.mark.parametrize("escape", ["\\0", "\\e[2J", "\\r", "\\x9f", "\\L"])
def test_a_control_character_is_refused(escape: str) -> None:
    assert problems_of(f'a: "{escape}"') == ["f.yaml:1: a: a control character in the text - take it out"]


def test_a_problem_is_one_line_even_where_a_key_has_several() -> None:
    (problem,) = problems_of('"a\\nb": &x c')
    assert problem.startswith("f.yaml:1: a b: anchors")


def test_the_line_of_each_thing_can_be_found_again() -> None:
    node, _ = read(b"steps:\n  - id: a\n    minutes:\n      5\n  - minutes: 6\n", "f.yaml")
    assert node is not None
    assert (locate(node, ("steps", "a", "minutes")), spelled(node, ("steps", "a", "minutes"))) == (
        3,
        "steps[a].minutes",
    )
    assert (locate(node, ("steps", 2, "minutes")), spelled(node, ("steps", 2, "minutes"))) == (5, "steps[2].minutes")
    assert locate(node, ("steps", "a", "nothing", "there")) == 2


YAML_LIKE = st.text(alphabet="abnxu01-:?{}[]&*!|>'\"\\#%@,. \n\t~<", max_size=60)


@given(st.one_of(YAML_LIKE, st.text(max_size=80)))
def test_no_text_breaks_the_reader(text: str) -> None:
    node, problems = read(text.encode("utf-8", "surrogatepass"), "f.yaml")
    assert (node is None) == bool(problems)
    assert all(each.line >= 1 and "\n" not in str(each) for each in problems)


@given(st.binary(max_size=80))
def test_no_bytes_break_the_reader(data: bytes) -> None:
    node, problems = read(data, "f.yaml")
    assert (node is None) == bool(problems)


PLAIN = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**14), 10**14) | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(min_size=1, max_size=4), inner, max_size=3),
    max_leaves=8,
)


@given(PLAIN)
def test_nodes_made_of_plain_data_give_it_back(data: Json) -> None:
    node: Node = from_plain(data)
    assert plain(node) == data
