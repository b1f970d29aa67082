"""Sheets to tick are refused where they are ticked rightly without reading; keys where a word gives them away."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.unit.curriculum.mini import GOOD, copied, lines_of, loaded_from
from trainer.core.tasks import TickSteps
from trainer.curriculum.checks.telling import telling_keys, telling_words

BANK = "quizzes/grip.yaml"


def ticking(*states: str) -> str:
    """The good bank, its third item a sheet with a row for each of ``states``."""
    head, item, tail = (GOOD / BANK).read_text("utf-8").partition("  - id: np-3\n")
    task, rest = tail.split("    task:\n", 1)
    rows = "".join(
        f"        - {{id: r{n}, state: {state}, text: {{en: Row {n}, es: Línea {n}}}, why: {{en: So., es: Así.}}}}\n"
        for n, state in enumerate(states, 1)
    )
    after = rest[rest.index("  - id: g-1\n") :]
    told = "    situation: {en: He did it ten times., es: Lo hizo diez veces.}\n"
    return f"{head}{item}{task}{told}    task:\n      kind: tick-steps\n      rows:\n{rows}{after}"


def said_of(tmp_path: Path, text: str) -> list[str]:
    return [each.partition("items[np-3].task.")[2] for each in lines_of(loaded_from(copied(tmp_path, {BANK: text})))]


def test_a_sheet_with_rows_that_differ_is_good_and_becomes_its_core_type(tmp_path: Path) -> None:
    text = ticking("met", "not observed", "met after prompt")
    assert said_of(tmp_path, text) == []
    task = loaded_from(tmp_path / "root").banks["grip"].items[2].task
    assert isinstance(task, TickSteps)
    assert [row.state for row in task.rows] == ["met", "not observed", "met after prompt"]


@pytest.mark.parametrize(
    ("states", "says"),
    [
        (("met", "not met", "met"), "rows: the rows hardly differ - let 2 rows be two other states than met"),
        (("not met", "not met", "met"), "rows: the rows hardly differ - let 2 rows be two other states than met"),
        (("not met", "not observed", "not met"), "rows: no row is met - let one be met: something always goes well"),
        (("not met", "not observed"), "rows: fewer than 3 rows - add steps of the watch"),
        (
            ("met", "done", "not met"),
            'rows[r2].state: expected one of met, met after prompt, not met, not observed, not applicable, got "done"',
        ),
    ],
)
def test_a_sheet_that_needs_no_reading_is_refused(states: tuple[str, ...], says: str, tmp_path: Path) -> None:
    assert any(each.startswith(says) for each in said_of(tmp_path, ticking(*states)))


def choices(word: str = "", *, in_wrong: bool = False, alike: bool = False) -> str:
    """The good bank with ten choices of one, each right option with ``word`` in it; some wrong ones too if asked."""
    text = (GOOD / BANK).read_text("utf-8").replace("kind: put-in-order", "kind: choose-one")
    text = text.replace("steps:", "options:")
    right = iter([1, 2, 3, 4, 1, 2, 3, 4, 1, 2])
    at = 0

    def marked(found: re.Match[str]) -> str:
        nonlocal at
        number = int(found[1])
        at = next(right) if number == 1 else at
        is_right = number == at
        said = f"{word} " if is_right or (in_wrong and number == at % 4 + 1) else ""
        if alike:
            # One wrong option has the first word of the right one, another the second; the third has neither.
            said = ("fast slow ", "fast ", "slow ", "")[(number - at) % 4]
        return f"id: s{number}, right: {str(is_right).lower()}, text: {{en: {said}"

    return re.sub(r"id: s(\d), text: \{en: ", marked, text)


def test_a_word_that_only_right_options_use_is_told_with_its_count(tmp_path: Path) -> None:
    loaded = loaded_from(copied(tmp_path, {BANK: choices("halt", in_wrong=False)}))
    (told,) = telling_words(loaded)
    assert str(told) == (
        'quizzes/grip.yaml:10: items: where one option says "halt" it is right in 10 of 10 items (en) - '
        'let wrong options say "halt" too, or the right ones less'
    )


def test_a_word_that_wrong_options_use_as_well_tells_nothing(tmp_path: Path) -> None:
    assert telling_words(loaded_from(copied(tmp_path, {BANK: choices("halt", in_wrong=True)}))) == []


def test_a_right_option_that_shares_most_words_with_the_others_is_told(tmp_path: Path) -> None:
    loaded = loaded_from(copied(tmp_path / "alike", {BANK: choices(alike=True)}))
    # In two of the ten the options have other words in common already.
    assert (
        "quizzes/grip.yaml:10: items: the right option shares most words with the others in 8 of 10 items (en) - "
        "let two wrong options have words in common with each other instead"
    ) in [str(each) for each in telling_keys(loaded)]
    unlike = loaded_from(copied(tmp_path / "unlike", {BANK: choices()}))
    assert not [each for each in telling_keys(unlike) if "shares most words" in str(each)]
