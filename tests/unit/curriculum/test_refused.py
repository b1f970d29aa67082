"""What ``check`` refuses, one broken file each: told with file, line and what to do, and only by the check named here.

Every case is run once as it is and once with its check taken away: then nothing is said, so each test would fail
without the check that it is about.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.unit.curriculum.mini import GOOD, copied, lines_of, loaded_from
from trainer import found
from trainer.curriculum import loading
from trainer.curriculum.checks import banks, fairness, lessons, pictures, plain_words, telling, translations
from trainer.curriculum.checks.family import Check

LESSON, BANK, DRAWING = "content/lessons/grip.yaml", "quizzes/grip.yaml", "assets/pictures/bar.svg"

LONG = (
    "You take the bar with both hands from above and you keep your feet off the bushing and you wait there until "
    "the driller has seen you and has heard what you call."
)
HARD = (
    "Personnel shall maintain adequate clearance from the rotary area during operations. Verification of equipment "
    "condition is required prior to commencement of activities. Any deviation shall be communicated to supervision. "
    "Resumption of work without permission is not allowed for anybody on the floor."
)
HARD_ES = (
    "El personal debe mantener una distancia adecuada durante la operación. La verificación del equipamiento es un "
    "requisito previo al inicio de las actividades. Toda desviación debe ser comunicada oportunamente a la supervisión."
)


def replaced(file: str, *changes: tuple[str, str]) -> Callable[[], str]:
    """The good file with each of these put for the other, once."""

    def made() -> str:
        text = (GOOD / file).read_text("utf-8")
        for old, new in changes:
            assert old in text
            text = text.replace(old, new, 1)
        return text

    return made


def choices(*, longest: str = "") -> str:
    """The good bank with nine questions to choose one of four; the right one is the second, in one question the first.

    Each option called ``longest`` is made so in Spanish.
    """
    text = (GOOD / BANK).read_text("utf-8")
    text = text.replace("kind: put-in-order", "kind: choose-one").replace("steps:", "options:")
    text = re.sub(r"id: (s\d), text", lambda m: f"id: {m[1]}, right: {str(m[1] == 's2').lower()}, text", text)
    text = text.replace("s2, right: true", "s2, right: false", 1).replace("s1, right: false", "s1, right: true", 1)
    return re.sub(rf"(id: {longest or '-'}, .*?es: )", r"\1con todo y como regla ", text)


@dataclass(frozen=True, slots=True)
class Case:
    """A broken file, the line that it must give, and the check that gives it (``None``: the drawings' own)."""

    file: str
    text: Callable[[], str]
    says: str
    check: Check | None


CASES: dict[str, Case] = {
    "a guesser gets through": Case(
        BANK,
        replaced(BANK, ("cut: 7", "cut: 1")),
        "quizzes/grip.yaml:5: blueprint: a blind guesser passes with 0.0417, more than 0.001 - "
        "use kinds that are harder to guess, or raise the cut",
        fairness.unfair,
    ),
    "who knows half gets through": Case(
        BANK,
        replaced(BANK, ("cut: 7", "cut: 4")),
        "quizzes/grip.yaml:5: blueprint: someone who knows half passes with 0.420, more than 0.05 - "
        "use kinds that are harder to guess, or raise the cut",
        fairness.unfair,
    ),
    "a competent hand is kept out": Case(
        BANK,
        replaced(BANK, ("cut: 7", "cut: 8")),
        "quizzes/grip.yaml:5: blueprint: a competent hand passes with 0.691, less than 0.9 - "
        "lower the cut, or have fewer must-knows",
        fairness.unfair,
    ),
    "a cut that is both too low and too high": Case(
        BANK,
        lambda: choices().replace(
            "items: 8, cut: 7, topics: {hold: 4, timing: 3}", "items: 4, cut: 4, topics: {hold: 2, timing: 1}"
        ),
        "quizzes/grip.yaml:5: blueprint: a competent hand passes with 0.849, less than 0.9 - "
        "write a longer form, with kinds that are harder to guess",
        fairness.unfair,
    ),
    "an objective that no item tests": Case(
        BANK,
        replaced(BANK, ("objectives:\n", "objectives:\n  - {id: lost, topic: hold, title: {en: Lost, es: Perdido}}\n")),
        "quizzes/grip.yaml:7: objectives[lost]: 0 items test this - write at least 1",
        banks.blueprints,
    ),
    "a must-know with two variants": Case(
        BANK,
        replaced(BANK, ("objective: never", "objective: holds")),
        "quizzes/grip.yaml:7: objectives[never]: 2 items test this - write at least 3",
        banks.blueprints,
    ),
    "an objective without a second item": Case(
        BANK,
        replaced(
            BANK,
            ("objectives:\n", "objectives:\n  - {id: lone, topic: hold, title: {en: Lone, es: Solo}}\n"),
            ("id: g-1\n    objective: holds", "id: g-1\n    objective: lone"),
        ),
        "quizzes/grip.yaml:7: objectives[lone]: only one item tests this - "
        "write a second one: another situation, another answer",
        banks.single_items,
    ),
    "a key that is nearly always the longest": Case(
        BANK,
        lambda: choices(longest="s2"),
        "quizzes/grip.yaml:10: items: the right option is the longest in 9 of 10 items (es) - "
        "shorten it, or make the wrong ones as full",
        telling.telling_keys,
    ),
    "a key that nearly always stands in one place": Case(
        BANK,
        choices,
        "quizzes/grip.yaml:10: items: the right option is number 2 in 9 of 10 items - put it elsewhere in some",
        telling.telling_keys,
    ),
    "two items that ask the same": Case(
        BANK,
        replaced(
            BANK,
            ("A stop is called", "Cleaning dies"),
            ("everyone halts", "hole covered"),
            ("caller speaks", "slips moved"),
            ("driller answers", "brush used"),
            ("work restarts", "count checked"),
        ),
        'quizzes/grip.yaml:68: items[g-3]: asks nearly the same as "g-2" - '
        "make it another situation, or take one of the two out",
        fairness.near_duplicates,
    ),
    "a scene that nothing leads to": Case(
        LESSON,
        replaced(LESSON, ("go: where, ", "go: recall-1, ")),
        "content/lessons/grip.yaml:27: scenes[where]: nothing leads to this scene - "
        "lead to it with next or go, or take it out",
        lessons.flow,
    ),
    "a dead end": Case(
        LESSON,
        replaced(LESSON, ("    next: recall-1", "    next: where")),
        "content/lessons/grip.yaml:22: scenes[worked]: only leads in a circle to where - lead on to the end",
        lessons.flow,
    ),
    "a part that the words for the drawing lack": Case(
        LESSON,
        replaced(LESSON, ("{part: right, right", "{part: rihgt, right")),
        'content/lessons/grip.yaml:36: scenes[where].task.spots[rihgt]: bar has no part "rihgt" - '
        'did you mean "right"?',
        pictures.unknown_pictures,
    ),
    "a part that the drawing itself lacks": Case(
        DRAWING,
        replaced(DRAWING, ('id="middle"', 'id="centre"')),
        'content/pictures.yaml:7: bar.parts.middle: the drawing has no part "middle" - '
        'give a group of assets/pictures/bar.svg id="middle", or take the name out',
        None,
    ),
    "a script in a drawing": Case(
        DRAWING,
        replaced(DRAWING, ('\n  <g id="right"', '\n  <script>alert(1)</script>\n  <g id="right"')),
        "assets/pictures/bar.svg:4: drawing: <script> is not allowed - take it out: nothing runs in a drawing",
        None,
    ),
    "something to run in a drawing": Case(
        DRAWING,
        replaced(DRAWING, ('<g id="right"', '<g id="right" onclick="alert(1)"')),
        "assets/pictures/bar.svg:4: drawing: attribute onclick on <g> is not allowed - "
        "take it out: nothing runs in a drawing",
        None,
    ),
    "a link in a drawing": Case(
        DRAWING,
        replaced(DRAWING, ('\n  <g id="right"', '\n  <a href="https://example.org/"/>\n  <g id="right"')),
        "assets/pictures/bar.svg:4: drawing: <a> is not allowed - take it out: a drawing holds no links",
        None,
    ),
    "a picture from elsewhere in a drawing": Case(
        DRAWING,
        replaced(DRAWING, ('<rect x="60"', '<use href="https://example.org/a.svg#b"/><rect x="60"')),
        "assets/pictures/bar.svg:4: drawing: href='https://example.org/a.svg#b' on <use> is not allowed - "
        'write href="#NAME", where NAME is the id of a shape in this file',
        None,
    ),
    "a missing translation": Case(
        LESSON,
        replaced(LESSON, ("title: {en: Grip, es: Agarre}", "title: {en: Grip}")),
        "content/lessons/grip.yaml:4: title: not in es, which site.yaml calls complete - add es: ...",
        translations.untranslated,
    ),
    "an item whose scene is not there": Case(
        BANK,
        replaced(BANK, ("scene: first", "scene: fist")),
        'quizzes/grip.yaml:13: items[np-1].scene: grip has no scene "fist" - did you mean "first"?',
        banks.references,
    ),
    "a bank without its lesson": Case(
        BANK,
        replaced(BANK, ("lesson: grip\n", "")),
        'quizzes/grip.yaml:1: file: "lesson" is missing - add the lesson that teaches this',
        banks.references,
    ),
    "a sentence too long": Case(
        LESSON,
        replaced(LESSON, ("{en: The slips stand ready.", f"{{en: {LONG}")),
        'content/lessons/grip.yaml:9: scenes[first].text.en: 33 words in one sentence (en): "You take the bar with '
        'both hands from above ..." - write two sentences, one thing to see or do in each',
        plain_words.hard_to_read,
    ),
    "a scene that is hard to read": Case(
        LESSON,
        replaced(LESSON, ("{en: The slips stand ready.", f'{{en: "{HARD}"')),
        "content/lessons/grip.yaml:9: scenes[first].text.en: reads hard (en): plainness 17, at least 70 wanted, "
        'hardest here: "Any deviation shall be communicated to supervision." - write shorter '
        "sentences with one verb, and everyday words for: communicated, supervision, deviation",
        plain_words.hard_to_read,
    ),
    "an item that is hard to read in Spanish": Case(
        BANK,
        replaced(BANK, ('"Poner de día"', f'"{HARD_ES}"')),
        "quizzes/grip.yaml:14: items[np-1].text.es: reads hard (es): plainness 58, at least 65 wanted, "
        'hardest here: "Toda desviación debe ser comunicada oportunamente a la supervisión." - write shorter '
        "sentences with one verb, and everyday words for: oportunamente, comunicada, supervisión",
        plain_words.hard_to_read,
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_it_is_refused_with_file_line_and_what_to_do(name: str, tmp_path: Path) -> None:
    case = CASES[name]
    root = copied(tmp_path, {case.file: case.text()})

    assert case.says in lines_of(loaded_from(root))


@pytest.mark.parametrize("name", CASES)
def test_nothing_but_that_check_says_it(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    case = CASES[name]
    root = copied(tmp_path, {case.file: case.text()})
    if case.check is None:
        monkeypatch.setattr(found, "_drawings", lambda *_: ())
    else:
        assert case.check in loading.CHECKS
        monkeypatch.setattr(loading, "CHECKS", tuple(each for each in loading.CHECKS if each is not case.check))

    assert case.says not in lines_of(loaded_from(root))


def test_an_item_that_names_no_scene_is_refused(tmp_path: Path) -> None:
    text = replaced(BANK, ("    scene: first\n", ""))()
    lines = lines_of(loaded_from(copied(tmp_path, {BANK: text})))

    assert 'quizzes/grip.yaml:11: items[np-1]: "scene" is missing - add it, e.g. scene: ...' in lines
