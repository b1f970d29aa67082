"""Today: one crew at a glance before the job, what to talk through first, and what each hand holds and lacks.

In the address: ``crew``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import streamlit as st

from trainer.actions import look as looking
from trainer.actions import talking
from trainer.actions.desk import HAND
from trainer.actions.talking import Miss
from trainer.core.matrix import Cell, Matrix, Standing
from trainer.web import cached, door, today_crews, today_hands, wording
from trainer.web.plain import plain
from trainer.web.press import press

Names = Mapping[str, str]


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
    """Each hand of the crew with his cells: the worst standing first, then by position, hands before drillers."""
    cells = [cell for cell in matrix.cells() if cell.crew == crew]
    place = {hand: at for hand, of, at in zip(matrix.hands, matrix.crews, matrix.positions, strict=True) if of == crew}
    found = [(hand, [cell for cell in cells if cell.hand == hand]) for hand in place]

    def order(pair: tuple[str, Sequence[Cell]]) -> tuple[int, bool, str, str]:
        position = here.desk.catalogue.site.position(place[pair[0]])
        is_hand = position is not None and position.role == HAND
        return today_hands.worst(pair[1]), not is_hand, place[pair[0]], names.get(pair[0], "").casefold()

    return sorted(found, key=order)


def draw_totals(here: door.Here, crew: str, asked: Sequence[Sequence[Cell]]) -> None:
    """Where the crew is, and how it stands, in two lines."""
    words = here.words
    held = sum(today_hands.holds_all(cells) for cells in asked)
    soon, off = (_with(asked, standing) for standing in (Standing.DUE, Standing.STOOD_DOWN))
    counts = {"hold": held, "lack": len(asked) - held, "soon": soon, "off": off}
    said = [words.count(f"today.total-{name}", n) for name, n in counts.items() if n or name == "hold"]
    with st.container(key="today-totals"):
        st.markdown("  \n".join(each for each in (today_crews.line(here, crew), " · ".join(said)) if each))


def _with(asked: Sequence[Sequence[Cell]], standing: Standing) -> int:
    return sum(any(cell.standing is standing for cell in cells) for cells in asked)


def draw() -> None:
    """The whole page."""
    here = door.here()
    matrix, names = cached.matrix(here.desk), looking.names(here.desk)
    st.title(here.words.say("today.title"), anchor=False)
    crew = today_crews.choose(here, matrix)
    if not crew:
        st.info(here.words.say("today.no-crew"))
        return
    hands = in_order(here, matrix, crew, names)
    asked = [(hand, cells) for hand, cells in hands if cells]
    draw_totals(here, crew, [cells for _, cells in asked])
    draw_talks(here, crew, names)
    with st.container(key="today-hands"):
        for hand, cells in asked:
            today_hands.draw(here, names.get(hand, here.words.say("export.erased")), cells)
    others = [plain(names.get(hand, hand)) for hand, cells in hands if not cells]
    if others:
        st.caption(here.words.say("today.nothing-asked", names=", ".join(others)))


draw()
