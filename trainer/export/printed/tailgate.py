"""The sheet of a tailgate that is held on paper: the talk and its questions, the driller's key, and who signs.

The key stands at the foot of the first page under a line to fold along, or on a last page where that is full.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from trainer.export.printed.canvas import Canvas
from trainer.export.printed.forms import Field, blanks
from trainer.export.printed.signs import tick_box
from trainer.export.printed.source import Source, canvas_for
from trainer.export.wording import Says

__all__ = ["LETTERS", "LINE_HEIGHT", "Asked", "Point", "Signer", "TailgateSheet", "line_count", "render"]

LETTERS = "ABCDEFGH"
"""How the options of a question are told apart."""

LINE_HEIGHT = 9.0
"""How high each line to sign on is, in millimetres."""

_QUOTES = "\"'”’»"
_SPARE = 3
_TEXT = 9.0
_PICTURE = (42.0, 31.5)
_ASKED_PICTURE = (34.0, 25.5)
_SCALES = (1.0, 0.9, 0.8, 0.7, 0.6)
_GAP = 3.0
_INDENT = 6.0
_HEADING = 8.5
_FIELD_ROW = 7.0
_HEAD = 19.0
_PRESENT = ("throughout", "late", "left", "right")
_NUMBER, _NAME, _POSITION, _TICK = 7.0, 58.0, 36.0, 9.5


@dataclass(frozen=True, slots=True)
class Point:
    """One point to be said aloud, and its picture as SVG, empty for none."""

    title: str
    text: str
    picture: str = ""


@dataclass(frozen=True, slots=True)
class Asked:
    """One question; ``right`` is the place of the right option, from 0, ``why`` its reason."""

    text: str
    options: tuple[str, ...]
    right: int
    why: str
    picture: str = ""


@dataclass(frozen=True, slots=True)
class Signer:
    """Somebody who is expected there."""

    name: str
    position: str


@dataclass(frozen=True, slots=True)
class TailgateSheet:
    """One sheet. What is empty is left to be written in; ``header``, ``number`` and ``revision`` are the site's own
    form's; ``procedure`` is the sentence about the topic's; ``lines`` is how many can sign at least."""

    source: Source
    title: str
    objective: str
    points: tuple[Point, ...]
    questions: tuple[Asked, ...]
    header: str = ""
    number: str = ""
    revision: str = ""
    job: str = ""
    day: str = ""
    tour: str = ""
    crew: str = ""
    leader: str = ""
    signers: tuple[Signer, ...] = ()
    lines: int = 20
    procedure: str = ""


def line_count(report: TailgateSheet) -> int:
    """How many lines there are to sign on: always some left for others."""
    return max(report.lines, len(report.signers) + _SPARE)


def render(report: TailgateSheet, words: Says, now: datetime) -> bytes:
    """The sheet: talk and questions first, then the lines to sign on."""
    title = words.say("prints.tailgate-title", title=report.title)
    canvas = canvas_for(report.source, title, words, now)
    canvas.page()
    _head(canvas, report, words)
    talk = _Talk(canvas, report, words)
    has_key = talk.draw()
    _sign_in(canvas, report, words)
    if not has_key:
        canvas.page()
        talk.draw_key("prints.key-page")
    return canvas.finish()


def _head(canvas: Canvas, report: TailgateSheet, words: Says) -> None:
    """The site's own form, what the talk is about, and the lines about it."""
    x, width, say = canvas.margin, canvas.inner, words.say
    form = [
        say(f"prints.form-{name}", **{name: value})
        for name, value in (("number", report.number), ("revision", report.revision))
        if value
    ]
    wide = min(canvas.measured(" · ".join(form), 8.5, bold=True) + 2, width * 0.5) if form else 0.0
    top = canvas.at
    canvas.at = canvas.write(report.header or say("prints.tailgate"), x, top, width - wide, 11, bold=True, rows=2)
    canvas.write(" · ".join(form), canvas.right - wide, top + 0.6, wide, 8.5, bold=True, align="R", rows=1)
    canvas.at = canvas.write(report.title, x, canvas.at + 0.5, width, 15, bold=True, rows=2)
    if report.procedure:
        canvas.at = canvas.write(report.procedure, x, canvas.at, width, 8.5, rows=1)
    canvas.rule(x, canvas.at + 0.5, canvas.right, thick=0.5)
    canvas.at += 1.0
    rows = (
        (Field(say("prints.job"), report.job, 1.3), Field(say("prints.date"), report.day)),
        (
            Field(say("prints.crew"), report.crew, 1.3),
            Field(say("prints.tour"), report.tour, 0.8),
            Field(say("prints.leader"), report.leader, 1.3),
        ),
    )
    for row in rows:
        canvas.at = blanks(canvas, row, x, canvas.at, width, 8.5, _FIELD_ROW)
    canvas.at += 2.0


