"""Checks on sheets to read, on numbers to work out and on figures bound to the rig, over their whole grids."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.curriculum.mini import GOOD, copied, loaded_from
from trainer.cli.check import found_in
from trainer.core.marking import Functions
from trainer.curriculum import load

LESSON = "content/lessons/grip.yaml"
SITE = "content/site.yaml"
OLD = (GOOD / LESSON).read_text("utf-8")
TASK = OLD[OLD.index("      kind: work-out\n") : OLD.index("  - id: floor\n")]

SHEET = """      kind: read-sheet
      drawing: paper-test
      function: imprint-verdict
      options:
        - id: full
          text: {en: Full, es: Completa}
          why: {en: "Marks from top to bottom.", es: "Marcas de arriba abajo."}
          sheets: [{top: [0.95, 0.01, 6], middle: [0.95, 0.01, 6], bottom: [0.95, 0.01, 6]}]
        - id: top-only
          text: {en: Top only, es: Solo arriba}
          why: {en: "Hardly a mark below.", es: "Casi nada abajo."}
          sheets: [{top: [0.85, 0.03, 5], middle: [0.25, 0.05, 5], bottom: [0, 0.04, 4]}]
"""

RIG = """
rig:
  pipe: {od: 5 in, nominal: 19.50 lb/ft, grade: G-105}
  string: [{part: drill-pipe, length: 9000 ft}]
  slips: {set-a: {pipe_od: 5 in, mass: 180 lb, contact_length: 16 in, handle_radius: 12 in}}
  mud: 10 lb/gal
  block: 40 klb
  stick_up: 36 in
  tongs: {arm: 4.5 ft, torque: 22800 ft·lbf}
"""

FIGURES = """    figures:
      stop: {function: peak-of-stop, arguments: {speed: 0.5 m/s}}
"""


def share(mass: float, people: float) -> float:
    """A share."""
    return mass / people


def whole(mass: float, people: float) -> float:
    """The whole."""
    return mass


def wheres(root: Path, functions: Functions | None = None) -> list[tuple[str, str]]:
    """Where each problem of the lesson stands, and what it is."""
    found = found_in(loaded_from(root) if functions is None else load(root, root, functions))
    return [(each.where, each.what) for each in found if each.file == LESSON and not each.is_warning]


def with_sheet(folder: Path, *changes: tuple[str, str]) -> list[tuple[str, str]]:
    """What is wrong with the sheet after ``changes``, below its task."""
    task = SHEET
    for old, new in changes:
        assert old in task
        task = task.replace(old, new, 1)
    text = OLD.replace(TASK, task).replace(" {weight} kg", "")
    at = "scenes[recall-3].task."
    return [(where.removeprefix(at), what) for where, what in wheres(copied(folder, {LESSON: text}))]


def test_a_sheet_whose_every_grid_reads_as_its_option_is_good(tmp_path: Path) -> None:
    assert with_sheet(tmp_path) == []


@pytest.mark.parametrize(
    ("change", "where", "what"),
    [
        (("paper-test", "paper"), "drawing", 'there is no drawing "paper"'),
        (("imprint-verdict", "gap-limit"), "function", '"paper-test" is not read by "gap-limit"'),
        (("id: full", "id: complete"), "options[complete].id", '"complete" is no answer of imprint-verdict'),
        (("[{top: [0.95", "[{tip: [0.95"), "options[full].sheets[1].tip", 'there is no figure "tip" to choose'),
        (("[{top: [0.95", "[{grain: [0.95"), "options[full].sheets[1].grain", 'there is no figure "grain" to choose'),
        (("top: [0.95, 0.01, 6]", "top: [0.95, 0.01, 7]"), "options[full].sheets[1].top", "1.01 is out of range"),
        (
            ("[{top: [0.95", "[{segments: [3, 0.5, 2], top: [0.95"),
            "options[full].sheets[1].segments",
            "3.5 is not a whole number",
        ),
        (("top: [0.95, 0.01, 6]", "top: [0.95, 0.01, 0]"), "options[full].sheets[1].top", "no value to draw"),
        (("0.05, 5], bottom", "0.05, 900], bottom"), "options[top-only].sheets[1]", "18000 cases are too many to try"),
        (
            ("bottom: [0, 0.04, 4]", "bottom: [0, 0.045, 5]"),
            "options[top-only].sheets[1]",
            "too close to call at top 0.85, middle 0.25, bottom 0.18",
        ),
        (
            ("bottom: [0, 0.04, 4]", "bottom: [0, 0.06, 5]"),
            "options[top-only].sheets[1]",
            'reads "partial" at top 0.85, middle 0.25, bottom 0.24',
        ),
    ],
)
def test_what_is_wrong_with_a_sheet_is_told_where_it_stands(
    tmp_path: Path, change: tuple[str, str], where: str, what: str
) -> None:
    assert (where, what) in with_sheet(tmp_path, change)


def test_an_option_that_is_never_right_is_refused(tmp_path: Path) -> None:
    start = SHEET.index("[{top: [0.85")
    found = with_sheet(tmp_path, (SHEET[start:].rstrip("\n"), "[]"))
    assert found == [("options[top-only].sheets", "never the right one")]


def worked(folder: Path, text: str, task: str, mistake: str = "whole") -> list[tuple[str, str]]:
    """What is wrong with a number to work out that is asked as ``text``."""
    block = f"""      kind: work-out
      function: share
{task}
      unit: kg
      relative: 0
      mistakes: {{{mistake}: {{en: All of it., es: Todo.}}}}
      why: {{en: A share., es: Una parte.}}
