"""The first day of a new hand on one page: who briefed, what was issued, who is the mentor, and what comes first.

Nothing on it is a date from which something may be touched: hands stay off until it is signed off.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from trainer.core.catalogue import Catalogue, Competency
from trainer.core.matrix import Cell, Standing
from trainer.export.marks import STANDING_MARKS
from trainer.export.printed.blocks import facts, paragraph, section, sign_lines
from trainer.export.printed.canvas import Canvas
from trainer.export.printed.forms import Asked, Field, blanks, choices
from trainer.export.printed.grid import standing_word
from trainer.export.printed.signs import figure
from trainer.export.printed.source import Source, canvas_for, day, title_block
from trainer.export.wording import Says

__all__ = ["Learned", "Orientation", "in_learning_order", "learned", "render"]

_FIGURES = {mark.standing: mark.figure for mark in STANDING_MARKS}
_PPE = ("hat", "eyes", "ears", "gloves", "coverall", "boots")
_CALLS = ("set", "hold", "clear", "pick-up", "stop", "hand-signals")
_SIZE = 8.5
_ROW = 7.2
_SHARES = (0.05, 0.25, 0.12, 0.26, 0.14, 0.18)
_LEAST_ROW, _HIGHEST_ROW, _ALL_ROWS = 5.6, 9.5, 95.0
_MANY = 12


@dataclass(frozen=True, slots=True)
class Learned:
    """One competency on the way: what comes before it, its lesson with its minutes, and by when it is to be held."""

    title: str
    after: tuple[str, ...]
    lesson: str
    minutes: int
    due: date | None
    standing: Standing


@dataclass(frozen=True, slots=True)
class Orientation:
    """One new hand; ``language`` is the hand's own, ``calls`` the one that the crew's calls are in, both in words."""

    source: Source
    hand: str
    name: str
    position: str
    crew: str
    joins: date | None
    language: str
    calls: str
    steps: tuple[Learned, ...]


def learned(catalogue: Catalogue, cells: Sequence[Cell], words: Says) -> tuple[Learned, ...]:
    """What the cells of a hand ask for, in the order in which it is learnt."""
    by_id = {cell.competency: cell for cell in cells}
    needed = [each for each in catalogue.competencies if each.id in by_id]
    return tuple(
        _learned(catalogue, each, by_id[each.id], words)
        for each in in_learning_order(needed, {name: cell.due for name, cell in by_id.items()})
    )


def _learned(catalogue: Catalogue, competency: Competency, cell: Cell, words: Says) -> Learned:
    lesson = next((each for each in catalogue.lessons.values() if each.competency == competency.id), None)
    before = (catalogue.competency(name) for name in competency.after)
    return Learned(
        title=words.pick(competency.title),
        after=tuple(words.pick(each.title) for each in before if each),
        lesson=words.pick(lesson.title) if lesson else "",
        minutes=lesson.minutes if lesson else 0,
        due=cell.due,
        standing=cell.standing,
    )


def in_learning_order(needed: Sequence[Competency], due: Mapping[str, date | None]) -> list[Competency]:
    """What comes first stands first; among what may come now, what is due first, then the catalogue's order."""
    waiting, done = list(needed), list[Competency]()
    asked = {each.id for each in needed}
    while waiting:
        known = {each.id for each in done}
        ready = [each for each in waiting if set(each.after) & asked <= known] or waiting
        # min keeps the catalogue's order among equals.
        first = min(ready, key=lambda each: due.get(each.id) or date.max)
        waiting.remove(first)
        done.append(first)
    return done


def render(report: Orientation, words: Says, now: datetime) -> bytes:
    """The sheet."""
    say = words.say
    canvas = canvas_for(report.source, say("prints.orientation-title", name=report.name), words, now)
    canvas.page()
    title_block(canvas, words, say("prints.orientation-title", name=report.name))
    joins = day(report.joins, words) if report.joins else "-"
    about = [
        (say("prints.position"), report.position),
        (say("prints.crew"), report.crew or "-"),
        (say("prints.joins"), joins),
        (say("prints.hand-id"), report.hand),
    ]
    facts(canvas, about)
    _briefing(canvas, report, words)
    _issued(canvas, words)
    _mentor(canvas, words)
    _steps(canvas, report, words)
    canvas.at += 1
    labels = [say(f"prints.orientation-{each}") for each in ("hand-signs", "briefer-signs", "mentor-signs")]
    sign_lines(canvas, labels, say("prints.date"))
    return canvas.finish()


