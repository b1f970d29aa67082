"""The matrix as the table part draws it, and the line of totals over it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date

from trainer.actions.dispensed import ENDED, Given
from trainer.core.matrix import STANDINGS, Cell, Matrix, Standing
from trainer.web import titles, wording
from trainer.web.door import Here
from trainer.web.look import STANDING_LOOKS
from trainer.web.matrix_filters import EVERY, Filters
from trainer.web.parts import Cell as Square
from trainer.web.parts import Column, Level, Row
from trainer.words import Words

__all__ = ["columns", "levels", "note", "rows", "standing_word", "totals"]

_LEFT_OUT = "left-out"
_LATE = " late"
_HELD = (Standing.CURRENT, Standing.DUE)


def standing_word(standing: str, words: Words) -> str:
    """The standing in a word or two: short, for tables and pictures."""
    return words.say("matrix.off" if standing == Standing.STOOD_DOWN else f"standing.{standing.replace(' ', '-')}")


def levels(words: Words) -> list[Level]:
    """How a cell of each standing looks, the same when late, and one that a choice leaves out."""
    shown = [Level(each, standing_word(each, words), *STANDING_LOOKS[each]) for each in STANDINGS]
    late = [replace(each, id=f"{each.id}{_LATE}", tone=f"{each.tone} edge-late") for each in shown]
    return [*shown, *late, Level(_LEFT_OUT, words.say("matrix.left-out"), "dash", "quiet")]


def columns(here: Here, competencies: Iterable[str]) -> list[Column]:
    """One column a competency."""
    return [Column(each, titles.competency(here, each)) for each in competencies]


def rows(
    here: Here,
    as_of: date,
    scope: Sequence[Cell],
    kept: Collection[Cell],
    competencies: Sequence[str],
    names: Mapping[str, str],
    given: Iterable[Given] = (),
) -> list[Row]:
    """A row for each hand with a cell in ``kept``, by crew, position and name; ``scope`` holds those left out too.

    ``given`` is what is allowed on that day for a while, noted in its cell.
    """
    notes = _Notes(here, as_of, given)
    chosen = {(cell.hand, cell.competency) for cell in kept}
    by_hand: dict[str, dict[str, Cell]] = defaultdict(dict)
    for cell in scope:
        by_hand[cell.hand][cell.competency] = cell
    shown = {hand for hand, _ in chosen}

    def square(cell: Cell | None) -> Square:
        if cell is None:
            return Square("")
        is_chosen = (cell.hand, cell.competency) in chosen
        level = f"{cell.standing}{_LATE if cell.late else ''}"
        return Square(level, notes.of(cell)) if is_chosen else Square(_LEFT_OUT)

    return [
        Row(
            id=hand,
            name=names.get(hand, here.words.say("export.erased")),
            note=titles.place(here, first.position, first.crew),
            cells=tuple(square(by_hand[hand].get(each)) for each in competencies),
        )
        for hand, first in _in_order(here, by_hand, names)
        if hand in shown
    ]


def totals(here: Here, matrix: Matrix, scope: Sequence[Cell], chosen: Filters) -> list[str]:
    """Whole people in the chosen crew and position: how many, how many hold all, fall due, are late, are off.

    One person may be in several of these, and then it says so; where nobody is there, only that.
    """
    words = here.words
    people = sum(
        chosen.crew in ("", EVERY, crew) and chosen.position in ("", position)
        for crew, position in zip(matrix.crews, matrix.positions, strict=True)
    )
    said = [words.count("matrix.total-people", people)]
    if not people:
        return said
    by_hand: dict[str, list[Cell]] = defaultdict(list)
    for cell in scope:
        by_hand[cell.hand].append(cell)
    groups = _groups(by_hand)
    counts = {
        "need": len(by_hand) if len(by_hand) != people else 0,
        **{name: len(each) for name, each in groups.items()},
    }
    told = [words.count(f"matrix.total-{name}", n) for name, n in counts.items() if n or name in ("held", "late")]
    said += [words.say("matrix.of-them", told=told[0]), *told[1:]]
    is_twice = sum(len(each) for each in groups.values()) > len(set().union(*groups.values()))
    return [*said, words.say("matrix.some-twice")] if is_twice else said


def _groups(by_hand: Mapping[str, Sequence[Cell]]) -> dict[str, set[str]]:
    """The hands that each total counts, in the order in which they are said."""
    return {
        "held": {hand for hand, cells in by_hand.items() if all(cell.standing in _HELD for cell in cells)},
        "due": _with(by_hand, Standing.DUE),
        "late": {hand for hand, cells in by_hand.items() if any(cell.late for cell in cells)},
        "off": _with(by_hand, Standing.STOOD_DOWN),
    }


def _with(by_hand: Mapping[str, Sequence[Cell]], standing: Standing) -> set[str]:
    return {hand for hand, cells in by_hand.items() if any(cell.standing is standing for cell in cells)}


def _in_order(
    here: Here, by_hand: Mapping[str, Mapping[str, Cell]], names: Mapping[str, str]
) -> list[tuple[str, Cell]]:
    """Each hand with one of his cells: crew by crew as the site lists them, then position, then name."""
    site = here.desk.catalogue.site
    crews, positions = list(site.crews), site.ladder()

    def order(pair: tuple[str, Cell]) -> tuple[int, str, int, str, str]:
        hand, cell = pair
        crew = crews.index(cell.crew) if cell.crew in crews else len(crews)
        position = positions.index(cell.position) if cell.position in positions else len(positions)
        return crew, cell.crew, position, names.get(hand, "").casefold(), hand

    return sorted(((hand, next(iter(cells.values()))) for hand, cells in by_hand.items()), key=order)


def note(here: Here, as_of: date, cell: Cell) -> str:
    """The due date of one cell, short; empty where there is none."""
    return _Notes(here, as_of, ()).of(cell)


class _Notes:
    """The second line of a cell, short; each day is worded once, because 2,400 cells share few."""

    def __init__(self, here: Here, as_of: date, given: Iterable[Given]) -> None:
        self._words = here.words
        self._as_of = as_of
        self._days: dict[date, str] = {}
        self._given = {(each.hand, each.competency): each for each in given}

    def of(self, cell: Cell) -> str:
        """The due date, and what is allowed for a while; empty where there is neither."""
        given = self._given.get((cell.hand, cell.competency))
        return " · ".join(each for each in (self._due(cell), self._allowed(given) if given else "") if each)

    def _allowed(self, given: Given) -> str:
        if given.state == ENDED:
            return self._words.say("matrix.note-ended")
        return self._words.say("matrix.note-allowed", day=self._day(given.until))

    def _due(self, cell: Cell) -> str:
        if cell.due is None:
            return ""
        key = "late" if cell.late else "arrange" if cell.do_by == "arrange" else "due"
        return self._words.say(f"matrix.note-{key}", day=self._day(cell.due))

    def _day(self, day: date) -> str:
        """``day`` in words, with its year where that is another than the one of the day shown."""
        if day not in self._days:
            is_same_year = day.year == self._as_of.year
            self._days[day] = (wording.short_day if is_same_year else wording.day)(day, self._words)
        return self._days[day]
