"""One hand in a glance: how he stands in everything his position needs, and what is missing, in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from html import escape

import streamlit as st

from trainer.actions import leaving_off
from trainer.actions import look as looking
from trainer.core.matrix import STANDINGS, Cell, DoBy, Rule, Standing
from trainer.core.progress import PartProgress
from trainer.core.records import Part
from trainer.web import allowed_drawn, look, titles, wording
from trainer.web.door import Here
from trainer.web.goto import go
from trainer.web.matrix_rows import standing_word
from trainer.web.plain import plain
from trainer.web.press import press
from trainer.web.today_beside import Beside, left_off

__all__ = ["draw", "holds_all", "lines", "needs_watch", "standings", "worst"]

HELD = (Standing.CURRENT, Standing.DUE)
NAMED = 4
"""How many titles a line names before it only counts the rest."""

Parts = Mapping[str, Sequence[PartProgress]]


def holds_all(cells: Sequence[Cell]) -> bool:
    """Whether everything that the position needs holds today."""
    return all(cell.standing in HELD for cell in cells)


def worst(cells: Sequence[Cell]) -> int:
    """Where the worst standing comes among all of them, 0 for stood down; beyond the last where nothing is asked."""
    return min((STANDINGS.index(cell.standing) for cell in cells), default=len(STANDINGS))


def draw(here: Here, name: str, cells: Sequence[Cell], beside: Beside) -> None:
    """One row: who it is, how he stands and what is missing in words, and what can be done about it with one tap."""
    hand = cells[0].hand
    # All current: there is nothing to say that its parts would be needed for.
    is_calm = worst(cells) == STANDINGS.index(Standing.CURRENT)
    parts: Parts = {} if is_calm else looking.card(here.desk, hand).parts
    with st.container(key=f"today-row-{hand}"):
        with st.container(key=f"today-who-{hand}"):
            if press(f"**{plain(name)}**", f"open-{hand}", kind="tertiary", wide=False):
                go("slips", hand=hand)
            st.markdown(plain(titles.position(here, cells[0].position)))
            if beside.by:
                st.html(left_off(here, beside.by))
        with st.container(key=f"today-told-{hand}"):
            st.html(standings(here, cells))
            told = [allowed_drawn.line(here, each) for each in beside.allowed]
            told[:0] = lines(here, cells, parts)
            if told:
                st.markdown("\n".join(f"- {each}" for each in told))
        with st.container(key=f"today-ways-{hand}"):
            _ways(here, name, cells, parts, beside)


def _ways(here: Here, name: str, cells: Sequence[Cell], parts: Parts, beside: Beside) -> None:
    words, hand = here.words, cells[0].hand
    is_down = any(cell.standing is Standing.STOOD_DOWN for cell in cells)
    # Whoever is off the slips is off them on this tour as well: there is nobody to leave off.
    if not (beside.by or is_down) and press(words.say("today.leave-off"), f"leave-{hand}", wide=False):
        leaving_off.leave_off(here.desk, hand)
        st.rerun()
    if beside.by and press(words.say("today.put-back"), f"put-{hand}", wide=False):
        leaving_off.put_back(here.desk, hand)
        st.rerun()
    if hand == here.actor.hand:
        return
    if is_down and press(words.say("today.bring-back", name=plain(name)), f"back-{hand}", kind="tertiary", wide=False):
        go("slips", hand=hand, do="back")
    sheet = words.say("today.open-sheet", name=plain(name))
    if needs_watch(cells, parts) and press(sheet, f"watch-{hand}", kind="tertiary", wide=False):
        go("signoff", hand=hand)


def standings(here: Here, cells: Sequence[Cell]) -> str:
    """HTML: each standing that occurs, the worst first, as shape, word and colour, with how many of all."""
    groups = [(each, sum(cell.standing is each for cell in cells)) for each in STANDINGS]
    shown = [_group(here, standing, count, len(cells)) for standing, count in groups if count]
    return f'<div class="standings">{"".join(shown)}</div>'


def _group(here: Here, standing: Standing, count: int, total: int) -> str:
    words = here.words
    told = words.say("today.all", count=total) if count == total else str(count)
    return f"<div>{look.badge(standing, standing_word(standing, words))}<span>{escape(told)}</span></div>"


def lines(here: Here, cells: Sequence[Cell], parts: Parts) -> list[str]:
    """What is missing, one line a kind, in the order of what matters first; nothing when all is current."""
    down = [cell for cell in cells if cell.standing is Standing.STOOD_DOWN]
    rest = [cell for cell in cells if cell.standing is not Standing.STOOD_DOWN]
    told = []
    if down:
        told.append(here.words.say("today.off", titles=_titles(here, down, len(down))))
    told += _quiz(here, rest, parts)
    told += _watch(here, rest, parts)
    told += _waits(here, rest)
    told += _soon(here, [cell for cell in rest if cell.standing is Standing.DUE], parts)
    late = [cell for cell in rest if cell.late and cell.due]
    if late:
        told.append(here.words.say("today.late", titles=_late(here, late)))
    return told


def _late(here: Here, cells: Sequence[Cell]) -> str:
    """What was due, one day once: whatever ran out on it."""
    days: dict[date | None, list[Cell]] = {}
    for cell in sorted(cells, key=lambda each: each.due or date.max):
        days.setdefault(cell.due, []).append(cell)
    told = (
        here.words.say("today.late-one", title=_titles(here, group), day=_day(here, day)) for day, group in days.items()
    )
    return "; ".join(told)


def needs_watch(cells: Sequence[Cell], parts: Parts) -> bool:
    """Whether a watch on the job would help: one is missing, or has to be refreshed soon."""
    down = Standing.STOOD_DOWN
    return any(
        _missing(cell, parts, Part.PRACTICAL) is not None or cell.reason.part == Part.PRACTICAL
        for cell in cells
        if cell.standing not in (Standing.CURRENT, down)
    )


def _missing(cell: Cell, parts: Parts, part: Part) -> PartProgress | None:
    """That part of the cell's competency where it is needed and does not hold today."""
    return next((each for each in parts.get(cell.competency, ()) if each.part is part and not each.holds), None)


