"""A tailgate as it was held: the site's own form, who was there and what it came to, who vouched, what was asked.

The sheet of ``tailgate`` is filled in by hand; this one is made from the records.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from itertools import pairwise

from trainer.export.printed.blocks import facts, paragraph, room, section
from trainer.export.printed.canvas import Canvas
from trainer.export.printed.source import Source, canvas_for, day, moment
from trainer.export.printed.watch import Void
from trainer.export.wording import Says

__all__ = ["LED", "Present", "Question", "TalkSheet", "render"]

LED = "led"
"""``how`` of whoever held the talk."""

_SIZE = 9.0
_SMALL = 8.0
_PAD = 1.2
_GAP = 2.5
_COLUMNS = (8.0, 0.0, 36.0, 18.0, 26.0, 22.0)
"""Widths of number, name, how, right, outcome and record; the name has what is left."""
_HEADS = ("", "name", "talk-how", "talk-right", "talk-outcome", "talk-record")


@dataclass(frozen=True, slots=True)
class Present:
    """Somebody of the site who was there. ``place`` is position and crew, ``how`` one of ``core.tailgate``'s ways;
    ``answered`` and ``right`` count questions; ``number`` is the record's in its ledger."""

    name: str
    place: str
    how: str
    passed: bool
    answered: int
    right: int
    number: int
    void: Void | None = None


@dataclass(frozen=True, slots=True)
class Question:
    """One question: its words, or that they were changed since."""

    text: str
    answered: int
    right: int


@dataclass(frozen=True, slots=True)
class TalkSheet:
    """One tailgate on record. ``header``, ``number`` and ``revision`` are the site's own form's, ``people`` begins with
    whoever held the talk, ``competency`` is what it counts for. ``entered`` is ``None`` where that is ``day``.

    ``record_id``, ``seq`` and ``hash`` are those of the leader's own record.
    """

    source: Source
    title: str
    competency: str
    day: date
    vouched: datetime
    people: tuple[Present, ...]
    record_id: str
    seq: int
    hash: str
    guests: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()
    header: str = ""
    number: str = ""
    revision: str = ""
    procedure: str = ""
    job: str = ""
    tour: str = ""
    crew: str = ""
    paper: bool = False
    entered: date | None = None

    @property
    def leader(self) -> str:
        """Who held the talk."""
        return self.people[0].name


def render(report: TalkSheet, words: Says, now: datetime) -> bytes:
    """The sheet."""
    canvas = canvas_for(report.source, words.say("prints.talk-title", title=report.title), words, now)
    canvas.page()
    _head(canvas, report, words)
    facts(canvas, list(_facts(report, words)))
    canvas.at += _GAP
    _people(canvas, report, words)
    _guests(canvas, report, words)
    _vouched(canvas, report, words)
    _questions(canvas, report, words)
    canvas.at += _GAP
    stamp = {"record": report.record_id, "site": report.source.site, "number": report.seq, "hash": report.hash}
    paragraph(canvas, words.say("prints.watch-stamp", **stamp), size=7.5)
    return canvas.finish()


def _head(canvas: Canvas, report: TalkSheet, words: Says) -> None:
    """The site's own form and what the talk was about; further pages begin with both."""
    say, x, width = words.say, canvas.margin, canvas.inner
    lines = (("number", report.number), ("revision", report.revision))
    form = " · ".join(say(f"prints.form-{name}", **{name: value}) for name, value in lines if value)
    header, top = report.header or say("prints.tailgate"), canvas.at
    wide = canvas.measured(form, _SIZE, bold=True) + 2 if form else 0.0
    is_beside = wide <= width * 0.5
    canvas.at = canvas.write(header, x, top, width - (wide if is_beside else 0), 11, bold=True)
    if is_beside:
        canvas.write(form, canvas.right - wide, top + 0.5, wide, _SIZE, bold=True, align="R")
    else:
        canvas.at = canvas.write(form, x, canvas.at, width, _SIZE, bold=True)
    canvas.at = canvas.write(report.title, x, canvas.at + 0.5, width, 15, bold=True)
    if report.procedure:
        canvas.at = canvas.write(report.procedure, x, canvas.at, width, 8.5)
    canvas.at = canvas.write(say("prints.governs"), x, canvas.at + 0.6, width, 7.5, grey=0.25)
    canvas.rule(x, canvas.at + 1.2, canvas.right, thick=0.5)
    canvas.at += 3.0
    canvas.running = " · ".join((header, report.title, day(report.day, words)))


def _facts(report: TalkSheet, words: Says) -> Iterator[tuple[str, str]]:
    say = words.say
    yield say("prints.held"), day(report.day, words)
    yield say("prints.tour"), report.tour or "-"
    yield say("prints.leader"), report.leader
    yield say("prints.crew"), report.crew or "-"
    yield say("prints.job"), report.job or "-"
    yield say("prints.talk-counts"), report.competency
    yield say("prints.talk-on"), say("prints.talk-on-paper" if report.paper else "prints.talk-on-tablet")
    if report.entered:
        yield say("prints.entered"), day(report.entered, words)


