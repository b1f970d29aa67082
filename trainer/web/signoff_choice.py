"""Which sheet, and for what: first those that this hand still needs, each with what it is needed for."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from trainer.actions import watched, watching
from trainer.actions.watched import Offered
from trainer.core.observation import ASSESSMENT, PRACTICE
from trainer.web import prints, wording
from trainer.web.door import Here
from trainer.web.plain import plain
from trainer.web.press import press
from trainer.web.signoff_way import every, go_on, purpose

__all__ = ["draw"]

_FEW = 2
"""So many competencies of a sheet are named; more are told by their number where it is all of them."""


def draw(here: Here, hand: str) -> None:
    """What the two purposes mean, once, and the sheets; a press opens one, or goes on with the one left open."""
    words = here.words
    meant = (f"**{purpose(here, each)}:** {words.say(f'signoff.{each}-text')}" for each in (ASSESSMENT, PRACTICE))
    st.markdown("  \n".join(meant))
    found = watched.offered(here.desk, hand)
    wanted = [each for each in found if each.is_wanted]
    rest = [each for each in found if each.needed and not each.is_wanted]
    others = [each for each in found if not each.needed]
    _group(here, hand, "signoff.sheets-wanted", wanted)
    _group(here, hand, "signoff.sheets-rest" if wanted else "signoff.sheets-own", rest)
    if others:
        with st.expander(words.say("signoff.sheets-others", count=len(others)), expanded=not (wanted or rest)):
            for each in others:
                _sheet(here, hand, each)


def _group(here: Here, hand: str, title: str, sheets: Sequence[Offered]) -> None:
    if sheets:
        st.header(here.words.say(title), anchor=False)
        for each in sheets:
            _sheet(here, hand, each)


def _sheet(here: Here, hand: str, offered: Offered) -> None:
    """Title, why it is wanted, and the ways on."""
    sheet = offered.checklist
    wording.mark_untranslated(here.words, sheet.title)
    with st.container(key=f"for-{sheet.id}", gap="small"):
        st.markdown("  \n".join([f"**{wording.line(sheet.title, here.words)}**", *_why(here, offered)]))
        with st.container(key=f"ways-for-{sheet.id}", horizontal=True):
            for each in (ASSESSMENT, PRACTICE):
                if press(purpose(here, each), f"{each}-{sheet.id}", wide=False):
                    go_on(sheet=watching.open_sheet(here.desk, sheet.id, hand, each).sheet_id)
            prints.pocket_card(here, sheet, hand)


def _why(here: Here, offered: Offered) -> list[str]:
    """A short line for each thing that a watch with it would bring, the most pressing first."""
    words = here.words
    lines = [
        words.say(f"signoff.{key}", titles=_titles(here, offered, competencies))
        for key, competencies in (
            ("wants-again", offered.ran_out),
            ("wants", offered.missing),
            ("wants-soon", offered.due),
        )
        if competencies
    ]
    if offered.day is None or not lines:
        return lines
    key = "was-due" if offered.day < here.desk.today else "due"
    return [*lines, words.say(f"evidence.{key}", day=plain(wording.day(offered.day, words)))]


def _titles(here: Here, offered: Offered, competencies: tuple[str, ...]) -> str:
    """The competencies by name; by number where the whole sheet is wanted and it has many."""
    if len(competencies) > _FEW and competencies == offered.needed:
        return here.words.say("signoff.wants-all", count=len(competencies))
    return every(here, competencies)
