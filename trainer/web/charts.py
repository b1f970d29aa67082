"""Two pictures beside the matrix, drawn by Plotly: how everybody stands, and what falls due on which hitch.

Pictures, not tables: each has its numbers in words too, for whoever does not see it. Colours read on a light page and
on a dark one, so that a picture need not be sent again when the theme changes.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from html import escape

import plotly.graph_objects as go

from trainer.core.catalogue import Rotation
from trainer.core.matrix import Cell, Standing
from trainer.web import wording
from trainer.web.matrix_rows import standing_word
from trainer.words import Words

__all__ = ["AHEAD", "CONFIG", "Chart", "Lane", "due_dates", "standings"]

AHEAD = 90
"""So many days ahead the picture of due dates looks."""

CONFIG = {"displayModeBar": False, "scrollZoom": False, "doubleClick": False}
"""No buttons over a picture, nothing to zoom by accident with a glove."""

_FILLS: tuple[tuple[Standing, str, str], ...] = (
    (Standing.CURRENT, "#1f7f50", ""),
    (Standing.DUE, "#a36100", "/"),
    (Standing.OVERDUE, "#c4372b", "x"),
    (Standing.STOOD_DOWN, "#ad427a", "+"),
    (Standing.LEARNING, "#2b6cb8", "."),
    (Standing.NOT_STARTED, "#66737a", ""),
)
"""Standing, colour (4.5 to 1 under white figures, 3 to 1 on both pages) and pattern, the best first."""

_MARKS: tuple[tuple[str, str, str], ...] = (
    ("late", "diamond", "#c4372b"),
    ("arrange", "triangle-up", "#a36100"),
    ("due", "circle", "#a36100"),
    ("ahead", "circle", "#1f7f50"),
)
"""What a mark says, its shape, and its colour: that of the standing where it has one."""

_GREY = "#7d8689"
_HITCH = "rgba(110, 140, 150, .22)"
_LATE_DAYS = 12
"""So wide is the strip before today in which late ones stand."""

_COLUMN = 5
"""So many marks stand over each other before the next column of late ones."""


@dataclass(frozen=True, slots=True)
class Chart:
    """A figure and the same in words."""

    figure: go.Figure
    alt: str


@dataclass(frozen=True, slots=True)
class Lane:
    """One crew of the picture of due dates: its title, its hitches and its cells with a due date."""

    title: str
    rotation: Rotation | None
    cells: Sequence[Cell]


def standings(groups: Mapping[str, Sequence[Cell]], title: str, words: Words) -> Chart:
    """How many cells of each group have which standing, as stacked bars from the top down."""
    counts = {name: Counter(cell.standing for cell in cells) for name, cells in groups.items()}
    figure = go.Figure()
    for standing, colour, pattern in _FILLS:
        numbers = [counts[name][standing] for name in counts]
        if any(numbers):
            figure.add_bar(
                y=[escape(name) for name in counts],
                x=numbers,
                text=[number or "" for number in numbers],
                name=f"{escape(standing_word(standing, words))}: {sum(numbers)}",
                orientation="h",
                marker={"color": colour, "line": {"width": 0}, "pattern": _pattern(pattern)},
                textfont={"color": "#ffffff", "size": 15},
                textangle=0,
                textposition="inside",
                insidetextanchor="middle",
                hoverinfo="skip",
            )
    _calm(figure, 110 + 44 * len(counts))
    # A figure that does not fit into its bar would stand white on white or run into the next: the legend has the sum.
    figure.update_layout(
        barmode="stack", bargap=0.28, legend={"traceorder": "normal"}, uniformtext={"minsize": 13, "mode": "hide"}
    )
    figure.update_xaxes(visible=False, fixedrange=True)
    figure.update_yaxes(autorange="reversed", fixedrange=True, ticks="", tickfont={"size": 15}, automargin=True)
    return Chart(figure, " ".join([f"{title}.", *_said_standings(counts, words)]))


def due_dates(lanes: Sequence[Lane], as_of: date, names: Mapping[str, str], title: str, words: Words) -> Chart:
    """One mark a due date of the next ``AHEAD`` days, crew by crew, its hitches shaded; late ones left of today.

    ``names`` gives the words for hands and competencies in what a pointer shows.
    """
    figure = go.Figure()
    placed = [mark for number, lane in enumerate(lanes) for mark in _placed(number, lane, as_of)]
    for kind, symbol, colour in _MARKS:
        marks = [mark for mark in placed if mark.kind == kind]
        if marks:
            figure.add_scatter(
                x=[mark.x for mark in marks],
                y=[mark.y for mark in marks],
                mode="markers",
                name=words.say(f"matrix.mark-{kind}"),
                marker={"symbol": symbol, "size": 12, "color": colour, "line": {"width": 1, "color": "#ffffff"}},
                text=[_told(mark.cell, names, words) for mark in marks],
                hovertemplate="%{text}<extra></extra>",
            )
    _calm(figure, 130 + 76 * len(lanes))
    _axes(figure, lanes, as_of, words)
    # All at once: each shape added by itself would have all before it checked again.
    figure.update_layout(shapes=[*_shaded(lanes, as_of), _line_at(as_of)])
    return Chart(figure, " ".join([f"{title}.", *_said_due(lanes, as_of, words)]))


def _pattern(shape: str) -> dict[str, object]:
    return {"shape": shape, "fgcolor": "#ffffff", "fgopacity": 0.3, "fillmode": "overlay", "size": 7, "solidity": 0.2}


def _calm(figure: go.Figure, height: int) -> None:
    figure.update_layout(
        height=height,
        margin={"l": 8, "r": 8, "t": 8, "b": 8},
        dragmode=False,
        paper_bgcolor="rgba(0,0,0,0)",
        plot_bgcolor="rgba(0,0,0,0)",
        showlegend=True,
        legend={
            "orientation": "h", "x": 0, "y": 0, "yanchor": "bottom", "yref": "container", "title": {"text": ""},
            "font": {"size": 15}, "itemclick": False, "itemdoubleclick": False,
        },
    )  # fmt: skip


def _said_standings(counts: Mapping[str, Counter[Standing]], words: Words) -> Iterator[str]:
    for name, numbers in counts.items():
        told = (f"{numbers[each]} {standing_word(each, words)}" for each, _, _ in _FILLS if numbers[each])
        yield f"{name}: {', '.join(told)}."


# due dates


@dataclass(frozen=True, slots=True)
class _Mark:
    kind: str
    x: date
    y: float
    cell: Cell


def _hitches(rotation: Rotation | None, as_of: date) -> Iterator[tuple[date, date]]:
    """The first and last working day of each hitch that meets the picture; the whole width without a rotation."""
    end = as_of + timedelta(days=AHEAD)
    if rotation is None or rotation.start is None:
        yield as_of, end
        return
    period = max(rotation.on + rotation.off, 1)
    first = rotation.start + timedelta(days=(as_of - rotation.start).days // period * period)
    while first <= end:
        # The last day of a hitch is crew change.
        last = first + timedelta(days=rotation.on - 2)
        if last >= as_of:
            yield max(first, as_of), min(last, end)
        first += timedelta(days=period)


def _kind(cell: Cell) -> str:
    if cell.late:
        return "late"
    if cell.do_by == "arrange":
        return "arrange"
    return "ahead" if cell.standing is Standing.CURRENT else "due"


def _placed(number: int, lane: Lane, as_of: date) -> Iterator[_Mark]:
    """The marks of one lane: those of one day over each other, the late ones in columns left of today."""
    by_day: dict[date, list[Cell]] = defaultdict(list)
    late = 0
    for cell in sorted(lane.cells, key=lambda each: each.due or as_of):
        if cell.due is None or cell.due > as_of + timedelta(days=AHEAD):
            continue
        if cell.late:
            column, row = divmod(late, _COLUMN)
            late += 1
            # Ever closer together, so that however many there are they stay left of today.
            yield _Mark("late", as_of - timedelta(days=min(2 + 2 * column, _LATE_DAYS - 1)), _level(number, row), cell)
        else:
            by_day[cell.due].append(cell)
    for day, cells in by_day.items():
        for row, cell in enumerate(cells):
            yield _Mark(_kind(cell), day, _level(number, row, len(cells)), cell)


def _level(number: int, row: int, among: int = _COLUMN) -> float:
    """How far down the mark ``row`` of ``among`` stands in its lane."""
    return number + 0.34 - row * min(0.17, 0.7 / max(among - 1, 1))


def _told(cell: Cell, names: Mapping[str, str], words: Words) -> str:
    day = wording.day(cell.due, words) if cell.due else ""
    return escape(f"{names.get(cell.hand, '')}: {names.get(cell.competency, cell.competency)}, {day}")


def _axes(figure: go.Figure, lanes: Sequence[Lane], as_of: date, words: Words) -> None:
    # Every fourth week: more would run into each other on a narrow screen.
    days = [as_of + timedelta(days=step) for step in range(0, AHEAD + 1, 28)]
    shown = [wording.short_day(day, words) for day in days]
    figure.update_xaxes(
        range=[as_of - timedelta(days=_LATE_DAYS), as_of + timedelta(days=AHEAD + 2)],
        tickvals=days, ticktext=shown, tickfont={"size": 15}, tickangle=0, fixedrange=True, showgrid=False,
        zeroline=False, side="top",
    )  # fmt: skip
    figure.update_yaxes(
        range=[len(lanes) - 0.5, -0.5], tickvals=list(range(len(lanes))),
        ticktext=[escape(lane.title) for lane in lanes], tickfont={"size": 15}, fixedrange=True, showgrid=False,
        zeroline=False, automargin=True,
    )  # fmt: skip


def _shaded(lanes: Sequence[Lane], as_of: date) -> Iterator[dict[str, object]]:
    """The hitches of each lane as shapes."""
    for number, lane in enumerate(lanes):
        for first, last in _hitches(lane.rotation, as_of):
            yield {
                "type": "rect", "x0": first, "x1": last + timedelta(days=1), "y0": number - 0.44, "y1": number + 0.44,
                "fillcolor": _HITCH, "line": {"width": 0}, "layer": "below",
            }  # fmt: skip


def _line_at(day: date) -> dict[str, object]:
    """A line from top to bottom."""
    line = {"width": 2, "color": _GREY}
    return {"type": "line", "x0": day, "x1": day, "y0": 0, "y1": 1, "yref": "paper", "line": line}


def _said_due(lanes: Sequence[Lane], as_of: date, words: Words) -> Iterator[str]:
    for lane in lanes:
        ahead = [cell for cell in lane.cells if cell.due and as_of <= cell.due <= as_of + timedelta(days=AHEAD)]
        told = {
            "late": sum(cell.late for cell in lane.cells),
            "due": len(ahead),
            "arrange": sum(cell.do_by == "arrange" for cell in ahead),
        }
        first = min((cell.due for cell in ahead if cell.due), default=None)
        yield f"{lane.title}: {words.say('matrix.due-alt', **told)}"
        if first is not None:
            yield words.say("matrix.due-alt-first", day=wording.day(first, words))