def _edges(canvas: Canvas) -> tuple[float, ...]:
    """Where each column begins, and where the last one ends."""
    own = canvas.inner - sum(_COLUMNS)
    edges = [canvas.margin]
    for wide in _COLUMNS:
        edges.append(edges[-1] + (wide or own))
    return tuple(edges)


def _people(canvas: Canvas, report: TalkSheet, words: Says) -> None:
    """A row for each who was there, whoever held the talk first."""
    section(canvas, words.say("prints.talk-there"), needs=24)
    _columns(canvas, words)
    for number, each in enumerate(report.people, start=1):
        _person(canvas, number, each, words)
    canvas.at += 1.0
    for each in report.people:
        if each.void is not None:
            told = {"by": each.void.by, "day": day(each.void.day, words)}
            said = words.say("prints.watch-void", why=each.void.why or words.say("evidence.why-erased"), **told)
            paragraph(canvas, f"{words.say('prints.record-number-here', seq=each.number)} {said}")


def _columns(canvas: Canvas, words: Says) -> None:
    edges, top = _edges(canvas), canvas.at
    for place, name in enumerate(_HEADS):
        if name:
            wide = edges[place + 1] - edges[place] - _PAD
            canvas.write(words.say(f"prints.{name}"), edges[place], top, wide, _SMALL, bold=True, rows=1)
    canvas.at = top + canvas.line(_SMALL) + 0.8
    canvas.rule(canvas.margin, canvas.at, canvas.right, thick=0.4)


def _person(canvas: Canvas, number: int, each: Present, words: Says) -> None:
    """Nothing is cut: a long name or place has as many lines as it takes."""
    edges = _edges(canvas)
    wides = [to - x - _PAD for x, to in pairwise(edges)]
    told = _told(number, each, words)
    columns = [canvas.lines(text, wide, _SIZE, bold=bold) for (text, bold), wide in zip(told, wides, strict=True)]
    under = canvas.lines(each.place, wides[1], _SMALL) if each.place else []
    heights = [len(lines) * canvas.line(_SIZE) for lines in columns]
    height = max(*heights, heights[1] + len(under) * canvas.line(_SMALL)) + 2 * _PAD
    if not canvas.has_room(height):
        canvas.page()
        _columns(canvas, words)
    top = canvas.at + _PAD
    for x, wide, lines, (_, bold) in zip(edges, wides, columns, told, strict=False):
        canvas.put(lines, x, top, wide, _SIZE, bold=bold)
    canvas.put(under, edges[1], top + heights[1], wides[1], _SMALL, grey=0.2)
    canvas.at += height
    canvas.rule(canvas.margin, canvas.at, canvas.right, thick=0.1)


def _told(number: int, each: Present, words: Says) -> tuple[tuple[str, bool], ...]:
    """What stands in each column, and whether in bold."""
    is_asked = each.how != LED and each.answered
    right = words.say("prints.talk-of", right=each.right, asked=each.answered) if is_asked else "-"
    record = words.say("prints.record-number-here", seq=each.number)
    how, outcome = words.say(f"prints.talk-{each.how}"), _outcome(each, words)
    return (
        (str(number), False), (each.name, True), (how, False), (right, False),
        (outcome, each.passed or each.void is not None), (record, False),
    )  # fmt: skip


def _outcome(each: Present, words: Says) -> str:
    if each.void is not None:
        return words.say("prints.watch-is-void")
    if each.how == LED:
        # How he was there says it. He answers no questions, so he is not one of those who attended either.
        return "-"
    return words.say("prints.talk-passed" if each.passed else "prints.talk-attended")


def _guests(canvas: Canvas, report: TalkSheet, words: Says) -> None:
    """People of no crew here: they were there, and it counts for nothing here."""
    if not report.guests:
        return
    section(canvas, words.say("prints.talk-guests"))
    for number, guest in enumerate(report.guests, start=1):
        paragraph(canvas, f"{number}. {guest}")


def _vouched(canvas: Canvas, report: TalkSheet, words: Says) -> None:
    """Who put a PIN to it, when, and what that means."""
    section(canvas, words.say("prints.watch-signed"))
    at = moment(report.vouched, report.source.zone, words)
    told = {"name": report.leader, "moment": at, "means": words.say("prints.talk-means")}
    paragraph(canvas, words.say("prints.watch-signature", **told))


def _questions(canvas: Canvas, report: TalkSheet, words: Says) -> None:
    """What was asked and how many had it right, nothing that says which answer is."""
    section(canvas, words.say("prints.questions"))
    if not report.questions:
        paragraph(canvas, words.say("prints.talk-asked-on-paper"))
    for number, each in enumerate(report.questions, start=1):
        how_many = words.say("prints.talk-had-right", right=each.right, asked=each.answered)
        room(canvas, canvas.height_of(each.text, canvas.inner, _SIZE) + canvas.line(_SMALL) + 1)
        paragraph(canvas, f"{number}. {each.text}")
        paragraph(canvas, how_many, size=_SMALL)
