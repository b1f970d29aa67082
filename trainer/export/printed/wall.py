"""One crew for the doghouse wall: who holds what today, what each still lacks, and who is off the slips."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from trainer.core.matrix import Cell, Standing
from trainer.export.printed.canvas import A3, Canvas, paper_called
from trainer.export.printed.grid import Grid, GridLine, draw, draw_legend, is_brief, least_width
from trainer.export.printed.missing import Parts, missing
from trainer.export.printed.poster import square
from trainer.export.printed.signs import figure
from trainer.export.printed.source import Source, canvas_for, day, title_block
from trainer.export.titles import Titles
from trainer.export.wording import Says

__all__ = ["CrewWall", "WallHand", "render"]

_NAME_WIDTH = 46.0
_SAID_SHARE = 0.25
_LARGE, _LARGEST, _SMALL_CREW = 1.2, 1.5, 12


@dataclass(frozen=True, slots=True)
class WallHand:
    """One hand of the crew. ``cells`` is empty where nothing is asked of the position; ``parts`` tells what a standing
    that is not current lacks; ``beside`` says what stands beside it and is none: left off for a tour, allowed for one.
    """

    name: str
    position: str
    cells: tuple[Cell, ...]
    parts: Parts
    beside: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CrewWall:
    """One crew on a day, its hands in the order in which they are to stand; ``where`` says where the crew is now."""

    source: Source
    as_of: date
    crew: str
    hands: tuple[WallHand, ...]
    titles: Titles
    where: str = ""


def render(report: CrewWall, words: Says, now: datetime) -> bytes:
    """The sheet, lying: on the site's paper where the columns have room on it, else on A3."""
    title = words.say("prints.wall-title", crew=report.titles.crew(report.crew))
    columns = _columns(report)
    small = paper_called(report.source.paper)
    canvas = canvas_for(report.source, title, words, now, paper=small, landscape=True)
    # What is missing stands beside the squares, else under them; where neither has room, on larger paper.
    share, is_large = _share(canvas, columns, words), False
    if share is None:
        is_large = True
        canvas.lay(A3, landscape=True)
        share = _share(canvas, columns, words)
    canvas.page()
    under = (words.say("prints.as-of", day=day(report.as_of, words)), report.where)
    title_block(canvas, words, title, " · ".join(each for each in under if each))
    _off(canvas, report, words)
    said_width = canvas.inner * (_SAID_SHARE if share is None else share)
    grid = _grid(report, columns, words, said_width, _scale(report, is_large))
    if columns:
        draw(canvas, grid, words)
    _others(canvas, report, words)
    draw_legend(canvas, words, is_brief=bool(columns) and is_brief(canvas, grid, words))
    return canvas.finish()


def _share(canvas: Canvas, columns: Sequence[str], words: Says) -> float | None:
    """How much of the width the last column takes on that paper; ``None`` where all columns need more than a page."""
    return next((share for share in (_SAID_SHARE, 0.0) if _fits(canvas, columns, share, words)), None)


def _scale(report: CrewWall, is_large: bool) -> float:
    """As large as is read from a step away, while a crew stays on its page."""
    if not is_large:
        return 1.0
    return _LARGEST if len(report.hands) <= _SMALL_CREW else _LARGE


def _fits(canvas: Canvas, columns: Sequence[str], share: float, words: Says) -> bool:
    room = canvas.inner * (1 - share) - _NAME_WIDTH
    return room / max(1, len(columns)) >= least_width(canvas, words)


def _columns(report: CrewWall) -> tuple[str, ...]:
    needed = {cell.competency for hand in report.hands for cell in hand.cells}
    known = [each for each in report.titles.competencies if each in needed]
    return (*known, *sorted(needed - set(known)))


def _off(canvas: Canvas, report: CrewWall, words: Says) -> None:
    """Whoever is off the slips, in a heavy frame over everything else."""
    for hand in report.hands:
        down = [cell.competency for cell in hand.cells if cell.standing is Standing.STOOD_DOWN]
        if not down:
            continue
        named = ", ".join(report.titles.competency(each) for each in down)
        text = words.say("prints.wall-off", name=hand.name, titles=named)
        wide = canvas.inner - 14
        height = canvas.height_of(text, wide, 11, bold=True) + 4
        canvas.box(canvas.margin + 0.5, canvas.at + 0.5, canvas.inner - 1, height - 1, thick=1.0)
        figure(canvas, "octagon", canvas.margin + 3, canvas.at + (height - 6) / 2, 6)
        canvas.write(text, canvas.margin + 12, canvas.at + 2, wide, 11, bold=True)
        canvas.at += height + 1.5


def _grid(report: CrewWall, columns: Sequence[str], words: Says, said_width: float, scale: float) -> Grid:
    return Grid(
        first=words.say("prints.hand"),
        columns=tuple(report.titles.competency(each) for each in columns),
        lines=tuple(_line(report, hand, columns, words) for hand in report.hands if hand.cells),
        name_width=_NAME_WIDTH,
        said=words.say("prints.still-missing") if said_width else "",
        said_width=said_width,
        scale=scale,
    )


def _line(report: CrewWall, hand: WallHand, columns: Sequence[str], words: Says) -> GridLine:
    own: Mapping[str, Cell] = {cell.competency: cell for cell in hand.cells}
    lacks = missing(hand.cells, hand.parts, report.titles, words)
    return GridLine(
        name=hand.name,
        under=report.titles.position(hand.position),
        squares=tuple(square(own[each], report.as_of, words) if each in own else None for each in columns),
        said=(*hand.beside, *(lacks or (_calm(hand, words),))),
    )


def _calm(hand: WallHand, words: Says) -> str:
    """Nothing is missing, and how much of it falls due soon: only the squares say when."""
    soon = sum(cell.standing is Standing.DUE for cell in hand.cells)
    return words.count("prints.due-soon", soon) if soon else words.say("prints.nothing-missing")


def _others(canvas: Canvas, report: CrewWall, words: Says) -> None:
    """Everybody of the crew of whom nothing is asked."""
    others = [f"{hand.name} ({report.titles.position(hand.position)})" for hand in report.hands if not hand.cells]
    if not others:
        return
    text = words.say("prints.wall-others", names=", ".join(others))
    if not canvas.has_room(canvas.height_of(text, canvas.inner, 8.5) + 3):
        canvas.page()
    canvas.at = canvas.write(text, canvas.margin, canvas.at + 2, canvas.inner, 8.5)