class _Talk:
    """The first page: points, questions and the driller's key, with pictures as large as all of it leaves room for."""

    def __init__(self, canvas: Canvas, report: TailgateSheet, words: Says) -> None:
        self._canvas, self._report, self._words = canvas, report, words
        self._scale = 1.0
        keys = enumerate(report.questions, start=1)
        self._keys = [f"{number}. {LETTERS[asked.right]}: {_answer(asked)}" for number, asked in keys]

    def draw(self) -> bool:
        """Draw it from ``at`` down; whether the key had room on the same page."""
        canvas, words = self._canvas, self._words
        x, width = canvas.margin, canvas.inner
        canvas.at = canvas.write(self._report.objective, x, canvas.at, width, _TEXT + 0.5, bold=True) + 0.8
        canvas.at = canvas.write(words.say("prints.tailgate-how"), x, canvas.at, width, 8, grey=0.2) + _GAP
        self._scale = next((each for each in _SCALES if self._fits(each)), _SCALES[-1])
        for number, point in enumerate(self._report.points, start=1):
            self._point(number, point)
        self._heading()
        for number, asked in enumerate(self._report.questions, start=1):
            self._question(number, asked)
        return self._key()

    def _fits(self, scale: float) -> bool:
        points = (self._point_height(number, each, scale) for number, each in enumerate(self._report.points, 1))
        asked = (self._question_height(number, each, scale) for number, each in enumerate(self._report.questions, 1))
        return self._canvas.has_room(sum(points) + _HEADING + sum(asked) + self._key_height())

    def _room(self, height: float) -> None:
        if not self._canvas.has_room(height):
            self._canvas.page()

    def _wide(self, picture: str, full: tuple[float, float], scale: float) -> float:
        """What a picture leaves for the text beside it."""
        return self._canvas.inner - (full[0] * scale + 4 if picture else 0)

    def _point_height(self, number: int, point: Point, scale: float) -> float:
        canvas, wide = self._canvas, self._wide(point.picture, _PICTURE, scale)
        text = canvas.height_of(f"{number}. {point.title}", wide, 11, bold=True) + 1
        text += canvas.height_of(point.text, wide, _TEXT + 1)
        return max(text, _PICTURE[1] * scale if point.picture else 0) + _GAP

    def _point(self, number: int, point: Point) -> None:
        """Number, title and text at the left, the picture at the right."""
        canvas, wide = self._canvas, self._wide(point.picture, _PICTURE, self._scale)
        height = self._point_height(number, point, self._scale)
        self._room(height)
        y = canvas.write(f"{number}. {point.title}", canvas.margin, canvas.at, wide, 11, bold=True)
        canvas.write(point.text, canvas.margin, y + 1, wide, _TEXT + 1)
        self._picture(point.picture, _PICTURE)
        canvas.at += height

    def _picture(self, picture: str, full: tuple[float, float]) -> None:
        canvas, (wide, high) = self._canvas, (full[0] * self._scale, full[1] * self._scale)
        canvas.picture(picture, canvas.right - wide, canvas.at, wide, high)

    def _heading(self) -> None:
        canvas = self._canvas
        canvas.rule(canvas.margin, canvas.at, canvas.right, thick=0.5)
        canvas.write(self._words.say("prints.questions"), canvas.margin, canvas.at + 1.5, canvas.inner, 11, bold=True)
        canvas.at += _HEADING

    def _question_height(self, number: int, asked: Asked, scale: float) -> float:
        canvas, wide = self._canvas, self._wide(asked.picture, _ASKED_PICTURE, scale)
        text = canvas.height_of(f"{number}. {asked.text}", wide, _TEXT, bold=True) + 0.6
        text += sum(canvas.height_of(each, wide - _INDENT, _TEXT) + 0.3 for each in _lettered(asked))
        return max(text, _ASKED_PICTURE[1] * scale if asked.picture else 0) + _GAP - 0.5

    def _question(self, number: int, asked: Asked) -> None:
        """The question and its options, nothing that says which is right."""
        canvas, wide = self._canvas, self._wide(asked.picture, _ASKED_PICTURE, self._scale)
        height = self._question_height(number, asked, self._scale)
        self._room(height)
        y = canvas.write(f"{number}. {asked.text}", canvas.margin, canvas.at, wide, _TEXT, bold=True) + 0.6
        for each in _lettered(asked):
            y = canvas.write(each, canvas.margin + _INDENT, y, wide - _INDENT, _TEXT) + 0.3
        self._picture(asked.picture, _ASKED_PICTURE)
        canvas.at += height

    def _key_height(self) -> float:
        return 7.5 + sum(self._canvas.height_of(each, self._canvas.inner, 8) + 0.4 for each in self._keys)

    def _key(self) -> bool:
        """For the driller alone: at the foot of this page under a line to fold along."""
        canvas, height = self._canvas, self._key_height()
        if not canvas.has_room(height):
            return False
        canvas.at = canvas.bottom - height
        canvas.rule(0, canvas.at, canvas.width, thick=0.2, dash=2)
        canvas.at += 1.5
        self.draw_key("prints.key-fold")
        return True

    def draw_key(self, told: str) -> None:
        """Which options are right, and why."""
        canvas = self._canvas
        canvas.at = canvas.write(self._words.say(told), canvas.margin, canvas.at, canvas.inner, 8, bold=True) + 0.6
        for each in self._keys:
            canvas.at = canvas.write(each, canvas.margin, canvas.at, canvas.inner, 8) + 0.4


