"""The first day of a new hand on one page: who briefed, what was issued, who is the mentor, and what comes first.

Nothing on it is a date from which something may be touched: hands stay off until it is signed off.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from trainer.core.catalogue import Catalogue
from trainer.core.firstdays import FirstDays, Stage, Subject
from trainer.core.matrix import Standing
from trainer.export.marks import STANDING_MARKS
from trainer.export.printed.blocks import facts, paragraph, room, section
from trainer.export.printed.canvas import Canvas
from trainer.export.printed.forms import Asked, Field, blanks, choices
from trainer.export.printed.grid import standing_word
from trainer.export.printed.signs import figure
from trainer.export.printed.source import Source, canvas_for, day, title_block
from trainer.export.wording import Says

__all__ = ["Learned", "Orientation", "calls_said", "learned", "render"]

_FIGURES = {mark.standing: mark.figure for mark in STANDING_MARKS}
_PPE = ("hat", "eyes", "ears", "gloves", "coverall", "boots")
_SIGNERS = ("hand-signs", "briefer-signs", "mentor-signs")
_CALLS = ("set", "hold", "clear", "pick-up", "stop")
_SIZE = 8.5
_SHARES = (0.05, 0.25, 0.12, 0.26, 0.14, 0.18)
_SIZES = ((8.0, 7.0), (7.4, 6.3), (6.9, 5.9))
"""Of the cells and of what stands under them: the first with which all is on one page. On two it is the first."""
_MOST_SPARE = 5.0
_MANY = 13
"""More subjects than this are asked of few positions, and their sheet is set closer."""


@dataclass(frozen=True, slots=True)
class _Pitch:
    """How high a line to write on, a line of ticks and a line to sign on are, and what is between two rows [mm]."""

    row: float = 6.8
    tick: float = 5.8
    sign: float = 8.5
    gap: float = 1.0


_USUAL, _CLOSE = _Pitch(), _Pitch(5.4, 4.6, 6.6, 0.3)


@dataclass(frozen=True, slots=True)
class Learned:
    """One competency on the way: what comes before it, its lesson with its minutes, and by when it is to be held.

    ``until`` is what stays undone until then, empty where it is held or nothing is said; ``stage`` when it is learnt.
    """

    title: str
    after: tuple[str, ...]
    lesson: str
    minutes: int
    due: date | None
    standing: Standing
    until: str = ""
    stage: Stage = Stage.LATER


@dataclass(frozen=True, slots=True)
class Orientation:
    """One new hand; ``language`` is the hand's own, ``calls`` the one that the crew's calls are in, both in words.

    ``called`` are the calls themselves in that language, as ``calls_said`` gives them; empty where nobody knows.
    """

    source: Source
    hand: str
    name: str
    position: str
    crew: str
    joins: date | None
    language: str
    calls: str
    steps: tuple[Learned, ...]
    called: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Row:
    """One line of the table: its cells, what stays undone under them, and the standing of what is held."""

    cells: tuple[str, ...]
    until: str = ""
    held: Standing | None = None


def calls_said(words: Says | None) -> tuple[str, ...]:
    """The calls in the language of ``words``, in the order of the sheet; none without words."""
    return tuple(words.say(f"prints.call-{each}") for each in _CALLS) if words else ()


def learned(catalogue: Catalogue, way: FirstDays, words: Says) -> tuple[Learned, ...]:
    """The way of a hand in words, in the order in which it is learnt."""
    return tuple(_learned(catalogue, each, words) for each in way.subjects)


def _learned(catalogue: Catalogue, subject: Subject, words: Says) -> Learned:
    competency = catalogue.competency(subject.competency)
    lesson = next((each for each in catalogue.lessons.values() if each.competency == subject.competency), None)
    before = (catalogue.competency(name) for name in (competency.after if competency else ()))
    return Learned(
        title=words.pick(competency.title) if competency else subject.competency,
        after=tuple(words.pick(each.title) for each in before if each),
        lesson=words.pick(lesson.title) if lesson else "",
        minutes=lesson.minutes if lesson else 0,
        due=subject.due,
        standing=subject.standing,
        until=words.pick(subject.until) if subject.until and not subject.is_held else "",
        stage=subject.stage,
    )


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
    pitch = _USUAL if len(report.steps) <= _MANY else _CLOSE
    facts(canvas, about)
    _briefing(canvas, report, words, pitch)
    _issued(canvas, words, pitch)
    _mentor(canvas, words, pitch)
    _steps(canvas, report, words, pitch)
    _signed(canvas, words, pitch)
    return canvas.finish()


def _signed(canvas: Canvas, words: Says, pitch: _Pitch) -> None:
    room(canvas, pitch.sign * len(_SIGNERS))
    for each in _SIGNERS:
        fields = (Field(words.say(f"prints.orientation-{each}"), share=2.4), Field(words.say("prints.date")))
        canvas.at = blanks(canvas, fields, canvas.margin, canvas.at, canvas.inner, _SIZE, pitch.sign)


def _fields(canvas: Canvas, pitch: _Pitch, *fields: Field) -> None:
    canvas.at = blanks(canvas, fields, canvas.margin, canvas.at, canvas.inner, _SIZE, pitch.row)


def _ticks(canvas: Canvas, pitch: _Pitch, asked: Asked) -> None:
    canvas.at = choices(canvas, [asked], canvas.margin, canvas.at + 0.6, canvas.inner, _SIZE, box=4.2, row=pitch.tick)


def _briefing(canvas: Canvas, report: Orientation, words: Says, pitch: _Pitch) -> None:
    """Who briefed, when, in which language, and that the calls are known in the language that the crew calls in."""
    say = words.say
    section(canvas, say("prints.briefing"))
    _fields(
        canvas, pitch, Field(say("prints.briefed-by"), share=1.5), Field(say("prints.date")), Field(say("prints.clock"))
    )
    _fields(canvas, pitch, Field(say("prints.in-language"), report.language), Field(say("prints.interpreter")))
    own = calls_said(words)
    # What is shouted stands first: the words of one's own language say only what it means.
    both = (f"{called} ({each})" if called != each else each for called, each in zip(report.called, own, strict=True))
    calls = (*(both if report.called else own), say("prints.call-hand-signals"))
    _ticks(canvas, pitch, Asked(say("prints.calls", language=report.calls), calls))


def _issued(canvas: Canvas, words: Says, pitch: _Pitch) -> None:
    section(canvas, words.say("prints.issued"))
    _ticks(canvas, pitch, Asked("", tuple(words.say(f"prints.ppe-{each}") for each in _PPE)))
    _fields(canvas, pitch, Field(words.say("prints.ppe-other")))


def _mentor(canvas: Canvas, words: Says, pitch: _Pitch) -> None:
    section(canvas, words.say("prints.mentor"))
    _fields(canvas, pitch, Field(words.say("prints.mentor-name"), share=1.6), Field(words.say("prints.mentor-from")))
    paragraph(canvas, words.say("prints.mentor-rule"), size=_SIZE)


def _steps(canvas: Canvas, report: Orientation, words: Says, pitch: _Pitch) -> None:
    """In which order, what stays untouched until it is signed off, and by when."""
    section(canvas, words.say("prints.hands-off"), needs=20)
    paragraph(canvas, words.say("prints.hands-off-rule"), size=_SIZE)
    if not report.steps:
        paragraph(canvas, words.say("prints.record-none"), size=_SIZE)
        return
    rows = list(_rows(report.steps, words))
    size, spare = _fitting(canvas, rows, len({each.stage for each in report.steps}), pitch)
    _row(canvas, _heads(words), size, pitch.gap, bold=True)
    canvas.rule(canvas.margin, canvas.at, canvas.right, thick=0.5)
    stage = None
    for step, row in zip(report.steps, rows, strict=True):
        if not canvas.has_room(_height(canvas, row, size, pitch.gap) + _stage_height(canvas, size)):
            canvas.page()
            _row(canvas, _heads(words), size, pitch.gap, bold=True)
        if step.stage is not stage:
            stage = step.stage
            _stage(canvas, words.say(f"first_days.stage-{stage}"), size)
        _row(canvas, row, size, pitch.gap + spare)
        canvas.rule(canvas.margin, canvas.at, canvas.right, thick=0.15)


def _fitting(canvas: Canvas, rows: Sequence[_Row], stages: int, pitch: _Pitch) -> tuple[tuple[float, float], float]:
    """The letters with which all fits on this page, and what is left of it for each row, as room to write in."""
    for size in _SIZES:
        head, stage = 2 * canvas.line(size[0]) + 1, _stage_height(canvas, size)
        left = canvas.bottom - canvas.at - head - stages * stage - pitch.sign * len(_SIGNERS) - 0.5
        # The last row of a page also asks for the room of a heading.
        left -= stage
        spare = (left - sum(_height(canvas, row, size, pitch.gap) for row in rows)) / len(rows)
        if spare >= 0:
            return size, min(spare, _MOST_SPARE)
    return _SIZES[0], 0.0


def _heads(words: Says) -> _Row:
    heads = (words.say(f"prints.step-{each}") for each in ("what", "after", "lesson", "due", "signed"))
    return _Row(("", *heads))


def _rows(steps: Sequence[Learned], words: Says) -> Iterator[_Row]:
    titles = [each.title for each in steps]
    for number, each in enumerate(steps, start=1):
        before = ", ".join(str(titles.index(name) + 1) if name in titles else name for name in each.after)
        first = words.say("prints.step-first", steps=before) if before else "-"
        lesson = words.say("prints.step-minutes", title=each.lesson, minutes=each.minutes) if each.lesson else "-"
        due = day(each.due, words) if each.due else "-"
        until = words.say("prints.step-until", what=each.until) if each.until else ""
        yield _Row((str(number), each.title, first, lesson, due, _held(each, words)), until, each.standing)


def _held(step: Learned, words: Says) -> str:
    """The word for what is held already; nothing where it is to be signed off."""
    is_held = step.standing in (Standing.CURRENT, Standing.DUE, Standing.OVERDUE, Standing.STOOD_DOWN)
    return standing_word(step.standing, words) if is_held else ""


def _stage_height(canvas: Canvas, size: tuple[float, float]) -> float:
    return canvas.line(size[1]) + 0.8


def _stage(canvas: Canvas, title: str, size: tuple[float, float]) -> None:
    canvas.write(title, canvas.margin, canvas.at + 0.6, canvas.inner, size[1], bold=True, rows=1)
    canvas.at += _stage_height(canvas, size)


def _wide(canvas: Canvas) -> list[float]:
    return [canvas.inner * share for share in _SHARES]


def _broken(canvas: Canvas, row: _Row, size: float, *, bold: bool = False) -> list[list[str]]:
    """Each cell in its lines; the title is never cut."""
    return [
        canvas.cut(text, width - 2, size, 3 if place == 1 else 2, bold=bold or place == 1)
        for place, (text, width) in enumerate(zip(row.cells, _wide(canvas), strict=True))
    ]


def _until(canvas: Canvas, row: _Row, size: float) -> list[str]:
    """What stays undone, whole: nothing of it is ever left out. It leaves the place to sign in free."""
    return canvas.lines(row.until, sum(_wide(canvas)[1:-1]) - 2, size) if row.until else []


def _height(canvas: Canvas, row: _Row, size: tuple[float, float], gap: float) -> float:
    cells = max(len(lines) for lines in _broken(canvas, row, size[0])) * canvas.line(size[0])
    return cells + len(_until(canvas, row, size[1])) * canvas.line(size[1]) + gap


def _row(canvas: Canvas, row: _Row, size: tuple[float, float], gap: float, *, bold: bool = False) -> None:
    """One line of the table, as high as it needs and ``gap`` more, in letters of ``size``."""
    (cell, small), broken, x = size, _broken(canvas, row, size[0], bold=bold), canvas.margin
    for place, (lines, width) in enumerate(zip(broken, _wide(canvas), strict=True)):
        left = x
        if place == len(broken) - 1 and row.held and row.cells[place]:
            figure(canvas, _FIGURES[row.held], x, canvas.at + 0.8, 3)
            left += 4
        canvas.put(lines, left, canvas.at + 0.5, width - 2, cell, bold=bold or place == 1)
        x += width
    below = canvas.at + 0.5 + max(len(lines) for lines in broken) * canvas.line(cell)
    first = canvas.margin + _wide(canvas)[0]
    canvas.put(_until(canvas, row, small), first, below, sum(_wide(canvas)[1:-1]) - 2, small)
    canvas.at += _height(canvas, row, size, gap)