"""
    made = OLD.replace(TASK, block)
    for language in ('en: "Three sets weigh {weight} kg."', 'es: "Tres juegos pesan {weight} kg."'):
        made = made.replace(language, f'{language[:2]}: "{text}"')
    return wheres(copied(folder, {LESSON: made}), {"share": share, "whole": whole, "other": lambda mass: mass})


GRID = "      parameters: {mass: [60, 3, 19], people: [2, 1, 2]}\n      absolute: 0.6"


def test_a_number_asked_with_its_figures_in_both_units_is_good(tmp_path: Path) -> None:
    assert worked(tmp_path, "{mass} kg ({mass_lb} lb) for {people}.", GRID) == []


def test_a_figure_that_is_drawn_and_not_shown_or_shown_and_not_drawn_is_told(tmp_path: Path) -> None:
    found = worked(tmp_path, "{mass_lb} lb for {people} on {floor}.", GRID)
    assert ("scenes[recall-3].text.en", 'no figure "floor" is drawn') in found
    assert ("scenes[recall-3].text.en", "does not show the figures drawn") in found


def test_whoever_works_with_the_us_figures_must_come_out_right(tmp_path: Path) -> None:
    tight = GRID.replace("absolute: 0.6", "absolute: 0.01")
    (found,) = set(worked(tmp_path, "{mass} kg ({mass_lb} lb) for {people}.", tight))
    assert found[0] == "scenes[recall-3].task"
    assert found[1].startswith("worked with the US figures it is marked wrong at mass ")


def test_a_mistake_is_tried_at_every_point_of_the_grid(tmp_path: Path) -> None:
    # Only for one person is the whole his share, and only at the last of nineteen masses is that drawn last.
    alone = GRID.replace("people: [2, 1, 2]", "people: [3, -1, 3]")
    assert worked(tmp_path, "{mass} kg for {people}.", alone) == [
        ("scenes[recall-3].task.mistakes.whole", "passes as right, or gives no number, at mass 60, people 1")
    ]


def test_a_mistake_that_takes_other_figures_is_told_and_not_run(tmp_path: Path) -> None:
    assert worked(tmp_path, "{mass} kg for {people}.", GRID, mistake="other") == [
        ("scenes[recall-3].task.mistakes.other", '"other" takes other figures')
    ]


def bound(folder: Path, then: str, figures: str = FIGURES, *, rig: str = RIG) -> list[tuple[str, str]]:
    """What is wrong when the first scene's wrong choice says ``then``."""
    text = OLD.replace("    task:\n      kind: choose-one\n", f"{figures}    task:\n      kind: choose-one\n", 1)
    old = next(line for line in text.splitlines() if line.startswith("          then: "))
    text = text.replace(old, f'          then: {{en: "{then}", es: "{then} Sí."}}', 1)
    site = (GOOD / SITE).read_text("utf-8") + rig
    return wheres(copied(folder, {LESSON: text, SITE: site}))


def test_a_figure_that_can_be_worked_out_on_the_rig_is_good(tmp_path: Path) -> None:
    assert bound(tmp_path, "It jerks. It is {figure:stop}.") == []


@pytest.mark.parametrize(
    ("then", "figures", "where", "what"),
    [
        ("It jerks. It is {figure:halt}.", FIGURES, "then.en", 'there is no figure "halt"'),
        ("It jerks.", FIGURES, "figures.stop", "no sentence names it"),
        ("It is {figure:stop}.", FIGURES, "then.en", "nothing is left where the rig's figures are not known"),
        (
            "It jerks. It is {figure:stop}.",
            FIGURES.replace("peak-of-stop", "peak"),
            "figures.stop.function",
            'there is no figure "peak"',
        ),
        (
            "It jerks. It is {figure:stop}.",
            FIGURES.replace("speed: 0.5", "pace: 0.5"),
            "figures.stop",
            "other arguments than it takes",
        ),
        ("It jerks. It is {figure:stop}.", FIGURES.replace("0.5 m/s", "0.5"), "figures.stop", "cannot be worked out"),
        ("It jerks. It is {figure:stop}.", FIGURES.replace("0.5", "500"), "figures.stop", "cannot be worked out"),
    ],
)
def test_what_is_wrong_with_a_bound_figure_is_told(
    tmp_path: Path, then: str, figures: str, where: str, what: str
) -> None:
    found = bound(tmp_path, then, figures)
    assert any(each.endswith(where) and said.startswith(what) for each, said in found), found


def test_a_figure_where_nobody_fills_it_in_is_told(tmp_path: Path) -> None:
    text = OLD.replace("ask: {en: How do you take the bar?", 'ask: {en: "How, at {figure:stop}?"', 1)
    found = wheres(copied(tmp_path, {LESSON: text}))
    assert ("scenes[first].ask.en", "a figure of the rig is not filled in here") in found