def _answer(asked: Asked) -> str:
    """The right option as a sentence, and its reason, which often goes on from it."""
    option = asked.options[asked.right]
    if option == asked.why:
        return option
    end = "" if option.rstrip(_QUOTES).endswith((".", "!", "?", "…")) else "."
    return f"{option}{end} {asked.why}"


def _lettered(asked: Asked) -> list[str]:
    return [f"{letter}. {text}" for letter, text in zip(LETTERS, asked.options, strict=False)]


def _sign_in(canvas: Canvas, report: TailgateSheet, words: Says) -> None:
    """A line for each person, and the driller's own at the end."""
    total = line_count(report)
    for number in range(total):
        if number == 0 or not canvas.has_room(LINE_HEIGHT):
            canvas.page()
            _head(canvas, report, words)
            _columns(canvas, words)
        signer = report.signers[number] if number < len(report.signers) else Signer("", "")
        _line(canvas, number + 1, signer)
    told = f"{words.say('prints.vouch')} {words.say('prints.governs-short')}"
    if not canvas.has_room(canvas.height_of(told, canvas.inner, 8) + 10):
        canvas.page()
    canvas.at = canvas.write(told, canvas.margin, canvas.at + 1.5, canvas.inner, 8)
    fields = (Field(words.say("prints.leader"), report.leader, 1.2), Field(words.say("prints.signature")))
    canvas.at = blanks(canvas, fields, canvas.margin, canvas.at, canvas.inner, 8.5, 8)


def _edges(canvas: Canvas) -> tuple[float, ...]:
    """Where each column of the lines to sign on begins, and where the last one ends."""
    left = canvas.margin
    first = (left, left + _NUMBER, left + _NUMBER + _NAME, left + _NUMBER + _NAME + _POSITION)
    ticks = tuple(canvas.right - _TICK * (len(_PRESENT) - place) for place in range(len(_PRESENT)))
    return (*first, *ticks, canvas.right)


def _columns(canvas: Canvas, words: Says) -> None:
    edges, foot = _edges(canvas), canvas.at + _HEAD
    for place, name in enumerate(("name", "position", "signature"), start=1):
        x, to = edges[place], edges[place + 1]
        canvas.write(words.say(f"prints.{name}"), x + 1, foot - 5, to - x - 1, 9, bold=True, rows=1)
    for place, name in enumerate(_PRESENT, start=4):
        canvas.write_up(words.say(f"prints.present-{name}"), edges[place] + 1.2, foot - 1, _HEAD - 1, 7.5, rows=2)
    canvas.at = foot
    canvas.rule(canvas.margin, foot, canvas.right, thick=0.5)


def _line(canvas: Canvas, number: int, signer: Signer) -> None:
    edges, y = _edges(canvas), canvas.at
    canvas.write(str(number), edges[0], y + 2.8, _NUMBER - 2, 8.5, align="R", rows=1)
    for place, text in ((1, signer.name), (2, signer.position)):
        width = edges[place + 1] - edges[place] - 2
        lines = canvas.cut(text, width, 8.5, 2)
        canvas.put(lines, edges[place] + 1, y + (LINE_HEIGHT - len(lines) * canvas.line(8.5)) / 2, width, 8.5)
    for place in range(4, 4 + len(_PRESENT)):
        tick_box(canvas, edges[place] + (_TICK - 5.5) / 2, y + (LINE_HEIGHT - 5.5) / 2, 5.5)
    canvas.at = y + LINE_HEIGHT
    canvas.rule(canvas.margin, canvas.at, canvas.right, thick=0.15)
    for edge in edges[1:4]:
        canvas.rule_down(edge, y, canvas.at, thick=0.1)