def _quiz(here: Here, cells: Sequence[Cell], parts: Parts) -> Iterator[str]:
    missing = [cell for cell in cells if _missing(cell, parts, Part.KNOWLEDGE)]
    if missing:
        yield here.words.say("today.quiz", titles=_titles(here, missing))


def _watch(here: Here, cells: Sequence[Cell], parts: Parts) -> Iterator[str]:
    """One line for all that lack as many watches."""
    missing: dict[tuple[int, bool], list[Cell]] = {}
    for cell in cells:
        if part := _missing(cell, parts, Part.PRACTICAL):
            missing.setdefault(_to_go(part), []).append(cell)
    for (left, by_another), group in sorted(missing.items(), key=lambda pair: pair[0], reverse=True):
        by = here.words.say("today.by-another") if by_another else ""
        yield here.words.count("today.watch", left, titles=_titles(here, group), by=by)


def _to_go(part: PartProgress) -> tuple[int, bool]:
    """How many clean watches are missing, and whether the next must be another observer's."""
    left = max(part.of_watches - part.watches, part.of_watchers - part.watchers)
    # A part that has run out takes one watch, by anybody.
    if part.through is not None or left < 1:
        return 1, False
    return left, 0 < part.watchers < part.of_watchers


def _waits(here: Here, cells: Sequence[Cell]) -> Iterator[str]:
    """What is only kept from being current by another competency."""
    waiting = [cell for cell in cells if cell.reason.rule == Rule.AFTER]
    for first in dict.fromkeys(cell.reason.part for cell in waiting):
        behind = [cell for cell in waiting if cell.reason.part == first]
        title = plain(titles.competency(here, first))
        yield here.words.say("today.waits", first=title, titles=_titles(here, behind))


def _soon(here: Here, cells: Sequence[Cell], parts: Parts) -> Iterator[str]:
    """One line for all of which the same runs out on the same day: the quiz, the watch or both."""
    words = here.words
    groups: dict[tuple[date, DoBy, str], list[Cell]] = {}
    for cell in cells:
        if cell.due is not None:
            groups.setdefault((cell.due, cell.do_by, _ends(cell, parts)), []).append(cell)
    for (due, do_by, ends), group in sorted(groups.items(), key=lambda pair: (pair[0][0], pair[0][2])):
        told = words.say(f"today.soon{ends}", day=_day(here, due), titles=_titles(here, group))
        if do_by == "arrange":
            told = f"{told} {words.say('today.arrange')}"
        elif isinstance(do_by, date) and do_by != due:
            told = f"{told} {words.say('today.do-by', day=_day(here, do_by))}"
        yield told


def _ends(cell: Cell, parts: Parts) -> str:
    """The end of the words for what runs out on the due day; empty where it is neither quiz nor watch."""
    found = [each.part for each in parts.get(cell.competency, ()) if each.through == cell.due]
    if len(found) > 1:
        return "-both"
    return f"-{found[0]}" if found else ""


def _titles(here: Here, cells: Sequence[Cell], most: int = NAMED) -> str:
    """The titles with commas; of very many the first few, and how many more the hand's own page names."""
    if len(cells) <= most + 1:
        return ", ".join(_title(here, cell) for cell in cells)
    shown = ", ".join(_title(here, cell) for cell in cells[:most])
    return here.words.say("today.and-more", titles=shown, count=len(cells) - most)


def _title(here: Here, cell: Cell) -> str:
    return plain(titles.competency(here, cell.competency))


def _day(here: Here, value: date | None) -> str:
    return plain(wording.short_day(value, here.words)) if value else ""
