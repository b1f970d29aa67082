"""One hand's own card on paper: what is held, through when, and on which evidence."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from trainer.core.matrix import Cell, Rule, Standing
from trainer.core.progress import PartProgress
from trainer.core.records import Part
from trainer.export.marks import STANDING_MARKS
from trainer.export.printed.blocks import facts, paragraph, room, sign_lines
from trainer.export.printed.canvas import Canvas
from trainer.export.printed.grid import standing_word
from trainer.export.printed.missing import Parts, watches_left
from trainer.export.printed.signs import figure
from trainer.export.printed.source import Source, canvas_for, day, title_block
from trainer.export.titles import Titles, procedure_line
from trainer.export.wording import Says

__all__ = ["Proof", "RecordCard", "due_key", "render"]

_FIGURES = {mark.standing: mark.figure for mark in STANDING_MARKS}
_OPEN = (Rule.NOTHING, Rule.NEVER, Rule.MORE, Rule.AGAIN)
_MOST = 6
_SIZE, _TITLE = 8.5, 10.5


@dataclass(frozen=True, slots=True)
class Proof:
    """One record behind a competency: ``kind``, ``effect`` and ``part`` as the evidence has them, who saw it, and the
    record's number in its site's ledger. ``decides`` marks the one that the standing rests on."""

    day: date
    kind: str
    effect: str
    part: str
    by: str
    site: str
    seq: int
    decides: bool = False


@dataclass(frozen=True, slots=True)
class RecordCard:
    """One hand on a day; ``proofs`` by competency, the latest first, without what was voided."""

    source: Source
    as_of: date
    hand: str
    name: str
    position: str
    crew: str
    cells: tuple[Cell, ...]
    parts: Parts
    proofs: Mapping[str, Sequence[Proof]]
    titles: Titles


def render(report: RecordCard, words: Says, now: datetime) -> bytes:
    """The card: a block for each competency that is asked of the hand."""
    say = words.say
    canvas = canvas_for(report.source, say("prints.record-title", name=report.name), words, now)
    canvas.page()
    title_block(canvas, words, report.name, say("prints.record-under", day=day(report.as_of, words)))
    about = [
        (say("prints.hand-id"), report.hand),
        (say("prints.position"), report.titles.position(report.position) if report.position else "-"),
        (say("prints.crew"), report.titles.crew(report.crew) if report.crew else "-"),
        (say("export.site"), report.source.site),
    ]
    facts(canvas, about)
    canvas.at += 2
    if not report.cells:
        paragraph(canvas, say("prints.record-none"))
    for cell in report.cells:
        _competency(canvas, report, cell, words)
    canvas.at += 2
    sign_lines(canvas, [say("prints.record-signs")], say("prints.date"))
    return canvas.finish()


def _competency(canvas: Canvas, report: RecordCard, cell: Cell, words: Says) -> None:
    """Shape, title and standing; the procedure and the parts at the left, the records at the right."""
    half = canvas.inner * 0.36
    procedure = procedure_line(report.titles.procedures_of([cell.competency]), words)
    left = [procedure] if procedure else []
    left += [*_parts(cell, report.parts.get(cell.competency, ()), words), *_waits(cell, report.titles, words)]
    right = list(_proofs(report, cell.competency, words))
    heights = (_height(canvas, left, half - 4), _height(canvas, right, canvas.inner - half))
    room(canvas, canvas.line(_TITLE) + max(heights) + 5)
    canvas.rule(canvas.margin, canvas.at, canvas.right, thick=0.3)
    top = canvas.at + 1.4
    figure(canvas, _FIGURES[cell.standing], canvas.margin, top + 0.1, 4)
    title = report.titles.competency(cell.competency)
    canvas.write(title, canvas.margin + 5.5, top, canvas.inner - 60, _TITLE, bold=True, rows=1)
    canvas.write(_standing(cell, words), canvas.margin, top, canvas.inner, _TITLE, bold=True, align="R", rows=1)
    top += canvas.line(_TITLE) + 0.8
    _column(canvas, left, canvas.margin, top, half - 4)
    _column(canvas, right, canvas.margin + half, top, canvas.inner - half)
    canvas.at = top + max(heights) + 1.4


def due_key(cell: Cell) -> str:
    """The key of the sentence for its due date, on screen as on paper: only what holds or held can run out."""
    kind = "by" if cell.reason.rule in _OPEN else "due"
    return f"card.was-{kind}" if cell.late else f"card.{kind}"


def _standing(cell: Cell, words: Says) -> str:
    """The word for it, with the due date where there is one."""
    word = standing_word(cell.standing, words)
    if cell.due is None:
        return word
    return f"{word} · {words.say(due_key(cell), day=day(cell.due, words))}"


def _parts(cell: Cell, parts: Sequence[PartProgress], words: Says) -> Iterator[str]:
    if cell.standing is Standing.STOOD_DOWN:
        yield words.say("prints.record-off")
        return
    for each in parts:
        name = words.say(f"card.part-{each.part}")
        if each.through is not None:
            key = "card.part-holds" if each.holds else "card.part-ran-out"
            yield f"{name}: {words.say(key, day=day(each.through, words))}"
        elif each.part is Part.KNOWLEDGE:
            yield f"{name}: {words.say('card.quiz-not-yet')}"
        else:
            yield f"{name}: {words.count('prints.record-watches', watches_left(each))}"


def _waits(cell: Cell, titles: Titles, words: Says) -> Iterator[str]:
    """What else comes first."""
    if cell.reason.rule == Rule.AFTER:
        yield words.say("card.why-after", part=titles.competency(cell.reason.part))


def _proofs(report: RecordCard, competency: str, words: Says) -> Iterator[str]:
    """The latest records, one line each; how many older ones there are besides."""
    proofs = report.proofs.get(competency, ())
    if not proofs:
        yield words.say("prints.record-no-proof")
    for each in proofs[:_MOST]:
        part = words.say(f"evidence.part-{each.part}") if each.part else ""
        what = words.say(f"evidence.{each.kind}-{each.effect}", part=part)
        seen = "" if each.kind == "quiz" else f", {each.by}"
        mark = f" ({words.say('prints.record-decides')})" if each.decides else ""
        number = words.say("prints.record-number", site=each.site, seq=each.seq)
        if each.site == report.source.site:
            number = words.say("prints.record-number-here", seq=each.seq)
        yield f"{day(each.day, words)}: {what}{seen}. {number}{mark}"
    if len(proofs) > _MOST:
        yield words.count("prints.record-more", len(proofs) - _MOST)


def _height(canvas: Canvas, lines: Sequence[str], wide: float) -> float:
    return sum(canvas.height_of(each, wide, _SIZE) for each in lines)


def _column(canvas: Canvas, lines: Sequence[str], x: float, y: float, wide: float) -> None:
    for each in lines:
        y = canvas.write(each, x, y, wide, _SIZE)
