"""The card that goes to the floor: a whole sheet on two sides in the size of a pocket, to be cut and folded.

Two cards on an A4 page, one on a Letter page: fold along the middle, printed side out. A sheet with more steps than two
sides can hold is split over more cards, and each says so.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from itertools import groupby

from trainer.core.checklists import (
    MET,
    MET_AFTER_PROMPT,
    NOT_APPLICABLE,
    NOT_MET,
    NOT_OBSERVED,
    Checklist,
    Step,
)
from trainer.export.printed.canvas import Canvas, paper_called
from trainer.export.printed.forms import Asked, Field, blanks, choice_rows, choices, rows_of
from trainer.export.printed.signs import STATE_FIGURES, critical, critical_width, figure, tick_box
from trainer.export.printed.source import Source, local_day
from trainer.export.titles import procedure_line
from trainer.export.wording import Says

__all__ = ["LEAST_SIZE", "PocketCard", "render", "sides"]

LEAST_SIZE = 7.0
"""No text on a card is smaller, in points."""

_SIZES = (8.0, 7.5, LEAST_SIZE)
_SIDE = 148.0
_EDGE = 4.8
_LEADING = 1.13
_ROOM = _SIDE - 2 * _EDGE
_SIDES = 2
_STATES = ("met", "prompt", "not-met", "unseen")
_SIGNS = {
    "met": MET,
    "prompt": MET_AFTER_PROMPT,
    "not-met": NOT_MET,
    "unseen": NOT_OBSERVED,
    "left-out": NOT_APPLICABLE,
}
"""What is told in the legend -> the state whose sign it has, the same as on screen and on the sheet printed of it."""
_BOX = 4.1
_PITCH = 4.7
_NUMBER = 4.4
_SIGN, _APART = 2.5, 2.4
_CHIP, _CHIP_ROW = 3.3, 4.4


@dataclass(frozen=True, slots=True)
class PocketCard:
    """One blank card. ``titles`` says what each competency is called, ``procedures`` the entry of the procedure behind
    it; ``hand`` and ``observer`` are written in where they are known."""

    source: Source
    checklist: Checklist
    titles: Mapping[str, str]
    hand: str = ""
    observer: str = ""
    procedures: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Block:
    """Something that is never split; one that ``leads`` stands on the same side as the one after it.

    Of a competency's title ``whole`` is how high it stands with all of its steps; a step has that ``title``.
    """

    height: float
    draw: Callable[[float, float], object]
    leads: bool = False
    whole: float = 0.0
    title: _Block | None = None


@dataclass(frozen=True, slots=True)
class _Told:
    """One thing of the legend, ``x`` from the left: the letter in the box, the sign elsewhere, and the words."""

    words: str
    letter: str = ""
    sign: str = ""
    x: float = 0.0

    def wide(self, canvas: Canvas, size: float) -> float:
        """How much of a row it takes."""
        return self._before(canvas, size) + (_SIGN + 0.8 if self.sign else 0.0) + canvas.measured(self.words, size)

    def _before(self, canvas: Canvas, size: float) -> float:
        return canvas.measured(f"{self.letter} ", size, bold=True) if self.letter else 0.0

    def draw(self, canvas: Canvas, x: float, y: float, size: float) -> None:
        """Draw it in the row that begins there."""
        left = x + self.x
        canvas.write(self.letter, left, y, _SIDE, size, bold=True, rows=1)
        left += self._before(canvas, size)
        if self.sign:
            figure(canvas, self.sign, left, y + (canvas.line(size) - _SIGN) / 2, _SIGN)
            left += _SIGN + 0.8
        canvas.write(self.words, left, y, _SIDE, size, rows=1)


def render(report: PocketCard, words: Says, now: datetime) -> bytes:
    """The card as a page to print, cut and fold."""
    paper = paper_called(report.source.paper)
    title = words.say("prints.pocket-title", title=words.pick(report.checklist.title))
    canvas = Canvas(paper, title, words.language, now, margin=0, foot=None, leading=_LEADING)
    found = sides(canvas, report, words, now)
    rows = int(canvas.height / _SIDE)
    copies = found * rows if len(found) <= _SIDES else found
    for number, side in enumerate(copies):
        place = number % (_SIDES * rows)
        if place == 0:
            canvas.page()
            _marks(canvas, words)
        x, y = place % _SIDES * canvas.width / _SIDES + _EDGE, place // _SIDES * _SIDE + _EDGE
        for block in side:
            block.draw(x, y)
            y += block.height
    return canvas.finish()


def sides(canvas: Canvas, report: PocketCard, words: Says, now: datetime) -> list[list[_Block]]:
    """What stands on each side, at the largest size of text with which two are enough, else at the smallest."""
    found: list[list[_Block]] = []
    for size in _SIZES:
        card = _Card(canvas, report, words, now, size)
        found = card.packed()
        if len(found) <= _SIDES:
            return found
    return found


def _left_on(side: Sequence[_Block]) -> float:
    return _ROOM - sum(block.height for block in side)


def _marks(canvas: Canvas, words: Says) -> None:
    """Dashes where to fold and where to cut, with the words for it."""
    middle = canvas.width / 2
    canvas.rule_down(middle, 0, canvas.height, dash=1.5, thick=0.1)
    for row in range(1, int(canvas.height / _SIDE) + 1):
        # Two cards fill an A4 page to its very foot.
        if row * _SIDE < canvas.height - 2:
            canvas.rule(0, row * _SIDE, canvas.width, thick=0.1, dash=4)
    canvas.write(words.say("prints.fold"), middle + 0.8, 1.2, 30, LEAST_SIZE, grey=0.4, rows=1)
    canvas.write(words.say("prints.cut"), 1.5, _SIDE - 3.4, 30, LEAST_SIZE, grey=0.4, rows=1)


class _Card:
    """The blocks of one card at one size of text."""

    def __init__(self, canvas: Canvas, report: PocketCard, words: Says, now: datetime, size: float) -> None:
        self._canvas, self._report, self._words, self._size = canvas, report, words, size
        self._printed = f"{report.source.site}, {local_day(now, report.source, words)}."
        self._width = canvas.width / 2 - 2 * _EDGE
        self._cards = 1
        self._line = canvas.line(size)
        self._row = max(5.0, self._line + 2.2)

    def packed(self) -> list[list[_Block]]:
        """The blocks, side by side; where two are not enough, every card says which of how many it is."""
        found = self._packed()
        while len(found) > _SIDES * self._cards:
            self._cards = -(-len(found) // _SIDES)
            found = self._packed()
        return found

    def _packed(self) -> list[list[_Block]]:
        blocks = [*self._head(), self._legend(), *self._steps(), *self._end()]
        found: list[list[_Block]] = [[]]
        for number, block in enumerate(blocks):
            wanted = block.height + (blocks[number + 1].height if block.leads else 0)
            if self._cards > 1 and block.whole and self._belongs_on_next_card(found, block.whole):
                found += [[]] * (len(found) % _SIDES)
                self._turn(found)
            elif wanted > _left_on(found[-1]) and found[-1]:
                self._turn(found)
                found[-1] += [block.title] if block.title else []
            found[-1].append(block)
        return found

    def _belongs_on_next_card(self, found: Sequence[Sequence[_Block]], whole: float) -> bool:
        """Whether a competency would be torn between this card and the next, and need not be."""
        left = _left_on(found[-1]) + (_ROOM if len(found) % _SIDES else 0)
        return left < whole <= _ROOM * 1.5

    def _turn(self, found: list[list[_Block]]) -> None:
        found.append([*self._begun(len(found)), self._legend()])

    def _begun(self, side: int) -> list[_Block]:
        """What a further card begins with, so that cards that fell apart find each other again."""
        if side % _SIDES:
            return []
        say = self._words.say
        title = self._said(self._titled(side // _SIDES + 1), bold=True, gap=0.2)
        return [title, *self._rows(Field(say("prints.hand"), self._report.hand), Field(say("prints.held")))]

    def _titled(self, card: int) -> str:
        title = self._words.pick(self._report.checklist.title)
        if self._cards == 1:
            return title
        return self._words.say("prints.pocket-card-of", number=card, total=self._cards, title=title)

    def _lines(self, text: str, width: float, *, bold: bool = False, first: float = 0.0) -> list[str]:
        return self._canvas.lines(text, width, self._size, bold=bold, first=first)

    def _said(self, text: str, *, bold: bool = False, gap: float = 0.6) -> _Block:
        """A paragraph."""
        lines = self._lines(text, self._width, bold=bold)
        canvas, size = self._canvas, self._size
        return _Block(len(lines) * self._line + gap, lambda x, y: canvas.put(lines, x, y, self._width, size, bold=bold))

    def _blanks(self, *fields: Field) -> _Block:
        canvas, size, row = self._canvas, self._size, self._row
        return _Block(row, lambda x, y: blanks(canvas, fields, x, y, self._width, size, row))

    def _rows(self, *fields: Field) -> list[_Block]:
        """Two beside each other where both have room for all that they say."""
        return [self._blanks(*row) for row in rows_of(self._canvas, fields, self._width, self._size)]

    def _choices(self, *asked: Asked) -> _Block:
        canvas, size = self._canvas, self._size
        rows = len(choice_rows(canvas, asked, self._width, size, _CHIP))
        return _Block(
            rows * _CHIP_ROW + 0.4,
            lambda x, y: choices(canvas, asked, x, y, self._width, size, box=_CHIP, row=_CHIP_ROW),
        )

    def _head(self) -> list[_Block]:
        """Title, who and when, the conditions, and what the observer keeps to."""
        words, report = self._words, self._report
        say = words.say
        purpose = Asked("", (say("signoff.assessment"), say("signoff.practice")))
        return [
            self._said(self._titled(1), bold=True, gap=0.2),
            self._blanks(Field(say("prints.hand"), report.hand)),
            *self._rows(Field(say("prints.observer"), report.observer), Field(say("prints.brake"))),
            self._blanks(Field(say("prints.held")), Field(say("prints.tour"))),
            *self._numbers(),
            self._choices(purpose, *self._conditions()),
            self._said(say("prints.pocket-caution"), bold=True, gap=0.2),
        ]

    def _numbers(self) -> list[_Block]:
        """Conditions that are numbers, on lines."""
        words = self._words
        fields = [
            Field(words.pick(each.title) + (f" [{each.unit}]" if each.unit else ""))
            for each in self._report.checklist.conditions
            if not each.choices
        ]
        return self._rows(*fields)

    def _conditions(self) -> list[Asked]:
        """Conditions that are ticked."""
        words = self._words
        return [
            Asked(words.pick(each.title), tuple(words.pick(text) for _, text in each.choices))
            for each in self._report.checklist.conditions
            if each.choices
        ]

    def _legend(self) -> _Block:
        """What the letters in the boxes mean, with the sign of each state, and what critical means."""
        canvas, size, line = self._canvas, self._size, self._line
        rows = self._legend_rows()

        def draw(x: float, y: float) -> None:
            for row in rows:
                for told in row:
                    told.draw(canvas, x, y + 0.3, size)
                y += line
            canvas.rule(x, y + 0.7, x + self._width, thick=0.3)

        return _Block(len(rows) * line + 1.3, draw, leads=True)

    def _legend_rows(self) -> list[list[_Told]]:
        say = self._words.say
        # What does not apply has no box: it is struck through, and its sign says how.
        letters = {each: say(f"prints.letter-{each}") for each in ("met", "prompt", "not-met")}
        told = [
            _Told(say(f"prints.state-{each}"), letters.get(each, ""), STATE_FIGURES[state])
            for each, state in _SIGNS.items()
        ]
        rows: list[list[_Told]] = [[]]
        x = 0.0
        for each in (*told, _Told(say("prints.pocket-critical"))):
            wide = each.wide(self._canvas, self._size)
            if x + wide > self._width and rows[-1]:
                rows.append([])
                x = 0.0
            rows[-1].append(replace(each, x=x))
            x += wide + _APART
        return rows

    def _steps(self) -> list[_Block]:
        """The steps in the order of the sheet, under the names of their competencies."""
        found: list[_Block] = []
        numbered = enumerate(self._report.checklist.steps, start=1)
        for competency, group in groupby(numbered, key=lambda pair: pair[1].competency):
            title = self._title(competency)
            steps = [replace(self._step(number, step), title=title) for number, step in group]
            whole = title.height + sum(step.height for step in steps)
            found += [replace(title, whole=whole), *steps]
        return found

    def _title(self, competency: str) -> _Block:
        """The competency's name in a bar, its procedure at the right where there is room for it in the same line."""
        canvas, size, text = self._canvas, self._size, self._report.titles.get(competency, competency)
        procedure = procedure_line([self._report.procedures.get(competency, "")], self._words)
        has_room = canvas.measured(text, size, bold=True) + canvas.measured(procedure, size) < self._width - 4
        height = self._line + 0.9

        def draw(x: float, y: float) -> None:
            canvas.box(x, y + 0.3, self._width, height - 0.5, fill="#e4e4e4", edge=False)
            canvas.write(text, x + 0.8, y + 0.4, self._width, size, bold=True, rows=1)
            if procedure and has_room:
                canvas.write(procedure, x, y + 0.4, self._width - 0.8, size, align="R", rows=1)

        return _Block(height, draw, leads=True)

    def _step(self, number: int, step: Step) -> _Block:
        """Number, critical sign, text, and the four boxes at the right."""
        canvas, size, word = self._canvas, self._size, self._words.say("prints.critical")
        wide = self._width - _NUMBER - len(_STATES) * _PITCH - 0.8
        first = critical_width(canvas, word, size) if step.critical else 0.0
        lines = self._lines(self._words.pick(step.text), wide, first=first)
        height = max(len(lines) * self._line + 0.9, _BOX + 0.6)

        def draw(x: float, y: float) -> None:
            canvas.write(str(number), x, y + 0.4, _NUMBER - 0.8, size, align="R", rows=1)
            left = x + _NUMBER
            if step.critical:
                critical(canvas, left, y + 0.4, word, size)
            canvas.put(lines[:1], left + first, y + 0.4, wide, size)
            canvas.put(lines[1:], left, y + 0.4 + self._line, wide, size)
            for place, state in enumerate(_STATES):
                right = x + self._width - (len(_STATES) - place) * _PITCH + (_PITCH - _BOX)
                tick_box(canvas, right, y + 0.35, _BOX, self._words.say(f"prints.letter-{state}"))
            canvas.rule(x, y + height, x + self._width, thick=0.06)

        return _Block(height, draw)

    def _end(self) -> list[_Block]:
        """The judgement over all, whose act it was, what else was seen, the signatures, and what to do with the card.

        One block: it is all signed together.
        """
        say = self._words.say
        alone = Asked(say("prints.overall"), (say("signoff.overall-yes"), say("signoff.overall-no")))
        away = Asked(say("prints.hand"), (say("prints.hand-declined"), say("prints.hand-absent")))
        parts = [
            self._choices(alone),
            self._choices(Asked("", (say("prints.stop-called"),)), away),
            *self._rows(Field(say("prints.not-met-steps")), Field(say("prints.not-own-act"))),
            self._blanks(Field(say("prints.notes"))),
            self._blanks(Field("")),
            *self._rows(Field(say("prints.observer-signs")), Field(say("prints.hand-signs"))),
            self._said(f"{say('prints.pocket-after')} {say('prints.governs-short')} {self._printed}"),
        ]

        def draw(x: float, y: float) -> None:
            for part in parts:
                part.draw(x, y)
                y += part.height

        return [_Block(sum(part.height for part in parts), draw)]
