"""A file that cannot be read: the line where the slip is, what it is and what to do, in words for no programmer."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from trainer.curriculum import yaml_mistakes
from trainer.curriculum.yaml_reader import read

LESSON = """\
id: ice
scenes:
  - id: path
    title: {en: Ice, es: Hielo}
    text: {en: It froze last night., es: Anoche heló.}
    ask: {en: What comes first?, es: ¿Qué va primero?}
    task:
      kind: choose-one
      options:
        - id: sand
          right: true
          why: {en: "Sand, and it holds.", es: Agarra.}
        - id: slow
          right: false
          why: {en: Slow does not help., es: No ayuda.}
  - id: case
    text:
      en: "He calls it out. The driller waits."
      es: "Avisa. El perforador espera."
"""


@dataclass(frozen=True, slots=True)
class Slip:
    """What is written in place of what, and what is then said after the file's name."""

    right: str
    wrong: str
    says: str


QUOTE = 'a quote is opened and not closed - write " at both ends of the sentence'
COLON = "a colon inside a sentence - put the sentence in quotes, because of its colon"
CURLY = 'curly quotes do not hold a sentence together - type straight ones: "'
TAB = "a tab at the beginning of the line - put spaces instead, two for each step in"


def aside(blanks: str, side: str, other: str) -> str:
    """What is said of a line that begins ``blanks`` too far to one side."""
    return (
        f"this line begins {blanks} too far to the {side}, so it does not line up with those round it - "
        f"move it {blanks} to the {other}"
    )


SLIPS: dict[str, Slip] = {
    "no colon after a key": Slip(
        '      es: "Avisa. El perforador espera."',
        "      es Avisa",
        '19: file: a colon is missing after the first word - write "es: Avisa"',
    ),
    "no colon after a key with lines of its own": Slip(
        "    task:", "    task", '7: file: a colon is missing after the first word - write "task:"'
    ),
    "a tab": Slip("    text: {en: It", "\ttext: {en: It", f"5: file: {TAB}"),
    "a tab in a list": Slip("          right: true", "\t\tright: true", f"11: file: {TAB}"),
    "blanks of a word processor": Slip(
        "    ask:", "\u00a0\u00a0\u00a0\u00a0ask:",
        "6: file: a blank at the beginning of the line that is not an ordinary one - "
        "type the blanks anew with the space bar",
    ),
    "curly quotes round a colon": Slip("It froze last night.", "\u201cIt froze: ice.\u201d", f"5: file: {CURLY}"),
    "no blank after a dash": Slip(
        "        - id: slow", "        -id: slow", '13: file: a blank is missing after the dash - write "- id: slow"'
    ),
    "no blank after a colon": Slip(
        "kind: choose-one", "kind:choose-one",
        '8: file: a blank is missing after the colon - write "kind: choose-one"',
    ),
    "a number sign in braces": Slip(
        "It froze last night.", "Beam #2 froze.",
        "5: file: what stands after a # is not read - put the sentence in quotes, because of its #",
    ),
    "no closing quote in braces": Slip('and it holds."', "and it holds.", f"12: file: {QUOTE}"),
    "no closing quote": Slip('The driller waits."', "The driller waits.", f"18: file: {QUOTE}"),
    "no opening quote": Slip('"He calls it out. The', "He calls: ice. The", f"18: file: {QUOTE}"),
    "no closing brace": Slip(
        "va primero?}", "va primero?", "6: file: a { is opened and not closed - write } where it ends"
    ),
    "no closing bracket": Slip("id: ice", "id: [ice", "1: file: a [ is opened and not closed - write ] where it ends"),
    "a colon in braces": Slip("It froze last night.", "It froze: ice.", f"5: file: {COLON}"),
    "a colon without braces": Slip('"He calls it out. The driller waits."', "He calls it: ice.", f"18: file: {COLON}"),
    "two things in braces": Slip(
        "{en: Slow does", '{en: "Slow" does',
        "15: file: what stands in { } or [ ] cannot be told apart - look at its commas and quotes: a comma between "
        "its parts, a sentence with a sign in quotes",
    ),
    "a sign that begins a sentence": Slip(
        '"He calls it out. The driller waits."', "@ the table he stops.",
        "18: file: a sentence begins with @ - put it in quotes",
    ),
    "one blank too many": Slip("    ask:", "     ask:", f"6: file: {aside('1 blank', 'right', 'left')}"),
    "one blank too few": Slip("    ask:", "   ask:", f"6: file: {aside('1 blank', 'left', 'right')}"),
    "an option that stands askew": Slip(
        "          right: false", "         right: false", f"14: file: {aside('1 blank', 'left', 'right')}"
    ),
    "a kind beside its task": Slip(
        "      kind:", "    kind:", f"8: file: {aside('2 blanks', 'left', 'right')}"
    ),
    "a scene at the wrong level": Slip("  - id: path", "- id: path", f"3: file: {aside('2 blanks', 'left', 'right')}"),
    "an entry too far in": Slip("  - id: case", "   - id: case", f"16: file: {aside('1 blank', 'right', 'left')}"),
    "a dash that is missing": Slip(
        "        - id: slow", "          id: slow",
        '13: scenes[1].task.options[1].id: "id" stands here twice, first in line 10 - is a - missing before this "id"?',
    ),
    "a key that stands twice": Slip(
        "    ask:", "    title:", '6: scenes[1].title: "title" stands here twice, first in line 4 - keep one of the two'
    ),
    "a sign that nobody can see": Slip(
        "It froze", "It\x07 froze", "5: file: a character that cannot be shown - type that line anew"
    ),
}  # fmt: skip


def lines(text: str) -> list[str]:
    return [str(each) for each in read(text.encode(), "ice.yaml")[1]]


def test_the_lesson_itself_can_be_read() -> None:
    assert lines(LESSON) == []


@pytest.mark.parametrize("name", SLIPS)
def test_a_slip_is_told_where_it_is_and_in_plain_words(name: str) -> None:
    slip = SLIPS[name]
    assert LESSON.count(slip.right) >= 1
    assert lines(LESSON.replace(slip.right, slip.wrong, 1)) == [f"ice.yaml:{slip.says}"]


def test_what_no_case_knows_sends_to_this_line_and_the_one_above() -> None:
    (said,) = lines("? a\n? b: c: d\n")
    assert said == (
        "ice.yaml:2: file: the file cannot be read from here on - look at this line and the one above: "
        "blanks at the beginning, colons, quotes, braces"
    )


@pytest.mark.parametrize("case", yaml_mistakes.CASES, ids=[each.__name__ for each in yaml_mistakes.CASES])
def test_no_case_of_the_table_is_idle(case: yaml_mistakes.Case, monkeypatch: pytest.MonkeyPatch) -> None:
    every = {name: lines(LESSON.replace(slip.right, slip.wrong, 1)) for name, slip in SLIPS.items()}
    rest = tuple(each for each in yaml_mistakes.CASES if each is not case)
    monkeypatch.setattr(yaml_mistakes, "CASES", rest)
    assert every != {name: lines(LESSON.replace(slip.right, slip.wrong, 1)) for name, slip in SLIPS.items()}