def _fields(canvas: Canvas, *fields: Field) -> None:
    canvas.at = blanks(canvas, fields, canvas.margin, canvas.at, canvas.inner, _SIZE, _ROW)


def _ticks(canvas: Canvas, asked: Asked) -> None:
    canvas.at = choices(canvas, [asked], canvas.margin, canvas.at + 0.6, canvas.inner, _SIZE, box=4.2, row=5.8)


def _briefing(canvas: Canvas, report: Orientation, words: Says) -> None:
    """Who briefed, when, in which language, and that the calls are known in the language that the crew calls in."""
    say = words.say
    section(canvas, say("prints.briefing"))
    _fields(canvas, Field(say("prints.briefed-by"), share=1.5), Field(say("prints.date")), Field(say("prints.clock")))
    _fields(canvas, Field(say("prints.in-language"), report.language), Field(say("prints.interpreter")))
    calls = tuple(say(f"prints.call-{each}") for each in _CALLS)
    _ticks(canvas, Asked(say("prints.calls", language=report.calls), calls))


def _issued(canvas: Canvas, words: Says) -> None:
    section(canvas, words.say("prints.issued"))
    _ticks(canvas, Asked("", tuple(words.say(f"prints.ppe-{each}") for each in _PPE)))
    _fields(canvas, Field(words.say("prints.ppe-other")))


def _mentor(canvas: Canvas, words: Says) -> None:
    section(canvas, words.say("prints.mentor"))
    _fields(canvas, Field(words.say("prints.mentor-name"), share=1.6), Field(words.say("prints.mentor-from")))
    paragraph(canvas, words.say("prints.mentor-rule"), size=_SIZE)


def _steps(canvas: Canvas, report: Orientation, words: Says) -> None:
    """In which order, what stays untouched until it is signed off, and by when."""
    section(canvas, words.say("prints.hands-off"), needs=20)
    paragraph(canvas, words.say("prints.hands-off-rule"), size=_SIZE)
    if not report.steps:
        paragraph(canvas, words.say("prints.record-none"), size=_SIZE)
        return
    heads = ("", *(words.say(f"prints.step-{each}") for each in ("what", "after", "lesson", "due", "signed")))
    _row(canvas, heads, 4.0, bold=True)
    canvas.rule(canvas.margin, canvas.at, canvas.right, thick=0.5)
    titles = [each.title for each in report.steps]
    # High enough to write on, and yet one page.
    high = max(_LEAST_ROW, min(_HIGHEST_ROW, _ALL_ROWS / len(report.steps)))
    for number, each in enumerate(report.steps, start=1):
        before = ", ".join(str(titles.index(name) + 1) if name in titles else name for name in each.after)
        lesson = words.say("prints.step-minutes", title=each.lesson, minutes=each.minutes) if each.lesson else "-"
        due = day(each.due, words) if each.due else "-"
        cells = (str(number), each.title, words.say("prints.step-first", steps=before) if before else "-", lesson, due)
        _row(canvas, (*cells, _held(each, words)), high, held=each.standing)
        canvas.rule(canvas.margin, canvas.at, canvas.right, thick=0.15)


def _held(step: Learned, words: Says) -> str:
    """The word for what is held already; nothing where it is to be signed off."""
    is_held = step.standing in (Standing.CURRENT, Standing.DUE, Standing.OVERDUE, Standing.STOOD_DOWN)
    return standing_word(step.standing, words) if is_held else ""


def _row(
    canvas: Canvas, cells: Sequence[str], least: float, *, bold: bool = False, held: Standing | None = None
) -> None:
    """One line of the table, as high as its highest cell, and at least that high."""
    wide = [canvas.inner * share for share in _SHARES]
    rows = 1 if least < _ALL_ROWS / _MANY else 2
    broken = [canvas.cut(text, width - 2, 8, rows, bold=bold) for text, width in zip(cells, wide, strict=True)]
    height = max(max(len(lines) for lines in broken) * canvas.line(8) + 1.2, least)
    x = canvas.margin
    for place, (lines, width) in enumerate(zip(broken, wide, strict=True)):
        left = x
        if place == len(cells) - 1 and held and cells[place]:
            figure(canvas, _FIGURES[held], x, canvas.at + 0.8, 3)
            left += 4
        canvas.put(lines, left, canvas.at + 0.6, width - 2, 8, bold=bold or place == 1)
        x += width
    canvas.at += height
