"""Today: one crew at a glance before the job, what to talk through first, and what each hand holds and lacks.

The crew stands by position, each day in the same order; whoever is off the slips is named over it.

In the address: ``crew``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import streamlit as st

from trainer.actions import gearing, talking
from trainer.actions import look as looking
from trainer.actions.talking import Miss
from trainer.core.matrix import Cell, Matrix, Standing
from trainer.web import cached, door, gear_drawn, prints, tailgate_open, today_beside, today_crews, today_hands, wording
from trainer.web.plain import plain
from trainer.web.press import press
from trainer.words import Words

Names = Mapping[str, str]
Hands = Sequence[tuple[str, Sequence[Cell]]]


def draw_talks(here: door.Here, crew: str, names: Names) -> None:
    """Missed must-knows of this crew, each with the one tap that it was talked through."""
    misses = [each for each in talking.misses_to_talk_through(here.desk, crew) if each.hand != here.actor.hand]
    if not misses:
        return
    with st.container(key="today-talks", border=True):
        st.subheader(here.words.say("today.talk-title"), anchor=False)
        st.markdown(here.words.say("today.talk-text"))
        for each in misses:
            st.markdown(talk_line(here, each, names))
            label = here.words.say("today.talk-done", name=plain(names.get(each.hand, each.hand)))
            if press(label, f"talk-{each.record_id}", wide=False):
                talking.talk_done(here.desk, each.record_id)
                st.rerun()


def talk_line(here: door.Here, miss: Miss, names: Names) -> str:
    """Whose quiz it was, and which must-knows were missed."""
    words, bank = here.words, here.desk.catalogue.banks.get(miss.quiz)
    known = [bank.objective(each) for each in miss.objectives] if bank else []
    told = {
        "name": plain(names.get(miss.hand, miss.hand)),
        "quiz": wording.line(bank.title, words) if bank else plain(miss.quiz),
        "day": plain(wording.short_day(miss.day, words)),
        "titles": "; ".join(wording.line(each.title, words) for each in known if each),
    }
    return words.say("today.talk-line" if miss.objectives else "today.talk-tries", **told)


def in_order(here: door.Here, matrix: Matrix, crew: str, names: Names) -> list[tuple[str, Sequence[Cell]]]:
    """Each hand of the crew with his cells: hands on the slips, then whoever observes, then who leads; each by name."""
    cells = [cell for cell in matrix.cells() if cell.crew == crew]
    place = {hand: at for hand, of, at in zip(matrix.hands, matrix.crews, matrix.positions, strict=True) if of == crew}
    found = [(hand, [cell for cell in cells if cell.hand == hand]) for hand in place]

    ladder = here.desk.catalogue.site.ladder()

    def order(pair: tuple[str, Sequence[Cell]]) -> tuple[int, str, str]:
        hand, position = pair[0], place[pair[0]]
        rung = ladder.index(position) if position in ladder else len(ladder)
        return rung, names.get(hand, "").casefold(), hand

    return sorted(found, key=order)


def draw_totals(here: door.Here, crew: str, asked: Hands, names: Names, left_off: int) -> None:
    """Where the crew is and how it stands, in two lines; whoever is off the slips by name."""
    words = here.words
    held = sum(today_hands.holds_all(cells) for _, cells in asked)
    soon, off = (_with(asked, standing) for standing in (Standing.DUE, Standing.STOOD_DOWN))
    said = _counted(words, {"hold": held, "lack": len(asked) - held})
    # Each of these is among the first two already, so they are told as some of all.
    if told := _counted(words, {"soon": len(soon), "off": len(off), "left": left_off}):
        said += [words.count("today.of-all", len(asked), told=told[0]), *told[1:]]
    with st.container(key="today-totals"):
        st.markdown("  \n".join(each for each in (today_crews.line(here, crew), " · ".join(said)) if each))
        if off:
            st.html(today_beside.off(here, [names.get(each, each) for each in off]))


def _counted(words: Words, counts: Mapping[str, int]) -> list[str]:
    """How many each of these are, those that hold all also where that is nobody."""
    return [words.count(f"today.total-{name}", n) for name, n in counts.items() if n or name == "hold"]


def _with(asked: Hands, standing: Standing) -> list[str]:
    return [hand for hand, cells in asked if any(cell.standing is standing for cell in cells)]


def draw() -> None:
    """The whole page."""
    here = door.here()
    matrix, names = cached.matrix(here.desk), looking.names(here.desk)
    st.title(here.words.say("today.title"), anchor=False)
    tailgate_open.draw(here)
    crew = today_crews.choose(here, matrix)
    if not crew:
        st.info(here.words.say("today.no-crew"))
        return
    hands = in_order(here, matrix, crew, names)
    asked = [(hand, cells) for hand, cells in hands if cells]
    of = today_beside.beside(here, names)
    draw_totals(here, crew, asked, names, sum(bool(of(hand).by) for hand, _ in asked))
    draw_talks(here, crew, names)
    gear_drawn.not_ready(here, gearing.states(here.desk))
    with st.container(key="today-hands"):
        for hand, cells in asked:
            today_hands.draw(here, names.get(hand, here.words.say("export.erased")), cells, of(hand))
    st.caption(here.words.say("today.tap-name"))
    others = [plain(names.get(hand, hand)) for hand, cells in hands if not cells]
    if others:
        st.caption(here.words.say("today.nothing-asked", names=", ".join(others)))
    prints.crew_wall(here, crew)


draw()
