"""The matrix as a poster for the wall: everybody by crew, every competency, on A3, readable in grey."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta

from trainer.core.standing import Cell
from trainer.export.printed.canvas import A3
from trainer.export.printed.grid import Grid, GridLine, Square, draw, draw_legend, is_brief, least_width
from trainer.export.printed.source import Source, canvas_for, day, month, short_day, title_block
from trainer.export.reports import MatrixReport
from trainer.export.wording import Says

__all__ = ["in_order", "render", "square"]

_NAME_WIDTH = 50.0
_YEAR_APART = timedelta(days=300)


def render(report: MatrixReport, words: Says, now: datetime) -> bytes:
    """The poster, upright where its columns have room so, else lying."""
    source = Source(report.site, report.zone, report.heads, report.version)
    title = words.say("prints.poster-title")
    columns = _columns(report)
    canvas = canvas_for(source, title, words, now, paper=A3)
    room = (canvas.inner - _NAME_WIDTH) / max(1, len(columns))
    if room < least_width(canvas, words):
        canvas.lay(A3, landscape=True)
    canvas.page()
    title_block(canvas, words, title, _under(report, words))
    grid = _grid(report, columns, words)
    draw_legend(canvas, words, is_brief=bool(columns) and is_brief(canvas, grid, words))
    if not report.cells:
        canvas.write(words.say("prints.nobody"), canvas.margin, canvas.at + 4, canvas.inner, 11)
        return canvas.finish()
    draw(canvas, grid, words)
    return canvas.finish()


def _under(report: MatrixReport, words: Says) -> str:
    shown = report.shown or words.say("export.everything")
    return words.say("prints.poster-under", site=report.site, day=day(report.as_of, words), shown=shown)


def _columns(report: MatrixReport) -> tuple[str, ...]:
    """The competencies that anybody needs, in the order of the catalogue."""
    needed = {cell.competency for cell in report.cells}
    known = [each for each in report.titles.competencies if each in needed]
    return (*known, *sorted(needed - set(known)))


def _grid(report: MatrixReport, columns: Sequence[str], words: Says) -> Grid:
    return Grid(
        first=words.say("prints.hand"),
        columns=tuple(report.titles.competency(each) for each in columns),
        lines=tuple(_line(report, cells, columns, words) for cells in in_order(report)),
        name_width=_NAME_WIDTH,
    )


def in_order(report: MatrixReport) -> list[list[Cell]]:
    """The cells of each hand: crew by crew as the site lists them, then by position, then by name."""
    by_hand: dict[str, list[Cell]] = defaultdict(list)
    for cell in report.cells:
        by_hand[cell.hand].append(cell)
    crews, positions = list(report.titles.crews), list(report.titles.positions)

    def order(cells: list[Cell]) -> tuple[int, str, int, str, str]:
        crew, position, hand = cells[0].crew, cells[0].position, cells[0].hand
        name = report.names.get(hand, "").casefold()
        return _place(crew, crews), crew, _place(position, positions), name, hand

    return sorted(by_hand.values(), key=order)


def _place(name: str, listed: Sequence[str]) -> int:
    return listed.index(name) if name in listed else len(listed)


def _line(report: MatrixReport, cells: Sequence[Cell], columns: Sequence[str], words: Says) -> GridLine:
    own: Mapping[str, Cell] = {cell.competency: cell for cell in cells}
    first, titles = cells[0], report.titles
    crew = titles.crew(first.crew) if first.crew else words.say("matrix.no-crew")
    return GridLine(
        name=report.names.get(first.hand) or words.say("export.erased"),
        under=titles.position(first.position),
        squares=tuple(square(own[each], report.as_of, words) if each in own else None for each in columns),
        group=crew,
    )


def square(cell: Cell, as_of: date, words: Says) -> Square:
    """The cell on paper; only a date far away says its year."""
    if cell.due is None:
        return Square(cell.standing)
    is_near = abs(cell.due - as_of) < _YEAR_APART
    said = short_day(cell.due, words) if is_near else month(cell.due, words)
    if not cell.late:
        return Square(cell.standing, said)
    told = (words.say(f"prints.note-{key}", day=said) for key in ("late", "late-brief"))
    return Square(cell.standing, next(told), is_late=True, brief=next(told))
