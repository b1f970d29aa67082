"""Each check on content, by one small change to content that is good."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.curriculum.mini import GOOD, copied, lines_of, loaded_from

LESSON = "content/lessons/grip.yaml"
BANK = "quizzes/grip.yaml"
SITE = "content/site.yaml"


def says(tmp_path: Path, file: str, *changes: tuple[str, str]) -> list[str]:
    """The problems after replacing the first occurrence of each text, without the file's name."""
    text = (GOOD / file).read_text("utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return [each.replace(f"{file}:", "", 1) for each in lines_of(loaded_from(copied(tmp_path, {file: text})))]


LESSON_CASES = [
    ("competency: grip", "competency: grap", '2: competency: there is no competency "grap" - write one from content/competencies.yaml'),
    ("next: recall-1", "next: nowhere", '26: scenes[worked].next: there is no scene "nowhere" - write one of this lesson'),
    ("go: where", "go: nowhere", '21: scenes[first].task.options[open].go: there is no scene "nowhere" - write one of this lesson'),
    ("go: where, ", "go: recall-1, ", "22: scenes[worked]: nothing leads to this scene - lead to it with next or go, or take it out"),
    ("id: recall-2", "id: recall-1", "41: scenes[recall-1].id: 2 scenes are called this - give each its own id"),
    (
        "          right: false\n          text: {en: From below",
        "          right: false\n          go: where\n          text: {en: From below",
        "17: scenes[first].task.options[under].go: a wrong choice comes back to its own scene - leave go out, or tell it in then",
    ),
    ("right: true, go", "right: false, go", "13: scenes[first].task.options: 0 options are right - make exactly one of them right"),
    (
        "{en: Fingers open, es: Dedos abiertos}",
        "{en: From below., es: Dedos abiertos}",
        '21: scenes[first].task.options[open].text.en: reads the same as "under" - word one of the two differently',
    ),
    ("right: false, why: {en: No end.", "right: true, why: {en: No end.", "34: scenes[where].task.spots: nothing here is wrong - add at least one that is wrong"),
    ("{part: right, right", "{part: rihgt, right", '36: scenes[where].task.spots[rihgt]: bar has no part "rihgt" - did you mean "right"?'),
    ("{name: bar, hide", "{name: bra, hide", '11: scenes[first].picture.name: there is no picture "bra" - did you mean "bar"?'),
    ("hide: [middle]", "hide: [bolt]", '11: scenes[first].picture.hide: bar has no part "bolt" - write one of bar in content/pictures.yaml'),
    ("left: wrong", "left: red", '20: scenes[first].task.options[under].picture.marks.left: there is no mark "red" - write one of right, wrong, look'),
    ("{left: [a], right: [b]}", "{left: [a], right: [a]}", "53: scenes[recall-1].task.layouts[1]: does not place every token once - name each person as often as they have tokens"),
    ("{left: [a], right: [b]}", "{left: [a, b]}", "53: scenes[recall-1].task.layouts[1].left: 2 on one spot, at most 1 fit - move one"),
    ("whys: {middle:", "whys: {far:", '54: scenes[recall-1].task.whys.far: not among the spots - add it to spots or take it out'),
    ("        - {id: step, text: {en: Step back, es: Un paso atrás}, why: {en: Last., es: Al final.}}\n", "", "63: scenes[recall-2].task.steps: fewer than three steps - add steps, or ask it another way"),
    ("id: call, text", "id: call, right: false, text", "65: scenes[recall-2].task.steps[call].right: a wrong step in an order - leave the step out, or leave right out"),
    ("function: third", "function: fourth", '74: scenes[recall-3].task.function: there is no function "fourth" - write one of these: third, half'),
    ("absolute: 0.5", "absolute: 15", "79: scenes[recall-3].task.mistakes.half: passes as right, or gives no number, at weight 90 - make the tolerance smaller or narrow the parameters"),
    ("absolute: 0.5", "absolute: 0", "77: scenes[recall-3].task.absolute: no tolerance - make absolute or relative more than 0"),
    ("[90, 1.5, 4]", "[90, a bit, 4]", '75: scenes[recall-3].task.parameters.weight[2]: expected a number, got "a bit" - write e.g. 0.5'),
    ("[90, 1.5, 4]", "[90, 1.5]", "75: scenes[recall-3].task.parameters.weight: expected a list of 3, got a list - write e.g. [..., ..., 5]"),
    ("kind: work-out", "kind: workout", '73: scenes[recall-3].task.kind: expected one of choose-one, choose-all, put-in-order, point-at, place-crew, judge-drawing, work-out, got "workout" - did you mean "work-out"?'),
    ("      kind: work-out\n", "", '73: scenes[recall-3].task: "kind" is missing - add one of choose-one, choose-all, put-in-order, point-at, place-crew, judge-drawing, work-out'),
    (", es: Cuánto pesa uno?", ", es: Cuánto pesa uno?", ""),
]


@pytest.mark.parametrize(("old", "new", "line"), LESSON_CASES[:-1])
def test_a_lesson_check_tells_one_mistake(old: str, new: str, line: str, tmp_path: Path) -> None:
    assert line in says(tmp_path, LESSON, (old, new))
